import { clearDistance } from './cell-pairs.ts';
import type { ColumnDistances } from './column-distances.ts';

/**
 * Exact squared Euclidean distance from pixel (x, y) to the nearest pixel of the other kind, given the distances to the
 * nearer end of each column run. Searches outward along the row only as far as the best distance so far. Outside the
 * box there is no ink: strokes end there, but gaps have no edge there.
 */
export function squaredDistanceAt({ cells, stride, width }: ColumnDistances, x: number, y: number): number {
  const row = y * stride;
  const own = cells[row + x]!;
  return own > 0 ? fromInk(cells, row, width, x, own) : fromClear(cells, row, width, x, clearDistance(own));
}

function fromInk(cells: Int16Array, row: number, width: number, x: number, own: number): number {
  let least = own * own;
  for (let step = 1; step * step < least; step++) {
    const across = step * step;
    const before = x >= step ? cells[row + x - step]! : 0;
    const after = x + step < width ? cells[row + x + step]! : 0;
    const lower = Math.min(before, after);
    const squared = lower <= 0 ? across : across + lower * lower;
    if (squared < least) least = squared;
  }
  return least;
}

function fromClear(cells: Int16Array, row: number, width: number, x: number, own: number): number {
  let least = own * own;
  for (let step = 1; step * step < least; step++) {
    const left = x >= step;
    const right = x + step < width;
    if (!left && !right) break;
    const before = left ? cells[row + x - step]! : -1;
    const after = right ? cells[row + x + step]! : -1;
    const across = step * step;
    if (before > 0 || after > 0) return Math.min(least, across);
    const lower = Math.min(clearDistance(before), clearDistance(after));
    const squared = across + lower * lower;
    if (squared < least) least = squared;
  }
  return least;
}
