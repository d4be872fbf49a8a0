import { TIE_BREAK_COST, within } from '../objective.ts';
import type { RunningTotals } from '../running-totals.ts';

/**
 * What a search minimizes: `costWeight · cost + loadWeight · max over stations of (start + load)`, with loads held under
 * capacities. Starts count only where every choice loads the station.
 */
export type WeightedObjective = {
  readonly costWeight: number;
  readonly loadWeight: number;
  readonly startsMs: readonly number[] | undefined;
  readonly capacityMs: readonly number[] | undefined;
};

const HOUR_MS = 3_600_000;

/** Whether the stations' time counts at all. */
export function countsLoads({ loadWeight, capacityMs }: WeightedObjective): boolean {
  return loadWeight > 0 || capacityMs !== undefined;
}

/** The value of a choice; Infinity when it exceeds a capacity. */
export function weightedValue(objective: WeightedObjective, totals: RunningTotals): number {
  const { costWeight, loadWeight, startsMs, capacityMs } = objective;
  const cost = totals.recompute() + TIE_BREAK_COST * totals.methods;
  const { loads } = totals;
  if (capacityMs !== undefined && !within(loads, capacityMs)) return Number.POSITIVE_INFINITY;
  let latest = loadWeight > 0 ? 1 : 0;
  for (let s = 0; s < loads.length; s++)
    if (loads[s]! > 0) latest = Math.max(latest, (startsMs?.[s] ?? 0) + loads[s]!);
  return costWeight * cost + loadWeight * latest;
}

/**
 * The value with the 8-norm of the loads in place of their maximum, and without capacities. Most steps of a local search
 * leave the maximum as it is; the norm still tells which of them is better.
 */
export function smoothedValue(objective: WeightedObjective, totals: RunningTotals): number {
  const { costWeight, loadWeight, startsMs } = objective;
  const cost = totals.recompute() + TIE_BREAK_COST * totals.methods;
  const { loads } = totals;
  // In hours, so that the eighth powers stay far from the largest number.
  let sum = 0;
  for (let s = 0; s < loads.length; s++) {
    const load = loads[s]!;
    if (load === 0) continue;
    const hours = ((startsMs === undefined ? 0 : startsMs[s]!) + load) / HOUR_MS;
    const fourth = hours * hours * hours * hours;
    sum += fourth * fourth;
  }
  return costWeight * cost + loadWeight * HOUR_MS * Math.sqrt(Math.sqrt(Math.sqrt(sum)));
}
