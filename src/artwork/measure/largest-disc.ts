import { squaredDistances } from '../distance-transform.ts';
import type { ColumnDistances } from './column-distances.ts';
import { squaredDistanceAt } from './exact-distance.ts';
import type { InkPlane } from './plane.ts';

/** Side of the blocks of the search, px. */
const BLOCK = 8;
/** From the center of a block to its farthest pixel center, px. */
const BLOCK_RADIUS = ((BLOCK - 1) / 2) * Math.SQRT2;

/** A disc in pixels of the raster; the center of a pixel is at .5. */
export type Disc = { readonly diameterPx: number; readonly xPx: number; readonly yPx: number };

/**
 * The largest disc that fits in the ink, exact; undefined if there is no ink. A distance transform over blocks bounds the
 * distances of their pixels; only blocks that can beat the best so far are searched pixel by pixel, and along a row the
 * search skips the pixels that the distance, which changes by at most 1 for each pixel, rules out.
 *
 * @param columns distances to the nearer end of each column run inside the plane's box.
 */
export function largestDisc(plane: InkPlane, columns: ColumnDistances): Disc | undefined {
  const { box } = plane;
  // A ring of empty blocks stands for the clear outside.
  const across = Math.ceil(box.width / BLOCK) + 2;
  const down = Math.ceil(box.height / BLOCK) + 2;
  const full = fullBlocks(columns, across, down);
  const squared = squaredDistances(full, across, down);

  let widest = 0;
  for (let block = 0; block < squared.length; block++) widest = Math.max(widest, squared[block]!);
  // Some pixel of the best block is at least this far from the edge.
  const lowerBound = Math.max(0, BLOCK * Math.sqrt(widest) - 2 * BLOCK_RADIUS);
  const candidates: number[] = [];
  for (let y = 1; y < down - 1; y++)
    for (let x = 1; x < across - 1; x++) {
      const block = y * across + x;
      if (BLOCK * Math.sqrt(squared[block]!) + 2 * BLOCK_RADIUS >= lowerBound) candidates.push(block);
    }
  candidates.sort((one, other) => squared[other]! - squared[one]!);

  let best = 0;
  let bestX = 0;
  let bestY = 0;
  for (const block of candidates) {
    if (BLOCK * Math.sqrt(squared[block]!) + 2 * BLOCK_RADIUS <= best) break;
    const left = ((block % across) - 1) * BLOCK;
    const top = (Math.floor(block / across) - 1) * BLOCK;
    const right = Math.min(box.width, left + BLOCK);
    const bottom = Math.min(box.height, top + BLOCK);
    for (let y = top; y < bottom; y++) {
      const row = y * columns.stride;
      for (let x = left; x < right; ) {
        if (columns.cells[row + x]! <= best) {
          x++;
          continue;
        }
        const distance = Math.sqrt(squaredDistanceAt(columns, x, y));
        if (distance > best) {
          best = distance;
          bestX = x;
          bestY = y;
        }
        x += Math.max(1, Math.ceil(best - distance));
      }
    }
  }
  if (best === 0) return undefined;
  return { diameterPx: 2 * best - 1, xPx: box.left + bestX + 0.5, yPx: box.top + bestY + 0.5 };
}

/**
 * Marks (1) the blocks that are all ink. A column of a block is all ink if, half way down, the distance to the nearer
 * end of its run leads out of the block.
 */
function fullBlocks(
  { width, height, stride, cells }: ColumnDistances,
  across: number,
  down: number,
): Uint8Array {
  const full = new Uint8Array(across * down);
  const upper = BLOCK / 2;
  for (let blockY = 0; (blockY + 1) * BLOCK <= height; blockY++) {
    const above = (blockY * BLOCK + upper - 1) * stride;
    const below = above + stride;
    for (let blockX = 0; (blockX + 1) * BLOCK <= width; blockX++) {
      const left = blockX * BLOCK;
      let x = left;
      // The rows just above and below the middle together reach both ends of the block.
      while (x < left + BLOCK && cells[above + x]! >= upper && cells[below + x]! >= upper) x++;
      if (x === left + BLOCK) full[(blockY + 1) * across + blockX + 1] = 1;
    }
  }
  return full;
}
