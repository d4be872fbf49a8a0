/**
 * What the shop wants of a choice of methods, as its owner's policy says it:
 *
 * - `least-cost` (policy lowest-price): the least cost of the order. A price never falls when cost rises, so no choice
 *   has a lower price before endings.
 * - `best-rate` (policy margin-per-bottleneck-minute): the most of `(worth - cost) / bottleneck`, where the bottleneck is
 *   the time of the station this order loads longest, divided by how many of it there are. `worth` is one sum for all
 *   choices: what the order sells for made the cheapest way. So a dearer method never looks better for raising a
 *   price. Where no choice earns anything, the least cost decides.
 * - `least-load` (policy earliest): the earliest `start + load` of the station that is through last, then the least cost.
 *
 * Equal choices go to the methods listed first in the catalog.
 */
export type Objective =
  | { readonly kind: 'least-cost' }
  | { readonly kind: 'best-rate'; readonly worth: number }
  | { readonly kind: 'least-load'; readonly startsMs: readonly number[] };

/** How good a choice is: less is better, the second where the first is equal. */
export type Score = readonly [first: number, second: number];

/**
 * Millionths of the currency's unit that one place in the list of methods counts when all else is equal: far less than
 * any money, far more than the rounding of sums.
 */
export const PLACE_COST = 1e-3;

/** Scores a choice. `methods` is the sum of the places of its methods in the catalog. */
export function scoreOf(
  objective: Objective,
  cost: number,
  loads: ArrayLike<number>,
  methods: number,
): Score {
  const whole = cost + PLACE_COST * methods;
  switch (objective.kind) {
    case 'least-cost':
      return [whole, 0];
    case 'best-rate': {
      const margin = objective.worth - whole;
      return margin > 0 ? [-margin / bottleneckOf(loads), whole] : [-margin, whole];
    }
    case 'least-load':
      return [latestOf(loads, objective.startsMs), whole];
  }
}

/** Longest load, ms; 1 ms where nothing is loaded, so that a rate stays finite. */
export function bottleneckOf(loads: ArrayLike<number>): number {
  let most = 1;
  for (let s = 0; s < loads.length; s++) most = Math.max(most, loads[s]!);
  return most;
}

function latestOf(loads: ArrayLike<number>, startsMs: readonly number[]): number {
  let latest = 0;
  // A station with nothing to do holds nobody up.
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
