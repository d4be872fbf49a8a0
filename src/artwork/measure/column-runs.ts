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
  for (let y = 0; y < box.height; y++) {
    const from = (box.top + y) * plane.width + box.left;
    const to = y * box.width;
    for (let x = 0; x < box.width; x++) {
      const before = above[x]!;
      let distance: number;
      if (bytes[((from + x) << shift) + offset]! >= threshold) {
        distance = before > 0 ? before + 1 : 1;
        if (distance > MOST) distance = MOST;
      } else {
        distance = before < 0 ? before - 1 : -1;
        if (distance < -MOST) distance = -MOST;
      }
      above[x] = distance;
      distances[to + x] = distance;
    }
  }
  return distances;
}
