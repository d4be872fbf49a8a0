import type { InkPlane } from './plane.ts';

/** Magnitude from which a clear pixel's distance means: no ink on that side within the box. */
export const UNBOUNDED = 16_384;
const MOST = 32_767;

/**
 * Distances along columns inside the plane's box, row-major: for an ink pixel how many steps up to the nearest pixel
 * without ink (beyond the box there is none); for others, negative, how many steps up to the nearest ink, `-UNBOUNDED`
 * or less where there is none. 16 bits a pixel; longer runs are held at 32767.
 */
export function distancesUp(plane: InkPlane): Int16Array {
  const { bytes, shift, offset, threshold, box } = plane;
  const distances = new Int16Array(box.width * box.height);
  const above = new Int16Array(box.width).fill(-UNBOUNDED);
  // Half alpha or more is the top bit of the word: read as signed, such words are below 0.
  const words = shift === 2 && threshold === 128 && bytes.byteOffset % 4 === 0 ? signedWords(bytes) : null;
  for (let y = 0; y < box.height; y++) {
    const from = (box.top + y) * plane.width + box.left;
    const to = y * box.width;
    if (words !== null)
      for (let x = 0; x < box.width; x++)
        distances[to + x] = above[x] = onward(above[x]!, words[from + x]! < 0);
    else
      for (let x = 0; x < box.width; x++)
        distances[to + x] = above[x] = onward(above[x]!, bytes[((from + x) << shift) + offset]! >= threshold);
  }
  return distances;
}

/** The distance a step further on. */
function onward(before: number, ink: boolean): number {
  if (ink) return before > 0 ? (before < MOST ? before + 1 : MOST) : 1;
  return before < 0 ? (before > -MOST ? before - 1 : -MOST) : -1;
}

function signedWords(bytes: InkPlane['bytes']): Int32Array {
  return new Int32Array(bytes.buffer, bytes.byteOffset, bytes.length >>> 2);
}
