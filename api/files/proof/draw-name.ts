import sharp from 'sharp';
import type { Raster } from '../../../src/artwork/index.ts';
import type { LetteringSpec } from '../../../src/production/index.ts';
import { outlineName } from '../lettering/outline-name.ts';

/** A straight-alpha picture and its printed size, including its clear border. */
export type SizedPicture = {
  readonly picture: Raster;
  readonly widthMm: number;
  readonly heightMm: number;
};

const MAX_SIDE_PX = 4096;
const HEX = /^#[0-9a-fA-F]{6}$/;

/**
 * Draws a name or number in its box; null if no letter has ink.
 * @throws RangeError for an unknown font or an invalid color
 */
export async function drawName(
  name: LetteringSpec,
  hex: string,
  pxPerMm: number,
): Promise<SizedPicture | null> {
  if (!HEX.test(hex)) throw new RangeError(`the color of a name is ${hex}; it must be written #rrggbb`);
  const outline = await outlineName(name);
  if (outline === null) return null;
  const { d, widthMm, heightMm } = outline;
  const scale = Math.min(pxPerMm, MAX_SIDE_PX / Math.max(widthMm, heightMm));
  const width = Math.max(1, Math.round(widthMm * scale));
  const height = Math.max(1, Math.round(heightMm * scale));
  const svg =
    `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" ` +
    `viewBox="0 0 ${widthMm} ${heightMm}" preserveAspectRatio="none"><path d="${d}" fill="${hex}"/></svg>`;
  const { data, info } = await sharp(Buffer.from(svg))
    .toColourspace('srgb')
    .ensureAlpha()
    .raw()
    .toBuffer({ resolveWithObject: true });
  return { picture: { width: info.width, height: info.height, data }, widthMm, heightMm };
}
