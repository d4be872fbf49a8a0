import sharp from 'sharp';
import { labOfHex, type Raster } from '../../../src/artwork/index.ts';

/** One outline, as SVG path data in mm. `cloth` has the blank's color; the other roles add shadow, light and lines. */
export type ProofShape = {
  readonly d: string;
  readonly role: 'cloth' | 'shade' | 'light' | 'seam' | 'trim';
  readonly hex?: string | undefined;
};

/** A true-to-scale drawing of one side of a blank. */
export type ProofDrawing = {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly shapes: readonly ProofShape[];
};

/** Color of the background. */
const BACKGROUND = '#f7f6f3';
/** Cloth with an L* below this gets light lines. */
const DARK_CLOTH_LIGHTNESS = 47;

type Ink = { readonly hex: string; readonly opacity: number };
type Pens = Readonly<Record<'outline' | 'seam' | 'shade' | 'light' | 'trim', Ink>>;

const PENS_ON_LIGHT: Pens = {
  outline: { hex: '#262a34', opacity: 0.78 },
  seam: { hex: '#262a34', opacity: 0.42 },
  shade: { hex: '#1e2230', opacity: 0.085 },
  light: { hex: '#ffffff', opacity: 0.38 },
  trim: { hex: '#1e2230', opacity: 0.16 },
};
const PENS_ON_DARK: Pens = {
  outline: { hex: '#000000', opacity: 0.9 },
  seam: { hex: '#ffffff', opacity: 0.46 },
  shade: { hex: '#000000', opacity: 0.3 },
  light: { hex: '#ffffff', opacity: 0.09 },
  trim: { hex: '#000000', opacity: 0.35 },
};

/** Line widths, as shares of the drawing's longer side. */
const OUTLINE_SHARE = 0.0018;
const SEAM_SHARE = 0.0014;

const PATH_DATA = /^[MmZzLlHhVvCcSsQqTtAa0-9eE.,+\-\s]*$/;
const HEX = /^#[0-9a-fA-F]{6}$/;

/** Draws the blank alone, opaque. @throws RangeError for invalid path data or colors */
export async function drawBlank(
  drawing: ProofDrawing,
  clothHex: string,
  longSidePx: number,
): Promise<{ readonly width: number; readonly height: number; readonly data: Uint8Array }> {
  const { widthMm, heightMm } = drawing;
  if (!(widthMm > 0 && heightMm > 0 && Number.isFinite(widthMm + heightMm)))
    throw new RangeError(`the drawing is ${widthMm} x ${heightMm} mm; both must be over 0`);
  const scale = longSidePx / Math.max(widthMm, heightMm);
  const width = Math.max(1, Math.round(widthMm * scale));
  const height = Math.max(1, Math.round(heightMm * scale));
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" ` +
    `viewBox="0 0 ${widthMm} ${heightMm}" preserveAspectRatio="none">` +
    `<rect width="${widthMm}" height="${heightMm}" fill="${BACKGROUND}"/>${shapesOf(drawing, clothHex)}</svg>`;
  const raster: Raster = await sharp(Buffer.from(svg))
    .toColourspace('srgb')
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true })
    .then(({ data, info }) => ({ width: info.width, height: info.height, data }));
  return { ...raster, data: new Uint8Array(raster.data.buffer, raster.data.byteOffset, raster.data.length) };
}

function shapesOf(drawing: ProofDrawing, clothHex: string): string {
  const pens =
    labOfHex(color(clothHex, 'the cloth'))[0] < DARK_CLOTH_LIGHTNESS ? PENS_ON_DARK : PENS_ON_LIGHT;
  const side = Math.max(drawing.widthMm, drawing.heightMm);
  return drawing.shapes
    .map((shape, index) => {
      if (!PATH_DATA.test(shape.d))
        throw new RangeError(`shape ${index} of the drawing is not SVG path data`);
      const own = shape.hex === undefined ? null : { hex: color(shape.hex, `shape ${index}`), opacity: 1 };
      const outline = stroke(pens.outline, OUTLINE_SHARE * side);
      switch (shape.role) {
        case 'cloth':
          return path(shape.d, fill(own ?? { hex: clothHex, opacity: 1 }) + outline);
        case 'trim':
          return path(shape.d, fill(own ?? pens.trim) + outline);
        case 'seam':
          return path(shape.d, `fill="none" ${stroke(own ?? pens.seam, SEAM_SHARE * side)}`);
        default:
          return path(shape.d, fill(own ?? pens[shape.role]));
      }
    })
    .join('');
}

const path = (d: string, paint: string): string => `<path d="${d}" ${paint}/>`;
const fill = ({ hex, opacity }: Ink): string => `fill="${hex}" fill-opacity="${opacity}" `;
const stroke = ({ hex, opacity }: Ink, widthMm: number): string =>
  `stroke="${hex}" stroke-opacity="${opacity}" stroke-width="${widthMm}" stroke-linejoin="round"`;

function color(hex: string, where: string): string {
  if (!HEX.test(hex)) throw new RangeError(`the color of ${where} is ${hex}; it must be written #rrggbb`);
  return hex;
}
