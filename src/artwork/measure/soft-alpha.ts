import type { PixelBox } from '../../contract/facts.ts';
import type { Raster } from '../raster.ts';

const CLEAR = 1;
const SOLID = 2;
const SOFT = 4;
const SOFT_OF_FOUR = 0x04040404;
const SOLID_OF_FOUR = 0x02020202;
const EDGE_OF_FOUR = 0x03030303;
const ALL_SOLID = 0x02020202;
const ALL_CLEAR = 0x01010101;
const KIND_OF_ALPHA = Uint8Array.from({ length: 256 }, (_, alpha) =>
  alpha === 0 ? CLEAR : alpha === 255 ? SOLID : SOFT,
);
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
  // Five rows in turn, a byte a pixel: what is within reach to the left and right, and whether the pixel itself is soft.
  // Read back four pixels at a time.
  const near = Array.from({ length: 2 * REACH + 1 }, () => new Uint8Array((across + 3) & ~3));
  const nearWords = near.map((row) => new Uint32Array(row.buffer));
  let readTo = Number.NEGATIVE_INFINITY;

  // The row being read, with a block of clear pixels before and after it.
  const kinds = new Uint8Array(((across + 3) & ~3) + 8).fill(CLEAR);
  const kindWords = new Uint32Array(kinds.buffer);
  const blocks = nearWords[0]!.length;

  const read = (y: number): void => {
    const into = near[(y + near.length) % near.length]!;
    const wordsInto = nearWords[(y + near.length) % near.length]!;
    if (y < 0 || y >= height) {
      into.fill(CLEAR);
      return;
    }
    const start = 4 * (y * width + inkBox.left) + 3;
    const whole = across >> 2;
    for (let block = 0; block < whole; block++) {
      const at = start + 16 * block;
      const a = data[at]!;
      const b = data[at + 4]!;
      const c = data[at + 8]!;
      const d = data[at + 12]!;
      if ((a & b & c & d) === 255) kindWords[block + 1] = ALL_SOLID;
      else if ((a | b | c | d) === 0) kindWords[block + 1] = ALL_CLEAR;
      else
        kindWords[block + 1] =
          KIND_OF_ALPHA[a]! |
          (KIND_OF_ALPHA[b]! << 8) |
          (KIND_OF_ALPHA[c]! << 16) |
          (KIND_OF_ALPHA[d]! << 24);
    }
    for (let x = 4 * whole; x < across; x++) kinds[x + 4] = KIND_OF_ALPHA[data[start + 4 * x]!]!;
    for (let block = 0; block < blocks; block++) {
      const before = kindWords[block]!;
      const own = kindWords[block + 1]!;
      const after = kindWords[block + 2]!;
      if (own === before && own === after && (own === ALL_SOLID || own === ALL_CLEAR)) wordsInto[block] = own;
      else {
        // Shifted by one and two bytes either way, with the neighbors' bytes let in.
        const around =
          (own << 8) |
          (before >>> 24) |
          (own << 16) |
          (before >>> 16) |
          (own >>> 8) |
          (after << 24) |
          (own >>> 16) |
          (after << 16);
        wordsInto[block] = (around & EDGE_OF_FOUR) | own;
      }
    }
  };

  for (let y = inkBox.top; y < inkBox.top + inkBox.height; y++) {
    if (softRows[y] !== 1) continue;
    for (let row = Math.max(readTo + 1, y - REACH); row <= y + REACH; row++) read(row);
    readTo = y + REACH;
    const middle = nearWords[y % near.length]!;
    const a = nearWords[(y + 1) % near.length]!;
    const b = nearWords[(y + 2) % near.length]!;
    const c = nearWords[(y + 3) % near.length]!;
    const d = nearWords[(y + 4) % near.length]!;
    for (let word = 0; word < middle.length; word++) {
      const own = middle[word]!;
      const soft = own & SOFT_OF_FOUR;
      if (soft === 0) continue;
      const all = own | a[word]! | b[word]! | c[word]! | d[word]!;
      // Bit 2 of a byte: soft, and not both of clear and solid are near.
      let deep = soft & ~((all & (all << 1) & SOLID_OF_FOUR) << 1);
      for (let x = inkBox.left + 4 * word; deep !== 0; x++, deep >>>= 8)
        if ((deep & SOFT) !== 0) onPixel(x, y);
    }
  }
}
