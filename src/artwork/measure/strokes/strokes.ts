import type { MeasuredWidth } from '../../../contract/facts.ts';
import type { ColumnDistances } from '../column-distances.ts';
import type { InkPlane } from '../plane.ts';
import { RowScanner } from './row-scanner.ts';
import { StrokeCollector } from './stroke-collector.ts';

/** A stroke is thin below this share of the longer side of the ink box ... */
const THIN_SHARE = 1 / 20;
/** ... and at most this wide, px. */
const MAX_THIN_PX = 400;

/** In texture only every eighth row and column is examined. */
const SPARSE_STEP = 8;

/** Widths of thin lines and thin gaps, each thinnest first. */
export type Strokes = { readonly lines: MeasuredWidth[]; readonly gaps: MeasuredWidth[] };

/**
 * Finds thin strokes and thin gaps. On the way it turns `columns` from upward distances into distances to the nearer end
 * of each column run.
 *
 * Every stroke is crossed by horizontal or by vertical runs of at most sqrt(2) times its width, so the middles of short
 * runs are candidates for its medial axis. There the exact Euclidean distance bounds its width.
 *
 * @param columns as `upwardDistances` returns them for the plane; changed in place.
 */
export function findStrokes(plane: InkPlane, columns: ColumnDistances): Strokes {
  const { width, height, cells } = columns;
  const maxPx = Math.min(MAX_THIN_PX, THIN_SHARE * Math.max(width, height));
  const maxRun = Math.ceil(Math.SQRT2 * maxPx) + 1;
  const lines = new StrokeCollector(plane, columns, false, maxPx);
  const gaps = new StrokeCollector(plane, columns, true, maxPx);
  const row = new RowScanner(plane, columns, maxRun);
  for (let y = height - 1; y >= 0; y--) {
    row.scan(y);
    const start = y * columns.stride;
    // A stroke is longer than the step and crosses some of these rows and columns.
    const isSparse = lines.isTexture || gaps.isTexture;
    for (let index = 0; index < row.middleCount; index++) {
      const x = row.middles[index]!;
      if (isSparse && x % SPARSE_STEP !== 0) continue;
      const strokes = cells[start + x]! > 0 ? lines : gaps;
      strokes.consider(x, y, row.lengths[index]!, true);
    }
    if (isSparse && y % SPARSE_STEP !== 0) continue;
    for (let index = 0, x = 0; index <= row.boundaryCount; index++) {
      const end = row.boundaries[index]!;
      const run = end - x;
      const middle = x + (run >>> 1);
      if (run <= maxRun) {
        if (cells[start + x]! > 0) lines.consider(middle, y, run, false);
        else if (x > 0 && end < width) gaps.consider(middle, y, run, false);
      }
      x = end;
    }
  }
  return { lines: lines.results(), gaps: gaps.results() };
}
