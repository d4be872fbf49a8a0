import { isCompatible } from '../clashes.ts';
import type { ChoiceModel } from '../model.ts';
import { RunningTotals } from '../running-totals.ts';
import type { SparseModel } from '../sparse-loads.ts';
import { type Bound, LagrangianBound } from './lagrangian-bound.ts';
import { localSearch } from './local-search.ts';
import { allOptions, fixOption, type OpenOptions, prune } from './open-options.ts';
import { movePrices, type StationPrices, startPrices } from './station-prices.ts';
import { countsLoads, smoothedValue, type WeightedObjective, weightedValue } from './weighted-objective.ts';

/** What a search found. */
export type SearchResult = {
  /** the best choice with a value under the cutoff; undefined when there is none. */
  readonly chosen: readonly number[] | undefined;
  readonly value: number;
  /** no choice has a value under this. Equal to `value`, but for rounding, when the search finished. */
  readonly lowerBound: number;
  readonly finished: boolean;
  /** options looked at: how much of the work limit is used up. */
  readonly work: number;
  /** prices of the stations' time with the best bound at the root. */
  readonly prices: StationPrices;
};

/** How a search is run. */
export type SearchOptions = {
  /** only choices with a value under this are looked for. */
  readonly cutoff: number;
  /** options to look at before giving up; a count, not a clock, so that the same slip gets the same answer anywhere. */
  readonly workLimit: number;
  /** called for a choice within capacities that is better than all before; false refuses it (its day is too late). */
  readonly accept: (chosen: readonly number[], totals: RunningTotals) => boolean;
  /** prices to start from, such as those of a search with slightly different weights. */
  readonly prices?: StationPrices | undefined;
  /** a choice to improve on. */
  readonly warmStart?: readonly number[] | undefined;
};

/** Most moves of the prices at the root and at every other node. */
const ROOT_ROUNDS = 120;
const NODE_ROUNDS = 6;
/** Shares of the work limit that raising the root's bound and local search may each take. */
const ROOT_SHARE = 0.4;
const LOCAL_SEARCH_SHARE = 0.4;
/** Weight of the latest choice in the moving averages. */
const MEAN_STEP = 0.2;

/**
 * Depth-first branch and bound over slots × options. At every node a lower bound is computed, options whose reduced cost
 * lifts it to the best value known are pruned, and the slot whose open options differ most is branched on.
 *
 * Exact: a node is left only when its bound, which no choice within it undercuts, is not under the best value known, or
 * when a single choice is left, which is then evaluated exactly.
 */
export function branchAndBound(
  model: ChoiceModel,
  sparse: SparseModel,
  objective: WeightedObjective,
  options: SearchOptions,
): SearchResult {
  return new Search(model, sparse, objective, options).result();
}

class Search {
  readonly #model: ChoiceModel;
  readonly #objective: WeightedObjective;
  readonly #options: SearchOptions;
  readonly #bound: LagrangianBound;
  readonly #totals: RunningTotals;
  /** by slot: how much its options differ. */
  readonly #spread: readonly number[];
  readonly #countsLoads: boolean;
  /** by slot and option, while the root's bound is raised: moving average of how often the bound picked it. */
  #pickRates: Float64Array[] | undefined;
  #best: number[] | undefined;
  #value: number;
  #work = 0;
  #stopped = false;
  /** least bound of what was not searched. */
  #unsearched = Number.POSITIVE_INFINITY;

  constructor(model: ChoiceModel, sparse: SparseModel, objective: WeightedObjective, options: SearchOptions) {
    this.#model = model;
    this.#objective = objective;
    this.#options = options;
    this.#bound = new LagrangianBound(model, sparse, objective);
    this.#totals = new RunningTotals(model, sparse);
    this.#value = options.cutoff;
    this.#countsLoads = countsLoads(objective);
    this.#spread = model.slots.map((_, slot) => this.#spreadOf(slot));
  }

  result(): SearchResult {
    const { prices = startPrices(this.#objective, this.#model.stations.length) } = this.#options;
    const open = allOptions(this.#model);
    this.#pickRates = open.map(({ length }) => new Float64Array(length));
    const root = this.#raiseBound(open, prices, ROOT_ROUNDS, ROOT_SHARE);
    if (!this.#isBounded(root.bound.value)) {
      this.#searchLocally(open, root.bound, this.#pickRates);
      this.#pickRates = undefined;
      this.#explore(open, root.prices);
    }
    const finished = !this.#stopped;
    return {
      chosen: this.#best,
      value: this.#value,
      lowerBound: finished ? this.#value : Math.min(this.#value, this.#unsearched),
      finished,
      work: this.#work,
      prices: root.prices,
    };
  }

  /** Searches a node and all below it. */
  #explore(start: OpenOptions, startPrices: StationPrices): void {
    let open = start;
    let prices = startPrices;
    let bound: Bound;
    for (;;) {
      const raised = this.#raiseBound(open, prices, NODE_ROUNDS);
      bound = raised.bound;
      prices = raised.prices;
      if (this.#isBounded(bound.value)) return;
      const { value, reducedCosts } = bound;
      const pruned = prune(open, (slot, place) => this.#isBounded(value + reducedCosts[slot]![place]!));
      if (pruned === undefined) return;
      if (pruned === open) break;
      open = pruned;
    }
    const slot = this.#branchSlot(open);
    if (slot < 0) {
      this.#try(open.map((list) => list[0]!));
      return;
    }
    const branches = open[slot]!.map((option, place) => ({
      option,
      bound: bound.value + bound.reducedCosts[slot]![place]!,
    }));
    branches.sort((one, other) => one.bound - other.bound || one.option - other.option);
    for (const branch of branches) {
      if (this.#stopped) this.#unsearched = Math.min(this.#unsearched, branch.bound);
      if (this.#stopped || this.#isBounded(branch.bound)) continue;
      const child = fixOption(this.#model, open, slot, branch.option);
      if (child !== undefined) this.#explore(child, prices);
    }
  }

  /** Local search from the root's best guess, from what was picked most on the way to it, and from the best choice so far. */
  #searchLocally(open: OpenOptions, bound: Bound, pickRates: readonly Float64Array[]): void {
    const { slots } = this.#model;
    const totals = this.#totals;
    const starts = [open.map((list, slot) => list[bound.picks[slot]!]!)];
    if (this.#countsLoads) starts.push(pickRates.map((rates) => rates.indexOf(Math.max(...rates))));
    const best = this.#best ?? this.#options.warmStart;
    if (best !== undefined) starts.push([...best]);
    const workLimit = (this.#options.workLimit * LOCAL_SEARCH_SHARE) / starts.length / 2;
    const search = (chosen: number[], evaluate: typeof weightedValue): void => {
      this.#work += localSearch(
        this.#model,
        totals,
        chosen,
        () => evaluate(this.#objective, totals),
        workLimit,
      );
    };
    for (const chosen of starts) {
      if (!isCompatible(this.#model, chosen)) continue;
      for (let i = 0; i < slots.length; i++) totals.add(i, chosen[i]!);
      if (this.#objective.loadWeight > 0) search(chosen, smoothedValue);
      search(chosen, weightedValue);
      for (let i = slots.length - 1; i >= 0; i--) totals.remove(i, chosen[i]!);
      this.#try(chosen);
    }
  }

  /** Whether nothing better than the best value can be found where this bound holds. */
  #isBounded(bound: number): boolean {
    return bound >= this.#value - slackOf(this.#value);
  }

  /**
   * Raises the bound by better prices, and tries the choices met on the way. The prices move by the volume algorithm:
   * from the best so far, along a moving average of the loads of the choices met.
   *
   * @param share of the work limit at which to stop
   * @see F. Barahona, R. Anbil, The volume algorithm, Mathematical Programming 87, 385-399, 2000
   */
  #raiseBound(
    open: OpenOptions,
    start: StationPrices,
    rounds: number,
    share = 1,
  ): { readonly bound: Bound; readonly prices: StationPrices } {
    let best = this.#evaluate(open, start);
    let prices = start;
    if (!this.#countsLoads) return { bound: best, prices };
    const meanLoads = Float64Array.from(this.#totals.loads);
    let step = 1;
    let failures = 0;
    const workLimit = this.#options.workLimit * share;
    for (let round = 0; round < rounds && !this.#isBounded(best.value) && !this.#stopped; round++) {
      if (this.#work >= workLimit && share < 1) break;
      const next = movePrices(this.#objective, prices, meanLoads, this.#gapTo(best.value), step);
      if (next === undefined) break;
      const bound = this.#evaluate(open, next);
      for (let s = 0; s < meanLoads.length; s++)
        meanLoads[s]! += MEAN_STEP * (this.#totals.loads[s]! - meanLoads[s]!);
      this.#pickRates?.forEach((rates, slot) => {
        for (let p = 0; p < rates.length; p++) rates[p]! *= 1 - MEAN_STEP;
        rates[bound.picks[slot]!]! += MEAN_STEP;
      });
      if (bound.value > best.value) {
        best = bound;
        prices = next;
        failures = 0;
      } else if (++failures >= 4) {
        step *= 0.6;
        failures = 0;
      }
    }
    return { bound: best, prices };
  }

  /** From a bound to the best value, or a guess where none is known. */
  #gapTo(bound: number): number {
    return Number.isFinite(this.#value) ? this.#value - bound : Math.abs(bound) * 0.1 + 1;
  }

  #evaluate(open: OpenOptions, prices: StationPrices): Bound {
    for (const list of open) this.#work += list.length;
    const bound = this.#bound.at(open, prices);
    if (this.#work > this.#options.workLimit && !this.#stopped) {
      this.#stopped = true;
      this.#unsearched = Math.min(this.#unsearched, bound.value);
    }
    this.#try(open.map((list, slot) => list[bound.picks[slot]!]!));
    return bound;
  }

  /** Evaluates a choice exactly and keeps it when it is the best so far. `#totals.loads` are its loads afterwards. */
  #try(chosen: number[]): void {
    const totals = this.#totals;
    const { slots } = this.#model;
    for (let i = 0; i < slots.length; i++) totals.add(i, chosen[i]!);
    const value = weightedValue(this.#objective, totals);
    const isBest =
      value < this.#value - slackOf(this.#value) &&
      isCompatible(this.#model, chosen) &&
      this.#options.accept(chosen, totals);
    if (isBest) {
      this.#best = chosen;
      this.#value = value;
    }
    for (let i = slots.length - 1; i >= 0; i--) totals.remove(i, chosen[i]!);
  }

  /** The slot to branch on: the one whose options differ most; -1 when every slot is down to one option. */
  #branchSlot(open: OpenOptions): number {
    let best = -1;
    for (let i = 0; i < open.length; i++)
      if (open[i]!.length > 1 && (best < 0 || this.#spread[i]! > this.#spread[best]!)) best = i;
    return best;
  }

  #spreadOf(slot: number): number {
    const { options } = this.#model.slots[slot]!;
    const { costWeight, loadWeight } = this.#objective;
    const range = (values: readonly number[]): number => Math.max(...values) - Math.min(...values);
    const loadRanges = this.#model.stations.map((_, s) => range(options.map(({ loads }) => loads[s]!)));
    const costRange = range(options.map(({ cost }) => cost));
    return costWeight * costRange + (loadWeight || (this.#countsLoads ? 1 : 0)) * Math.max(0, ...loadRanges);
  }
}

/** Differences under this are rounding. */
function slackOf(value: number): number {
  return Number.isFinite(value) ? 1e-4 + 1e-13 * Math.abs(value) : 0;
}
