/** The ticks of a ruler in the customer's units. */
import type { Units } from '../../format/index.ts';
import { MM_PER_INCH } from '../../format/index.ts';

/** One tick: how far along, how tall, and what is written by it (a figure in the ruler's units), if anything. */
export type Tick = {
  readonly atPx: number;
  readonly rank: 'major' | 'middle' | 'minor';
  readonly figure: number | null;
};

/** Steps in the unit itself, finest first: each with what a middle and a labeled tick are. */
const STEPS: Readonly<Record<Units, readonly (readonly [minor: number, middle: number, major: number])[]>> = {
  mm: [
    [1, 5, 10],
    [2, 10, 20],
    [5, 25, 50],
    [10, 50, 100],
    [20, 100, 200],
    [50, 250, 500],
    [100, 500, 1000],
    [200, 1000, 2000],
    [500, 2500, 5000],
  ],
  in: [
    [1 / 16, 1 / 4, 1],
    [1 / 8, 1 / 2, 1],
    [1 / 4, 1, 2],
    [1 / 2, 1, 2],
    [1, 2, 4],
    [1, 5, 10],
    [5, 10, 20],
    [10, 50, 100],
  ],
};

/** Ticks stand at least this far apart, and labels so much. */
const LEAST_TICK_PX = 4.5;
const LEAST_LABEL_PX = 34;

/**
 * Ticks of a ruler `lengthPx` long whose zero lies at `zeroPx`, `pxPerMm` px to the millimeter. Figures grow from
 * the zero in both directions; they are never negative, as on a tailor's rule laid on its middle.
 */
export function ticks(lengthPx: number, zeroPx: number, pxPerMm: number, units: Units): readonly Tick[] {
  const pxPerUnit = pxPerMm * (units === 'mm' ? 1 : MM_PER_INCH);
  if (!(pxPerUnit > 0) || !(lengthPx > 0)) return [];
  const steps = STEPS[units];
  const [minor, middle, major] =
    steps.find(
      ([fine, , labelled]) => fine * pxPerUnit >= LEAST_TICK_PX && labelled * pxPerUnit >= LEAST_LABEL_PX,
    ) ?? steps[steps.length - 1]!;
  const first = Math.ceil(-zeroPx / pxPerUnit / minor);
  const last = Math.floor((lengthPx - zeroPx) / pxPerUnit / minor);
  if (last - first > 2_000) return [];
  const out: Tick[] = [];
  const isMultiple = (value: number, of: number) => Math.abs(value / of - Math.round(value / of)) < 1e-6;
  for (let i = first; i <= last; i++) {
    const value = i * minor;
    const rank = isMultiple(value, major) ? 'major' : isMultiple(value, middle) ? 'middle' : 'minor';
    out.push({
      atPx: zeroPx + value * pxPerUnit,
      rank,
      figure: rank === 'major' ? Math.abs(Math.round(value * 1000) / 1000) : null,
    });
  }
  return out;
}
