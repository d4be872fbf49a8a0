import type { WeightedObjective } from './weighted-objective.ts';

/**
 * Prices on the stations' time (Lagrange multipliers): `share[s]` of the load weight, which add up to 1, and `penalty[s]`
 * on load over capacity.
 */
export type StationPrices = { readonly share: Float64Array; readonly penalty: Float64Array };

/** Equal shares, no penalties. */
export function startPrices({ loadWeight }: WeightedObjective, stationCount: number): StationPrices {
  const share = new Float64Array(stationCount);
  const penalty = new Float64Array(stationCount);
  if (loadWeight > 0) share.fill(1 / Math.max(1, stationCount));
  return { share, penalty };
}

/**
 * Moves prices along a subgradient: up where a station's load is high, by Polyak's step length. Undefined when there is
 * nowhere to move.
 *
 * @param loads ms, by station
 * @param gap from the bound at these prices to the value aimed for
 * @param step factor on the step length
 */
export function movePrices(
  objective: WeightedObjective,
  prices: StationPrices,
  loads: Float64Array,
  gap: number,
  step: number,
): StationPrices | undefined {
  const { loadWeight, startsMs, capacityMs } = objective;
  const stationCount = loads.length;
  const share = new Float64Array(prices.share);
  const penalty = new Float64Array(prices.penalty);
  let norm = 0;
  let mean = 0;
  for (let s = 0; s < stationCount; s++) mean += (startsMs?.[s] ?? 0) + loads[s]!;
  mean /= Math.max(1, stationCount);
  const slopes = new Float64Array(stationCount);
  const excesses = new Float64Array(stationCount);
  for (let s = 0; s < stationCount; s++) {
    if (loadWeight > 0) slopes[s] = loadWeight * ((startsMs?.[s] ?? 0) + loads[s]! - mean);
    if (capacityMs !== undefined) {
      const excess = loads[s]! - capacityMs[s]!;
      excesses[s] = excess > 0 || penalty[s]! > 0 ? excess : 0;
    }
    norm += slopes[s]! ** 2 + excesses[s]! ** 2;
  }
  if (norm === 0 || !(gap > 0)) return undefined;
  const length = (step * gap) / norm;
  for (let s = 0; s < stationCount; s++) {
    if (loadWeight > 0) share[s]! += length * slopes[s]!;
    penalty[s] = Math.max(0, penalty[s]! + length * excesses[s]!);
  }
  if (loadWeight > 0) projectOntoSimplex(share);
  return { share, penalty };
}

/** Moves a point to the nearest one whose members are 0 or more and add up to 1. */
function projectOntoSimplex(point: Float64Array): void {
  const sorted = Float64Array.from(point).sort().reverse();
  let sum = 0;
  let shift = 0;
  for (let i = 0; i < sorted.length; i++) {
    sum += sorted[i]!;
    const candidate = (sum - 1) / (i + 1);
    if (sorted[i]! - candidate > 0) shift = candidate;
  }
  for (let i = 0; i < point.length; i++) point[i] = Math.max(0, point[i]! - shift);
}
