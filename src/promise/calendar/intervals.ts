import type { EpochS } from './time.ts';

/** [from, to) in epoch seconds. */
export type Interval = {
  readonly from: EpochS;
  readonly to: EpochS;
};

/** The union of intervals: ascending, none empty, none touching. The functions below take and return such lists. */
export function mergeIntervals(intervals: readonly Interval[]): Interval[] {
  const sorted = intervals.filter(({ from, to }) => to > from).sort((a, b) => a.from - b.from);
  const merged: { from: EpochS; to: EpochS }[] = [];
  for (const { from, to } of sorted) {
    const last = merged.at(-1);
    if (last && from <= last.to) last.to = Math.max(last.to, to);
    else merged.push({ from, to });
  }
  return merged;
}

/** The intersection of two merged lists. */
export function intersectIntervals(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const common: Interval[] = [];
  let i = 0;
  let j = 0;
  while (i < a.length && j < b.length) {
    const x = a[i]!;
    const y = b[j]!;
    const from = Math.max(x.from, y.from);
    const to = Math.min(x.to, y.to);
    if (to > from) common.push({ from, to });
    if (x.to < y.to) i++;
    else j++;
  }
  return common;
}

/** Merged list `a` without merged list `b`. */
export function subtractIntervals(a: readonly Interval[], b: readonly Interval[]): Interval[] {
  const difference: Interval[] = [];
  let j = 0;
  for (const interval of a) {
    let from = interval.from;
    while (j < b.length && b[j]!.to <= from) j++;
    for (let k = j; k < b.length && b[k]!.from < interval.to; k++) {
      const hole = b[k]!;
      if (hole.from > from) difference.push({ from, to: hole.from });
      from = Math.max(from, hole.to);
    }
    if (from < interval.to) difference.push({ from, to: interval.to });
  }
  return difference;
}
