import type { Choice, ChooseOptions } from '../choice.ts';
import { type ChoiceModel, outcomeOf } from '../model.ts';
import { isBetter, type Objective, scoreOf } from '../objective.ts';
import { type SparseModel, sparseModel } from '../sparse-loads.ts';
import { branchAndBound, type SearchResult } from './branch-and-bound.ts';
import { LagrangianBound } from './lagrangian-bound.ts';
import { allOptions } from './open-options.ts';
import type { StationPrices } from './station-prices.ts';
import type { WeightedObjective } from './weighted-objective.ts';

/** Options looked at before the search gives up and reports its gap. */
export const WORK_LIMIT = 100_000;
/** Share of the work limit that finding a start for the best rate may take. */
const START_SHARE = 0.1;
/** Share of the work limit that one round toward the best rate may take; what is left goes into the proof. */
const ROUND_SHARE = 0.2;

/** The best choice by branch and bound; undefined when no choice is compatible, within the capacities and accepted. */
export function searchBest(
  model: ChoiceModel,
  objective: Objective,
  options: ChooseOptions,
): Choice | undefined {
  const search = new ObjectiveSearch(model, objective, options);
  switch (objective.kind) {
    case 'least-cost':
      return search.leastCost();
    case 'best-rate':
      return search.bestRate(objective.worth);
    case 'least-load':
      return search.leastLoad(objective.startsMs);
  }
}

/** One run of branch and bound within a search. */
type Run = Partial<WeightedObjective> & {
  readonly costWeight: number;
  readonly cutoff?: number;
  readonly prices?: StationPrices | undefined;
  readonly warmStart?: readonly number[];
  /** of the work limit; absent: all that is left. */
  readonly share?: number;
};

class ObjectiveSearch {
  readonly #model: ChoiceModel;
  readonly #sparse: SparseModel;
  readonly #objective: Objective;
  readonly #options: ChooseOptions;
  readonly #refused = new Set<string>();
  readonly #workLimit: number;
  #workLeft: number;

  constructor(model: ChoiceModel, objective: Objective, options: ChooseOptions) {
    this.#model = model;
    this.#sparse = sparseModel(model);
    this.#objective = objective;
    this.#options = options;
    this.#workLimit = options.workLimit ?? WORK_LIMIT;
    this.#workLeft = this.#workLimit;
  }

  leastCost(): Choice | undefined {
    const found = this.#run({ costWeight: 1 });
    return found.chosen && this.#choice(found.chosen, gapOf(found));
  }

  /**
   * A rate is a ratio, and maximized by Dinkelbach's method: a choice has the best rate `r` exactly when no choice has
   * `cost + r · bottleneck` under `worth`. So the search looks for one that has; its higher rate takes the place of `r`,
   * until there is none. Rates only rise and choices are finite, so it ends at the best.
   *
   * @see W. Dinkelbach, On nonlinear fractional programming, Management Science 13(7), 492-498, 1967
   */
  bestRate(worth: number): Choice | undefined {
    const cheapest = this.#run({ costWeight: 1, share: START_SHARE });
    if (cheapest.chosen === undefined) return undefined;
    let best = this.#choice(cheapest.chosen, 0);
    // The cheapest earns nothing, so none does: the least cost decides.
    if (best.score[0] >= 0) return { ...best, gap: gapOf(cheapest) };
    let prices: StationPrices | undefined;
    let share = ROUND_SHARE;
    for (;;) {
      const rate = -best.score[0];
      if (this.#workLeft < 2 * share * this.#workLimit) share = 1;
      const found = this.#run({
        costWeight: 1,
        loadWeight: rate,
        cutoff: worth,
        prices,
        warmStart: best.chosen,
        share,
      });
      prices = found.prices;
      const better = found.chosen && this.#choice(found.chosen, 0);
      const improved = better !== undefined && isBetter(better.score, best.score);
      if (improved) best = better;
      else if (found.finished) return best;
      if (this.#workLeft === 0 && !found.finished) {
        // For every choice cost + rate · bottleneck >= lowerBound, so its rate is at most this.
        const highest = rate + Math.max(0, worth - found.lowerBound) / this.#leastBottleneckMs(prices);
        return { ...best, gap: Math.max(0, highest / -best.score[0] - 1) };
      }
      // Neither better nor proved: all work that is left goes into the proof.
      if (!improved) share = 1;
    }
  }

  /** First the earliest end, then the least cost within it. */
  leastLoad(startsMs: readonly number[]): Choice | undefined {
    const earliest = this.#run({ costWeight: 0, loadWeight: 1, startsMs });
    if (earliest.chosen === undefined) return undefined;
    const endMs = this.#choice(earliest.chosen, 0).score[0];
    const capacityMs = startsMs.map((start, s) =>
      Math.min(endMs - start, this.#options.capacityMs?.[s] ?? Number.POSITIVE_INFINITY),
    );
    const cheapest = this.#run({ costWeight: 1, capacityMs });
    return this.#choice(cheapest.chosen ?? earliest.chosen, gapOf(earliest));
  }

  #run(run: Run): SearchResult {
    const { accept } = this.#options;
    const result = branchAndBound(
      this.#model,
      this.#sparse,
      {
        costWeight: run.costWeight,
        loadWeight: run.loadWeight ?? 0,
        startsMs: run.startsMs,
        capacityMs: run.capacityMs ?? this.#options.capacityMs,
      },
      {
        cutoff: run.cutoff ?? Number.POSITIVE_INFINITY,
        workLimit: Math.min(this.#workLeft, (run.share ?? 1) * this.#workLimit),
        accept: (chosen) => accept === undefined || this.#accepted(chosen, accept),
        prices: run.prices,
        warmStart: run.warmStart,
      },
    );
    this.#workLeft = Math.max(0, this.#workLeft - result.work);
    return result;
  }

  /** A search meets the same choice many times; one that was refused is not asked about again. */
  #accepted(chosen: readonly number[], accept: (chosen: readonly number[]) => boolean): boolean {
    const key = chosen.join();
    if (this.#refused.has(key)) return false;
    if (accept(chosen)) return true;
    this.#refused.add(key);
    return false;
  }

  #choice(chosen: readonly number[], gap: number): Choice {
    const outcome = outcomeOf(this.#model, chosen);
    let methods = 0;
    chosen.forEach((option, slot) => {
      methods += this.#model.slots[slot]!.options[option]!.method;
    });
    return { chosen, outcome, score: scoreOf(this.#objective, outcome.cost, outcome.loads, methods), gap };
  }

  /** A lower bound on the bottleneck of every choice, ms, at the prices of another search. */
  #leastBottleneckMs(prices: StationPrices): number {
    const bound = new LagrangianBound(this.#model, this.#sparse, {
      costWeight: 0,
      loadWeight: 1,
      startsMs: undefined,
      capacityMs: undefined,
    });
    const penalty = new Float64Array(prices.share.length);
    return Math.max(1, bound.at(allOptions(this.#model), { share: prices.share, penalty }).value);
  }
}

function gapOf({ value, lowerBound, finished }: SearchResult): number {
  if (finished || value === 0) return 0;
  return Math.max(0, value - lowerBound) / Math.abs(value);
}
