import { branchAndBound, type SearchResult } from './branch-and-bound.ts';
import { bestOfAll } from './enumerate.ts';
import { LagrangianBound, type StationPrices } from './lagrangian-bound.ts';
import { type ChoiceModel, type Outcome, outcomeOf } from './model.ts';
import { isBetter, type Objective, type Score, scoreOf } from './objective.ts';

/** Choices that are simply all tried. */
const TRY_ALL = 1024;
/** Options looked at before the search gives up and says how far from the best it may be. */
export const WORK_LIMIT = 100_000;
/** Part of the work a best rate may spend on where to start. */
const START_PART = 0.1;
/** Part of the work that one round toward the best rate may take; what is left goes into the proof. */
const ROUND_PART = 0.2;

/** What besides the objective binds a choice. */
export type ChooseOptions = {
  /** load each station can take, ms; absent: any. */
  readonly capacityMs?: readonly number[] | undefined;
  /** whether a choice can be had (its day is not too late); asked only of choices better than the best so far. */
  readonly accept?: ((chosen: readonly number[]) => boolean) | undefined;
  /** options looked at before giving up. Default `WORK_LIMIT`. */
  readonly workLimit?: number | undefined;
};

/** The best choice: option index by slot. */
export type Choice = {
  readonly chosen: readonly number[];
  readonly outcome: Outcome;
  readonly score: Score;
  /**
   * How much better, as a share of the objective's value, the best of all could be: 0 when this is proved to be the
   * best.
   */
  readonly gap: number;
};

/**
 * Chooses a method for every slot. Up to 1,024 combinations are all tried; more are searched by branch and bound.
 *
 * `best-rate` is a ratio, and solved as one by Dinkelbach's method: `x` has the best rate `r` exactly when no choice has
 * `cost + r · bottleneck` under `worth`. So the search looks for one that has; its better rate takes the place of `r`,
 * until there is none. Rates only rise and choices are finite, so it ends, at the best.
 *
 * @see W. Dinkelbach, On nonlinear fractional programming, Management Science 13(7), 492-498, 1967
 * @returns undefined when no choice keeps the capacities, goes together and is accepted
 */
export function choose(
  model: ChoiceModel,
  objective: Objective,
  options: ChooseOptions = {},
): Choice | undefined {
  const { capacityMs } = options;
  if (areAllTried(model)) {
    const best = bestOfAll(model, objective, capacityMs, options.accept);
    return best && { ...best, outcome: outcomeOf(model, best.chosen), gap: 0 };
  }
  return new Chooser(model, objective, options).choose();
}

/** Whether a choice of this model is made by trying all there are. */
export function areAllTried(model: ChoiceModel): boolean {
  return !hasMoreWays(model, TRY_ALL);
}

/** Whether there are more combinations of options than so many. */
export function hasMoreWays({ slots }: ChoiceModel, than: number): boolean {
  let ways = 1;
  for (const { options } of slots) ways = Math.min(ways * options.length, than + 1);
  return ways > than;
}

/**
 * The gap of a choice made under conditions, as `Choice.gap`, seen from the best choice without them.
 *
 * @param best of the same objective; it may have a gap of its own
 */
export function gapTo(objective: Objective, choice: Choice, best: Choice): number {
  if (objective.kind === 'best-rate' && choice.score[0] < 0)
    return Math.max(0, ((1 + best.gap) * best.score[0]) / choice.score[0] - 1);
  // What earns nothing is chosen by its cost.
  const value = ({ score, outcome }: Choice): number =>
    objective.kind === 'least-load' ? score[0] : outcome.cost;
  const least = Math.max(0, (1 - best.gap) * value(best));
  return value(choice) === 0 ? 0 : Math.max(0, 1 - least / value(choice));
}

class Chooser {
  readonly #model: ChoiceModel;
  readonly #objective: Objective;
  readonly #options: ChooseOptions;
  readonly #refused = new Set<string>();
  readonly #limit: number;
  #workLeft: number;

  constructor(model: ChoiceModel, objective: Objective, options: ChooseOptions) {
    this.#model = model;
    this.#objective = objective;
    this.#options = options;
    this.#limit = options.workLimit ?? WORK_LIMIT;
    this.#workLeft = this.#limit;
  }

  choose(): Choice | undefined {
    switch (this.#objective.kind) {
      case 'least-cost':
        return this.#leastCost();
      case 'best-rate':
        return this.#bestRate(this.#objective.worth);
      case 'least-load':
        return this.#leastLoad(this.#objective.startsMs);
    }
  }

  #leastCost(): Choice | undefined {
    const found = this.#search({ costWeight: 1 });
    return found.chosen && this.#choice(found.chosen, gapOf(found));
  }

  #bestRate(worth: number): Choice | undefined {
    const cheapest = this.#search({ costWeight: 1, part: START_PART });
    if (cheapest.chosen === undefined) return undefined;
    let best = this.#choice(cheapest.chosen, 0);
    // Nothing is earned by the cheapest, so by none: the least cost decides.
    if (best.score[0] >= 0) return { ...best, gap: gapOf(cheapest) };
    let prices: StationPrices | undefined;
    let part = ROUND_PART;
    for (;;) {
      const rate = -best.score[0];
      if (this.#workLeft < 2 * part * this.#limit) part = 1;
      const found = this.#search({
        costWeight: 1,
        loadWeight: rate,
        under: worth,
        prices,
        from: best.chosen,
        part,
      });
      prices = found.prices;
      const better = found.chosen && this.#choice(found.chosen, 0);
      const improved = better !== undefined && isBetter(better.score, best.score);
      if (improved) best = better;
      else if (found.finished) return best;
      if (this.#workLeft === 0 && !found.finished) {
        // For every choice cost + rate · bottleneck >= lower, so its rate is at most this.
        const most = rate + Math.max(0, worth - found.lower) / this.#leastBottleneck(prices);
        return { ...best, gap: Math.max(0, most / -best.score[0] - 1) };
      }
      // Neither better nor proved: all work that is left goes into the proof.
      if (!improved) part = 1;
    }
  }

  #leastLoad(startsMs: readonly number[]): Choice | undefined {
    const soonest = this.#search({ costWeight: 0, loadWeight: 1, startsMs });
    if (soonest.chosen === undefined) return undefined;
    const latest = this.#choice(soonest.chosen, 0).score[0];
    const capacityMs = startsMs.map((start, s) =>
      Math.min(latest - start, this.#options.capacityMs?.[s] ?? Number.POSITIVE_INFINITY),
    );
    const cheapest = this.#search({ costWeight: 1, capacityMs });
    return this.#choice(cheapest.chosen ?? soonest.chosen, gapOf(soonest));
  }

  #search(weighing: {
    readonly costWeight: number;
    readonly loadWeight?: number;
    readonly startsMs?: readonly number[];
    readonly capacityMs?: readonly number[];
    readonly under?: number;
    readonly prices?: StationPrices | undefined;
    readonly from?: readonly number[];
    /** of the work limit; absent: all that is left. */
    readonly part?: number;
  }): SearchResult {
    const { accept } = this.#options;
    const result = branchAndBound(
      this.#model,
      {
        costWeight: weighing.costWeight,
        loadWeight: weighing.loadWeight ?? 0,
        startsMs: weighing.startsMs,
        capacityMs: weighing.capacityMs ?? this.#options.capacityMs,
      },
      {
        under: weighing.under ?? Number.POSITIVE_INFINITY,
        workLimit: Math.min(this.#workLeft, (weighing.part ?? 1) * this.#limit),
        accept: (chosen) => accept === undefined || this.#accepted(chosen, accept),
        prices: weighing.prices,
        from: weighing.from,
      },
    );
    this.#workLeft = Math.max(0, this.#workLeft - result.work);
    return result;
  }

  /** The same choice is met many times in a search; it is asked about once. */
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

  /** No choice has a bottleneck under this, ms: a bound on the least, at the prices of another search. */
  #leastBottleneck(prices: StationPrices): number {
    const bound = new LagrangianBound(this.#model, {
      costWeight: 0,
      loadWeight: 1,
      startsMs: undefined,
      capacityMs: undefined,
    });
    const open = this.#model.slots.map(({ options }) => options.map((_, index) => index));
    const penalty = new Float64Array(prices.share.length);
    return Math.max(1, bound.at(open, { share: prices.share, penalty }).value);
  }
}

function gapOf({ value, lower, finished }: SearchResult): number {
  if (finished || value === 0) return 0;
  return Math.max(0, value - lower) / Math.abs(value);
}
