import { ciede2000 } from '../color/ciede2000.ts';
import type { Rgb } from '../color/hex.ts';
import { type Lab, labOfRgb } from '../color/lab.ts';
import type { Raster } from '../raster.ts';

/** How far the pure color of a mixed pixel is searched, px. */
const SEARCH_PX = 4;
/** A pixel with at least this share of ink is pure unless it is right at the cut ... */
const MOSTLY_INK = 0.8;
/** ... and with more than this share it is pure anywhere. */
const NEARLY_ALL_INK = 0.97;
/** A smaller share of ink is noise of the background. */
const MIN_INK = 0.15;
/** Least cosine of the angle between two color differences from the background for them to be mixes of one ink. */
const MIN_COSINE = 0.9;

export type BackgroundColor = {
  readonly rgb: Rgb;
  readonly lab: Lab;
  /** up to this distance from it (CIEDE2000), the direction of a color is mostly noise. */
  readonly noiseDeltaE: number;
};

/**
 * Splits a pixel into background and ink (matting). Its ink has the color, among the nearby ink, that is farthest from
 * the background in the same direction; the share of ink is how far along that line the pixel lies.
 *
 * @param removed a mask (1) of the pixels that were removed.
 * @param into the result, RGBA; only this pixel is written.
 */
export function unmix(
  raster: Raster,
  removed: Uint8Array,
  x: number,
  y: number,
  background: BackgroundColor,
  into: Uint8Array,
): void {
  const { width, height, data } = raster;
  const { rgb } = background;
  const at = 4 * (y * width + x);
  const red = data[at]! - rgb[0];
  const green = data[at + 1]! - rgb[1];
  const blue = data[at + 2]! - rgb[2];
  const length = Math.sqrt(red * red + green * green + blue * blue);
  if (length === 0) return;
  const deltaE = ciede2000(background.lab, labOfRgb([data[at]!, data[at + 1]!, data[at + 2]!]));
  const minCosine = deltaE < background.noiseDeltaE ? -1 : MIN_COSINE;
  let farthest = length;
  let from = at;
  for (let row = Math.max(0, y - SEARCH_PX); row <= Math.min(height - 1, y + SEARCH_PX); row++)
    for (let column = Math.max(0, x - SEARCH_PX); column <= Math.min(width - 1, x + SEARCH_PX); column++) {
      const other = row * width + column;
      if (removed[other] === 1 || data[4 * other + 3]! < 128) continue;
      const r = data[4 * other]! - rgb[0];
      const g = data[4 * other + 1]! - rgb[1];
      const b = data[4 * other + 2]! - rgb[2];
      const distance = Math.sqrt(r * r + g * g + b * b);
      if (distance <= farthest || red * r + green * g + blue * b < minCosine * distance * length) continue;
      farthest = distance;
      from = 4 * other;
    }
  let share = length / farthest;
  const isPure =
    share > NEARLY_ALL_INK || (share >= MOSTLY_INK && !isNearRemoved(removed, width, height, x, y, 1));
  if (isPure) return;
  if (share < MIN_INK) share = 0;
  if (from !== at) {
    into[at] = data[from]!;
    into[at + 1] = data[from + 1]!;
    into[at + 2] = data[from + 2]!;
  }
  into[at + 3] = Math.round(share * data[at + 3]!);
  if (into[at + 3] === 0) into.fill(0, at, at + 4);
}

/** Whether any pixel within `reach` px, across and down, was removed. */
export function isNearRemoved(
  removed: Uint8Array,
  width: number,
  height: number,
  x: number,
  y: number,
  reach: number,
): boolean {
  const top = Math.max(0, y - reach);
  const bottom = Math.min(height - 1, y + reach);
  const left = Math.max(0, x - reach);
  const right = Math.min(width - 1, x + reach);
  for (let row = top; row <= bottom; row++)
    for (let column = left; column <= right; column++) if (removed[row * width + column] === 1) return true;
  return false;
}
