import type { ColumnDistances } from '../column-distances.ts';

/** Rows (or columns) examined on each side of a run, and how many of all must match. */
const LINES_EACH_SIDE = 3;
const MIN_MATCHES = 5;

/** A run across a stroke; length 0 if there is none. */
type Run = { readonly length: number; readonly middle: number };

/**
 * Whether the runs on parallel lines to both sides of a run are about as long and in line with it, as the runs across a
 * stroke are.
 *
 * @param columns the sign of a cell tells ink (positive) from clear.
 * @param sign 1 for runs of ink, -1 for runs of clear pixels.
 * @param x, y the middle of the run.
 * @param length of the run, px.
 * @param vertical whether it is a run of a column, not of a row.
 */
export function isContinuous(
  columns: ColumnDistances,
  sign: 1 | -1,
  x: number,
  y: number,
  length: number,
  vertical: boolean,
): boolean {
  const { width, height, stride } = columns;
  const step = Math.max(1, length >> 2);
  const slack = 1 + length / 4;
  let matches = 0;
  let tried = 0;
  for (const offset of [step, -step]) {
    let middle = vertical ? y : x;
    for (let line = 1; line <= LINES_EACH_SIDE; line++) {
      // Even if all the others matched, it would not be enough.
      if (matches + 2 * LINES_EACH_SIDE - tried < MIN_MATCHES) return false;
      tried++;
      const at = (vertical ? x : y) + line * offset;
      if (at < 0 || at >= (vertical ? width : height)) continue;
      const run = vertical
        ? runAt(columns, sign, at, stride, height, middle, length + slack)
        : runAt(columns, sign, at * stride, 1, width, middle, length + slack);
      if (Math.abs(run.length - length) > slack) {
        tried += LINES_EACH_SIDE - line;
        break;
      }
      middle = run.middle;
      matches++;
    }
  }
  return matches >= MIN_MATCHES;
}

/**
 * The run that holds a place of a line, or one right beside that place.
 *
 * @param start, stride, count the cells of the line.
 * @param most length at which measuring stops.
 */
function runAt(
  { cells }: ColumnDistances,
  sign: 1 | -1,
  start: number,
  stride: number,
  count: number,
  place: number,
  most: number,
): Run {
  let at = place;
  if (cells[start + at * stride]! * sign < 0) {
    if (at > 0 && cells[start + (at - 1) * stride]! * sign > 0) at--;
    else if (at + 1 < count && cells[start + (at + 1) * stride]! * sign > 0) at++;
    else return { length: 0, middle: place };
  }
  let first = at;
  while (first > 0 && at - first <= most && cells[start + (first - 1) * stride]! * sign > 0) first--;
  let last = at;
  while (last + 1 < count && last - first <= most && cells[start + (last + 1) * stride]! * sign > 0) last++;
  return { length: last - first + 1, middle: (first + last) >> 1 };
}
