import { NO_DISTANCE, squaredDistances } from '../distance.ts';
import { squaredDistanceAt } from './exact-distance.ts';
import type { InkPlane } from './plane.ts';

/** Side of the blocks the search goes by, px. */
const BLOCK = 8;
/** From the center of a block to its farthest pixel center. */
const REACH = ((BLOCK - 1) / 2) * Math.SQRT2;

/** A disc: center in pixels of the raster (a pixel's center is at .5), and width. */
export type Disc = { readonly diameterPx: number; readonly xPx: number; readonly yPx: number };

/**
 * The largest disc inside the ink, exact: a coarse distance transform over blocks bounds every pixel's distance from
 * above and below; only blocks that may beat the best so far are looked into, pixel by pixel, and within a row the
 * search leaps by what the distance cannot gain.
 *
 * @param columns final signed column distances inside the plane's box.
 */
export function largestDisc(plane: InkPlane, columns: Int16Array): Disc | null {
  const { box } = plane;
  // One ring of empty blocks around stands for the clear world outside.
  const across = Math.ceil(box.width / BLOCK) + 2;
  const down = Math.ceil(box.height / BLOCK) + 2;
  const inked = new Uint8Array(across * down);
  const full = new Uint8Array(across * down);
  markBlocks(columns, box.width, box.height, across, inked, full);
  const squared = squaredDistances(full, across, down);

  let least = 0;
  const order: number[] = [];
  for (let block = 0; block < squared.length; block++) {
    if (inked[block] === 0 || squared[block] === NO_DISTANCE) continue;
    order.push(block);
    least = Math.max(least, BLOCK * Math.sqrt(squared[block]!) - 2 * REACH);
  }
  if (order.length === 0) return null;
  const hopeful = order.filter((block) => BLOCK * Math.sqrt(squared[block]!) + 2 * REACH >= least);
  hopeful.sort((one, other) => squared[other]! - squared[one]!);

  let best = 0;
  let bestX = 0;
  let bestY = 0;
  for (const block of hopeful) {
    if (BLOCK * Math.sqrt(squared[block]!) + 2 * REACH <= best) break;
    const left = ((block % across) - 1) * BLOCK;
    const top = (Math.floor(block / across) - 1) * BLOCK;
    const right = Math.min(box.width, left + BLOCK);
    const bottom = Math.min(box.height, top + BLOCK);
    for (let y = top; y < bottom; y++) {
      const row = y * box.width;
      for (let x = left; x < right; ) {
        if (columns[row + x]! <= best) {
          x++;
          continue;
        }
        const distance = Math.sqrt(squaredDistanceAt(columns, row, box.width, x));
        if (distance > best) {
          best = distance;
          bestX = x;
          bestY = y;
        }
        x += Math.max(1, Math.ceil(best - distance));
      }
    }
  }
  if (best === 0) return null;
  return { diameterPx: 2 * best - 1, xPx: box.left + bestX + 0.5, yPx: box.top + bestY + 0.5 };
}

function markBlocks(
  columns: Int16Array,
  width: number,
  height: number,
  across: number,
  inked: Uint8Array,
  full: Uint8Array,
): void {
  for (let top = 0; top < height; top += BLOCK) {
    const bottom = Math.min(height, top + BLOCK);
    const blockRow = (top / BLOCK + 1) * across + 1;
    const any = new Uint8Array(across);
    const gap = new Uint8Array(across);
    for (let y = top; y < bottom; y++)
      for (let x = 0, at = y * width; x < width; x++, at++) {
        if (columns[at]! > 0) any[x >>> 3] = 1;
        else gap[x >>> 3] = 1;
      }
    const whole = bottom - top === BLOCK;
    for (let block = 0; block * BLOCK < width; block++) {
      inked[blockRow + block] = any[block]!;
      if (whole && gap[block] === 0 && (block + 1) * BLOCK <= width) full[blockRow + block] = 1;
    }
  }
}
