import type { PixelBox } from '../../contract/facts.ts';
import type { Raster } from '../raster.ts';

const CLEAR = 1;
const SOLID = 2;
const EDGE = CLEAR | SOLID;
/** How far, in pixels across and down, both solid and clear must be for a soft pixel to be part of a smooth edge. */
const REACH = 2;

export type DeepSoft = { readonly count: number; readonly box: PixelBox | null };

/**
 * Marks (1) the deep soft pixels of a whole picture; see `eachDeepSoft`.
 */
export function markDeepSoft(raster: Raster): Uint8Array {
  const { width, height } = raster;
  const marks = new Uint8Array(width * height);
  const box = { left: 0, top: 0, width, height };
  eachDeepSoft(raster, box, new Uint8Array(height).fill(1), (x, y) => {
    marks[y * width + x] = 1;
  });
  return marks;
}

/** Counts the deep soft pixels and finds the box they lie in; see `eachDeepSoft`. */
export function countDeepSoft(raster: Raster, inkBox: PixelBox, softRows: Uint8Array): DeepSoft {
  let count = 0;
  let left = raster.width;
  let right = -1;
  let top = -1;
  let bottom = -1;
  eachDeepSoft(raster, inkBox, softRows, (x, y) => {
    count++;
    if (x < left) left = x;
    if (x > right) right = x;
    if (top < 0) top = y;
    bottom = y;
  });
  return {
    count,
    box: count === 0 ? null : { left, top, width: right - left + 1, height: bottom - top + 1 },
  };
}

/**
 * Finds the soft pixels (alpha 1..254) that do not have both a solid and a clear pixel among the 5 x 5 around them:
 * shadows, glows and fades, but not the smooth edges of solid shapes. Beyond the picture all is clear.
 *
 * @param inkBox where to look; everything outside is clear.
 * @param softRows 1 for rows that hold soft pixels.
 */
function eachDeepSoft(
  raster: Raster,
  inkBox: PixelBox,
  softRows: Uint8Array,
  onPixel: (x: number, y: number) => void,
): void {
  const { width, height, data } = raster;
  const across = inkBox.width;
  // Five rows in turn, each as what is within reach to the left and right.
  const near = Array.from({ length: 2 * REACH + 1 }, () => new Uint8Array(across));
  const kinds = new Uint8Array(across + 2 * REACH).fill(CLEAR);
  let readTo = Number.NEGATIVE_INFINITY;

  const read = (y: number): void => {
    const into = near[(y + near.length) % near.length]!;
    if (y < 0 || y >= height) {
      into.fill(CLEAR);
      return;
    }
    for (let x = 0, at = 4 * (y * width + inkBox.left) + 3; x < across; x++, at += 4) {
      const alpha = data[at]!;
      kinds[x + REACH] = alpha === 255 ? SOLID : alpha === 0 ? CLEAR : 0;
    }
    for (let x = 0; x < across; x++)
      into[x] = kinds[x]! | kinds[x + 1]! | kinds[x + 2]! | kinds[x + 3]! | kinds[x + 4]!;
  };

  for (let y = inkBox.top; y < inkBox.top + inkBox.height; y++) {
    if (softRows[y] !== 1) continue;
    for (let row = Math.max(readTo + 1, y - REACH); row <= y + REACH; row++) read(row);
    readTo = y + REACH;
    const [a, b, c, d, e] = near as [Uint8Array, Uint8Array, Uint8Array, Uint8Array, Uint8Array];
    for (let x = 0, at = 4 * (y * width + inkBox.left) + 3; x < across; x++, at += 4) {
      const alpha = data[at]!;
      if (alpha === 0 || alpha === 255) continue;
      if ((a[x]! | b[x]! | c[x]! | d[x]! | e[x]!) !== EDGE) onPixel(inkBox.left + x, y);
    }
  }
}
