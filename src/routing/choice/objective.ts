/**
 * What the shop wants of a choice of methods, from its owner's policy:
 *
 * - `least-cost` (policy lowest-price): the least cost of the order. A price never falls when cost rises, so no choice
 *   has a lower price before endings.
 * - `best-rate` (policy margin-per-bottleneck-minute): the highest `(worth - cost) / bottleneck`. The bottleneck is the
 *   time of the station that this order loads longest, divided by how many of it there are. `worth` is one amount for all
 *   choices: what the order sells for when made the cheapest way. So a method does not look better for raising the
 *   price. Where no choice earns anything, the least cost decides.
 * - `least-load` (policy earliest): the earliest `start + load` of the station that finishes last, then the least cost.
 *
 * Ties go to the methods listed first in the catalog.
 */
export type Objective =
  | { readonly kind: 'least-cost' }
  | { readonly kind: 'best-rate'; readonly worth: number }
  | { readonly kind: 'least-load'; readonly startsMs: readonly number[] };

/** How good a choice is: less is better; the second decides where the first is equal. */
export type Score = readonly [first: number, second: number];

/**
 * Cost of each step down the list of methods, millionths of the currency's unit: far less than any price, far more than
 * the rounding of sums.
 */
export const TIE_BREAK_COST = 1e-3;

/**
 * Scores a choice.
 *
 * @param methods sum of the indexes of its methods in the catalog
 */
export function scoreOf(
  objective: Objective,
  cost: number,
  loads: ArrayLike<number>,
  methods: number,
): Score {
  const total = cost + TIE_BREAK_COST * methods;
  switch (objective.kind) {
    case 'least-cost':
      return [total, 0];
    case 'best-rate': {
      const margin = objective.worth - total;
      return margin > 0 ? [-margin / bottleneckMs(loads), total] : [-margin, total];
    }
    case 'least-load':
      return [latestEndMs(loads, objective.startsMs), total];
  }
}

/** Longest load; 1 ms where nothing is loaded, so that a rate stays finite. */
function bottleneckMs(loads: ArrayLike<number>): number {
  let longest = 1;
  for (let s = 0; s < loads.length; s++) longest = Math.max(longest, loads[s]!);
  return longest;
}

/** A station with nothing to do delays nobody. */
function latestEndMs(loads: ArrayLike<number>, startsMs: readonly number[]): number {
  let latest = 0;
  for (let s = 0; s < loads.length; s++)
    if (loads[s]! > 0) latest = Math.max(latest, startsMs[s]! + loads[s]!);
  return latest;
}

/** Whether one score is better than another by more than the rounding of sums. */
export function isBetter(score: Score, than: Score): boolean {
  const slack = 1e-12 * Math.max(Math.abs(score[0]), Math.abs(than[0]));
  if (score[0] < than[0] - slack) return true;
  return score[0] <= than[0] + slack && score[1] < than[1];
}

/** Whether loads keep the capacities, both in ms by station, but for the rounding of sums. */
export function within(loads: ArrayLike<number>, capacityMs: readonly number[]): boolean {
  for (let s = 0; s < loads.length; s++) if (loads[s]! > capacityMs[s]! + 1e-3) return false;
  return true;
}
