import type { MeasuredWidth } from '../../contract/facts.ts';
import { UNBOUNDED } from './column-runs.ts';
import { squaredDistanceAt } from './exact-distance.ts';
import type { InkPlane } from './plane.ts';
import { StrokeCollector } from './stroke-collector.ts';

/** A stroke is thin below this share of the longer side of the ink box ... */
const THIN_SHARE = 1 / 20;
/** ... and never above this, px. */
const THIN_MOST_PX = 400;

export type Strokes = { readonly lines: MeasuredWidth[]; readonly gaps: MeasuredWidth[] };

/**
 * Finds thin strokes and thin gaps, and turns `columns` from distances upward into distances to the nearer end of each
 * column run (still negative for clear pixels) on the way.
 *
 * Every stroke is crossed by horizontal or by vertical runs at most sqrt(2) times its width; their middles are where
 * to look. There the exact Euclidean distance says how wide it can be at most.
 *
 * @param columns as `distancesUp` gives them for the plane; changed in place.
 */
export function findStrokes(plane: InkPlane, columns: Int16Array): Strokes {
  const { width, height } = plane.box;
  const mostPx = Math.min(THIN_MOST_PX, THIN_SHARE * Math.max(width, height));
  const runMost = Math.ceil(Math.SQRT2 * mostPx) + 1;
  const lines = new StrokeCollector(plane, columns, false, mostPx);
  const gaps = new StrokeCollector(plane, columns, true, mostPx);
  const below = new Int16Array(width).fill(-UNBOUNDED);
  const middles = new Int32Array(width);
  const runs = new Int32Array(width);
  /** where along the row ink begins or ends. */
  const turns = new Int32Array(width + 1);

  for (let y = height - 1; y >= 0; y--) {
    const row = y * width;
    let found = 0;
    let turned = 0;
    let inked = columns[row]! > 0;
    for (let x = 0; x < width; x++) {
      const up = columns[row + x]!;
      const under = below[x]!;
      if (up > 0 !== inked) {
        inked = !inked;
        turns[turned++] = x;
      }
      if (up > 0) {
        const down = under > 0 ? (under < 32_767 ? under + 1 : under) : 1;
        below[x] = down;
        const surplus = up - down;
        if ((surplus === 0 || surplus === 1) && up + down <= runMost) {
          runs[found] = up + down - 1;
          middles[found++] = x;
        }
        if (down < up) columns[row + x] = down;
      } else {
        const down = under < 0 ? (under > -32_767 ? under - 1 : under) : -1;
        below[x] = down;
        const surplus = down - up;
        if ((surplus === 0 || surplus === 1) && -up - down <= runMost) {
          runs[found] = -up - down - 1;
          middles[found++] = x;
        }
        if (down > up) columns[row + x] = down;
      }
    }
    for (let index = 0; index < found; index++) {
      const x = middles[index]!;
      const squared = squaredDistanceAt(columns, row, width, x);
      if (columns[row + x]! > 0) lines.consider(x, y, runs[index]!, true, squared);
      else gaps.consider(x, y, runs[index]!, true, squared);
    }
    turns[turned] = width;
    for (let index = 0, x = 0; index <= turned; index++) {
      const end = turns[index]!;
      const run = end - x;
      if (run <= runMost) {
        const middle = x + (run >>> 1);
        if (columns[row + x]! > 0)
          lines.consider(middle, y, run, false, squaredDistanceAt(columns, row, width, middle));
        else if (x > 0 && end < width)
          gaps.consider(middle, y, run, false, squaredDistanceAt(columns, row, width, middle));
      }
      x = end;
    }
  }
  return { lines: lines.told(), gaps: gaps.told() };
}
