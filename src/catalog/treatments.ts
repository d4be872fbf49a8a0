import type { Qualities, Reason } from '../contract/index.ts';
import { reason } from '../contract/index.ts';
import type { Method, Treatment } from './method.ts';
import type { Finish } from './shop.ts';

/** A method with a set of treatments: the resulting qualities, and the bounds of the finish that it misses. */
export type Variant = {
  readonly treatments: readonly Treatment[];
  readonly qualities: Qualities;
  /** whether it meets the finish. */
  readonly meets: boolean;
  /** the bounds it misses; empty if it meets all. */
  readonly misses: readonly Reason[];
};

/**
 * How a method meets a finish: with the fewest treatments that keep its bounds, among the sets that include every
 * treatment the finish lists and the method offers; the first listed among equals. If no set keeps the bounds, the one
 * that misses the fewest of them, and by the least.
 *
 * A method has at most 6 treatments, so all sets (at most 64) are tried.
 */
export function bestVariant(method: Method, finish: Finish): Variant {
  const offered = method.treatments;
  let required = 0;
  offered.forEach(({ id }, index) => {
    if (finish.treatments.includes(id)) required |= 1 << index;
  });
  let best: Variant | undefined;
  let bestRank: readonly number[] = [];
  for (let set = 0; set < 1 << offered.length; set++) {
    if ((set & required) !== required) continue;
    const treatments = offered.filter((_, index) => (set & (1 << index)) !== 0);
    const qualities = qualitiesWith(method, treatments);
    const misses = missedBounds(qualities, finish);
    const rank = [misses.length, shortfallOf(misses), treatments.length];
    if (best !== undefined && !isLess(rank, bestRank)) continue;
    best = { treatments, qualities, misses, meets: misses.length === 0 };
    bestRank = rank;
  }
  return best!;
}

/** Total shortfall: steps of a quality, or tenths of the required wash life. */
function shortfallOf(misses: readonly Reason[]): number {
  let sum = 0;
  for (const { params } of misses) {
    const { hand, gloss, washLife, breathability, least, most } = params;
    const value = Number(hand ?? gloss ?? washLife ?? breathability);
    const over = Math.max(Number(least ?? 0) - value, value - Number(most ?? Number.POSITIVE_INFINITY));
    sum += washLife === undefined ? over : (10 * over) / Number(least);
  }
  return sum;
}

function isLess(one: readonly number[], other: readonly number[]): boolean {
  for (let index = 0; index < one.length; index++)
    if (one[index] !== other[index]) return one[index]! < other[index]!;
  return false;
}

/**
 * Qualities of a print with several treatments. A treatment states the qualities with it alone; the changes from the bare
 * method are added up and clamped to the range of each quality. Assumed; no source.
 */
export function qualitiesWith(method: Method, treatments: readonly Treatment[]): Qualities {
  const bare = method.qualities;
  const sum = (of: (qualities: Qualities) => number, most: number): number => {
    let value = of(bare);
    for (const treatment of treatments) value += of(treatment.qualities) - of(bare);
    return Number(Math.min(most, Math.max(0, value)).toFixed(6));
  };
  return {
    hand: sum((qualities) => qualities.hand, 4),
    gloss: sum((qualities) => qualities.gloss, 4),
    washLifeCycles: sum((qualities) => qualities.washLifeCycles, 1000),
    breathability: sum((qualities) => qualities.breathability, 4),
  };
}

/** The bounds of a finish that these qualities miss. */
export function missedBounds(qualities: Qualities, finish: Finish): Reason[] {
  const { handMost, glossLeast, glossMost, washLifeLeast, breathabilityLeast } = finish.bounds;
  const misses: Reason[] = [];
  if (handMost !== undefined && qualities.hand > handMost)
    misses.push(reason('hand-too-thick', { hand: qualities.hand, most: handMost }));
  const glossLow = glossLeast ?? 0;
  const glossHigh = glossMost ?? 4;
  if (qualities.gloss < glossLow || qualities.gloss > glossHigh)
    misses.push(reason('gloss-out-of-bounds', { gloss: qualities.gloss, least: glossLow, most: glossHigh }));
  if (washLifeLeast !== undefined && qualities.washLifeCycles < washLifeLeast)
    misses.push(reason('wash-life-too-short', { washLife: qualities.washLifeCycles, least: washLifeLeast }));
  if (breathabilityLeast !== undefined && qualities.breathability < breathabilityLeast)
    misses.push(
      reason('breathability-too-low', { breathability: qualities.breathability, least: breathabilityLeast }),
    );
  return misses;
}

/** The method's own steps followed by those of its treatments. */
export function stepsOf(method: Method, treatments: readonly Treatment[]): Method['steps'] {
  if (treatments.every(({ steps }) => steps.length === 0)) return method.steps;
  return [...method.steps, ...treatments.flatMap(({ steps }) => steps)];
}
