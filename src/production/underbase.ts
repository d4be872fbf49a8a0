import { withinReach } from '../artwork/distance.ts';
import {
  assertRaster,
  ciede2000,
  type Lab,
  labOfHex,
  labOfRgb,
  type Raster,
  type Rgb,
  SAME_AS_CLOTH_DELTA_E,
  whiteFor,
} from '../artwork/index.ts';

/** One ink of a picture: 0 none to 255 full, row-major from the top left, length `width * height`. */
export type Plate = { readonly width: number; readonly height: number; readonly data: Uint8Array };

export type UnderbaseOptions = {
  /** cloth it is printed on, `#rrggbb`: no white where the ink would equal the cloth. */
  readonly clothHex: string;
  /** how far the edge is pulled in, px of the raster, 0 or more; fractions allowed. Default 0. */
  readonly chokePx?: number;
};

/**
 * The white plate beneath an artwork: `alpha * f(L*)` of every pixel (`whiteFor`), nothing where the ink would equal the
 * cloth, and nothing within `chokePx` of where there is no white, from pixel center to pixel center. Past the raster's
 * edge there is none. A larger choke never grows the plate anywhere.
 *
 * @throws RangeError for a raster that is not sound, a color not written `#rrggbb`, or a negative choke
 */
export function underbase(raster: Raster, { clothHex, chokePx = 0 }: UnderbaseOptions): Plate {
  assertRaster(raster);
  if (!(chokePx >= 0 && chokePx < 10_000))
    throw new RangeError(`the choke is ${chokePx} px; it must be from 0 to under 10,000`);
  const plate = whiteOf(raster, clothHex);
  if (chokePx < 1) return plate;
  return choked(plate, chokePx);
}

/** Share of the plate that is covered, 0 to 1: white used, in plates of full white. */
export function coverageOfPlate({ data }: Plate): number {
  let sum = 0;
  for (const value of data) sum += value;
  return data.length === 0 ? 0 : sum / (255 * data.length);
}

/** Colors remembered at once: artworks use the same few again and again, photos ever new ones. */
const KNOWN = 1 << 16;
/**
 * Colors farther apart than this in Lab are no equals: CIEDE2000 divides a distance by at most some 7, for the most
 * colorful of sRGB, and equals are under 2.3 apart.
 */
const NO_EQUAL = 40;

function whiteOf({ width, height, data }: Raster, clothHex: string): Plate {
  const cloth = labOfHex(clothHex);
  const white = new Uint8Array(width * height);
  const colors = new Int32Array(KNOWN).fill(-1);
  const whites = new Float64Array(KNOWN);
  for (let at = 0; at < white.length; at++) {
    const alpha = data[4 * at + 3]!;
    if (alpha === 0) continue;
    const color = (data[4 * at]! << 16) | (data[4 * at + 1]! << 8) | data[4 * at + 2]!;
    const place = Math.imul(color, 0x9e3779b1) >>> 16;
    if (colors[place] !== color) {
      colors[place] = color;
      whites[place] = whiteUnder([data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!], cloth);
    }
    white[at] = Math.round(alpha * whites[place]!);
  }
  return { width, height, data: white };
}

/** Share of white beneath an opaque color on a cloth. */
function whiteUnder(rgb: Rgb, cloth: Lab): number {
  const lab = labOfRgb(rgb);
  const apart = Math.hypot(lab[0] - cloth[0], lab[1] - cloth[1], lab[2] - cloth[2]);
  if (apart < NO_EQUAL && ciede2000(lab, cloth) < SAME_AS_CLOTH_DELTA_E) return 0;
  return whiteFor(lab[0]);
}

function choked({ width, height, data }: Plate, chokePx: number): Plate {
  // A frame of one empty pixel stands for everything past the edge.
  const framed = new Uint8Array((width + 2) * (height + 2));
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) framed[(y + 1) * (width + 2) + x + 1] = data[y * width + x] === 0 ? 0 : 1;
  const near = withinReach(framed, width + 2, height + 2, chokePx);
  const kept = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (near[(y + 1) * (width + 2) + x + 1] === 0) kept[y * width + x] = data[y * width + x]!;
  return { width, height, data: kept };
}
