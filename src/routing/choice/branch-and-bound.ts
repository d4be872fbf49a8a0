import {
  type Bound,
  LagrangianBound,
  type Open,
  type StationPrices,
  type Weighing,
} from './lagrangian-bound.ts';
import { localSearch } from './local-search.ts';
import type { ChoiceModel } from './model.ts';
import { PLACE_COST } from './objective.ts';
import { RunningTotals } from './running-totals.ts';

/** What a search found. */
export type SearchResult = {
  /** the best choice with a value under the start's; absent: there is none. */
  readonly chosen: readonly number[] | undefined;
  readonly value: number;
  /** no choice has a value under this. Equal to `value`, but for rounding, when the search went through. */
  readonly lower: number;
  readonly finished: boolean;
  /** options looked at: what of the work limit is used up. */
  readonly work: number;
  /** prices of the stations' time with the best bound at the root. */
  readonly prices: StationPrices;
};

/** How a search is run. */
export type SearchRun = {
  /** only choices with a value under this are wanted. */
  readonly under: number;
  /** options to look at before giving up; a count, not a clock, so that the same slip gets the same answer anywhere. */
  readonly workLimit: number;
  /** a choice within capacities and better than all before; false: not to be had (its day is too late). */
  readonly accept: (chosen: readonly number[], tally: RunningTotals) => boolean;
  /** prices to start from, such as those of a search that weighed a little differently. */
  readonly prices?: StationPrices | undefined;
  /** a choice to improve on. */
  readonly from?: readonly number[] | undefined;
};

/**
 * Depth-first branch and bound over slots × options. At every node a dual bound is worked out; options whose regret
 * lifts it over the best value known are struck out; then the slot whose open options differ most is split.
 *
 * Exact: a node is left only when its bound, which no choice within it undercuts, is not under the best value known, or
 * when a single choice is left, which is worked out exactly.
 */
export function branchAndBound(model: ChoiceModel, weighing: Weighing, run: SearchRun): SearchResult {
  return new Search(model, weighing, run).result();
}

class Search {
  readonly #model: ChoiceModel;
  readonly #weighing: Weighing;
  readonly #run: SearchRun;
  readonly #bound: LagrangianBound;
  readonly #tally: RunningTotals;
  readonly #spread: Float64Array;
  readonly #stationCount: number;
  readonly #priced: boolean;
  /** how often each option was picked lately, at the root. */
  #mean: Float64Array[] | undefined;
  #best: number[] | undefined;
  #value: number;
  #work = 0;
  #stopped = false;
  /** least bound of what was not searched. */
  #unsearched = Number.POSITIVE_INFINITY;

  constructor(model: ChoiceModel, weighing: Weighing, run: SearchRun) {
    this.#model = model;
    this.#weighing = weighing;
    this.#run = run;
    this.#bound = new LagrangianBound(model, weighing);
    this.#tally = new RunningTotals(model);
    this.#value = run.under;
    this.#stationCount = model.stations.length;
    this.#priced = weighing.loadWeight > 0 || weighing.capacityMs !== undefined;
    this.#spread = Float64Array.from(model.slots, (_, slot) => this.#spreadOf(slot));
  }

  result(): SearchResult {
    const open = this.#model.slots.map(({ options }) => options.map((_, index) => index));
    this.#mean = open.map(({ length }) => new Float64Array(length));
    const { prices, from } = this.#run;
    const root = this.#tighten(open, prices ?? this.#startPrices(), ROOT_ROUNDS, ROOT_PART);
    if (!this.#done(root.bound.value)) {
      this.#improve(open, root.bound, this.#mean, from);
      this.#mean = undefined;
      this.#node(open, root.prices, NODE_ROUNDS);
    }
    const finished = !this.#stopped;
    return {
      chosen: this.#best,
      value: this.#value,
      lower: finished ? this.#value : Math.min(this.#value, this.#unsearched),
      finished,
      work: this.#work,
      prices: root.prices,
    };
  }

  #node(start: Open, from: StationPrices, rounds: number): void {
    let open = start;
    let prices = from;
    let bound: Bound | undefined;
    for (;;) {
      const found = this.#tighten(open, prices, rounds);
      bound = found.bound;
      prices = found.prices;
      if (this.#done(bound.value)) return;
      const less = this.#strike(open, bound);
      if (less === undefined) return;
      const struck = less !== open;
      open = less;
      if (!struck) break;
    }
    const split = this.#splitOn(open);
    if (split < 0) {
      this.#try(open.map((list) => list[0]!));
      return;
    }
    const regrets = bound.regrets[split]!;
    const order = open[split]!.map((option, place) => ({ option, regret: regrets[place]! })).sort(
      (one, other) => one.regret - other.regret || one.option - other.option,
    );
    for (const { option, regret } of order) {
      if (this.#stopped || this.#done(bound.value + regret)) {
        if (this.#stopped) this.#unsearched = Math.min(this.#unsearched, bound.value + regret);
        continue;
      }
      const child = this.#fixed(open, split, option);
      if (child !== undefined) this.#node(child, prices, NODE_ROUNDS);
    }
  }

  /**
   * Local search from the root's best guess, from what was picked most on the way to it, and from the best choice so
   * far. The maximum of the loads is a poor guide, since most steps leave it as it is: their 8-norm leads first.
   */
  #improve(
    open: Open,
    bound: Bound,
    mean: readonly Float64Array[],
    from: readonly number[] | undefined,
  ): void {
    const { slots } = this.#model;
    const starts = [open.map((list, slot) => list[bound.pick[slot]!]!)];
    if (this.#priced) starts.push(mean.map((often) => often.indexOf(Math.max(...often))));
    const best = this.#best ?? from;
    if (best !== undefined) starts.push([...best]);
    const part = (this.#run.workLimit * IMPROVE_PART) / starts.length / 2;
    for (const chosen of starts) {
      if (!this.#together(chosen)) continue;
      for (let i = 0; i < slots.length; i++) this.#tally.put(i, chosen[i]!);
      if (this.#weighing.loadWeight > 0)
        this.#work += localSearch(this.#model, this.#tally, chosen, () => this.#smoothValue(), part);
      this.#work += localSearch(this.#model, this.#tally, chosen, () => this.#valueOf(), part);
      for (let i = slots.length - 1; i >= 0; i--) this.#tally.remove(i, chosen[i]!);
      this.#try(chosen);
    }
  }

  /** The value with the 8-norm of the loads in place of their maximum. */
  #smoothValue(): number {
    const tally = this.#tally;
    const { costWeight, loadWeight, startsMs } = this.#weighing;
    const cost = tally.settle() + PLACE_COST * tally.methods;
    const { loads } = tally;
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

  /** Whether nothing under the best value can be found where this bound holds. */
  #done(bound: number): boolean {
    return bound >= this.#value - slackOf(this.#value);
  }

  /**
   * Raises the bound by better prices, and tries the choices met on the way. The prices move by the volume algorithm:
   * from the best so far, along the mean of the loads of the choices met, the later ones weighing more.
   *
   * @see F. Barahona, R. Anbil, The volume algorithm, Mathematical Programming 87, 385-399, 2000
   */
  #tighten(
    open: Open,
    start: StationPrices,
    rounds: number,
    part = 1,
  ): { readonly bound: Bound; readonly prices: StationPrices } {
    let best = this.#evaluate(open, start);
    let prices = start;
    if (!this.#priced) return { bound: best, prices };
    const mean = Float64Array.from(this.#tally.loads);
    let step = 1;
    let worse = 0;
    const until = this.#run.workLimit * part;
    for (let round = 0; round < rounds && !this.#done(best.value) && !this.#stopped; round++) {
      if (this.#work >= until && part < 1) break;
      const next = this.#moved(prices, mean, best.value, step);
      if (next === undefined) break;
      const bound = this.#evaluate(open, next);
      for (let s = 0; s < mean.length; s++) mean[s]! += MEAN_STEP * (this.#tally.loads[s]! - mean[s]!);
      this.#mean?.forEach((often, slot) => {
        for (let p = 0; p < often.length; p++) often[p]! *= 1 - MEAN_STEP;
        often[bound.pick[slot]!]! += MEAN_STEP;
      });
      if (bound.value > best.value) {
        best = bound;
        prices = next;
        worse = 0;
      } else if (++worse >= 4) {
        step *= 0.6;
        worse = 0;
      }
    }
    return { bound: best, prices };
  }

  #evaluate(open: Open, prices: StationPrices): Bound {
    for (const list of open) this.#work += list.length;
    const bound = this.#bound.at(open, prices);
    if (this.#work > this.#run.workLimit && !this.#stopped) {
      this.#stopped = true;
      this.#unsearched = Math.min(this.#unsearched, bound.value);
    }
    this.#try(open.map((list, slot) => list[bound.pick[slot]!]!));
    return bound;
  }

  /** Works a choice out exactly, and keeps it when it is the best so far. `#tally` holds its loads afterwards. */
  #try(chosen: number[]): void {
    const tally = this.#tally;
    const { slots } = this.#model;
    for (let i = 0; i < slots.length; i++) tally.put(i, chosen[i]!);
    const value = this.#valueOf();
    if (value < this.#value - slackOf(this.#value) && this.#together(chosen)) {
      if (this.#run.accept(chosen, tally)) {
        this.#best = chosen;
        this.#value = value;
      }
    }
    for (let i = slots.length - 1; i >= 0; i--) tally.remove(i, chosen[i]!);
  }

  #valueOf(): number {
    const tally = this.#tally;
    const { costWeight, loadWeight, startsMs, capacityMs } = this.#weighing;
    const cost = tally.settle() + PLACE_COST * tally.methods;
    let most = 0;
    for (let s = 0; s < this.#stationCount; s++) {
      const load = tally.loads[s]!;
      if (capacityMs !== undefined && load > capacityMs[s]! + 1e-3) return Number.POSITIVE_INFINITY;
      if (load > 0) most = Math.max(most, (startsMs?.[s] ?? 0) + load);
    }
    return costWeight * cost + loadWeight * Math.max(most, loadWeight > 0 ? 1 : 0);
  }

  #together(chosen: readonly number[]): boolean {
    const { slots, apart } = this.#model;
    for (let i = 0; i < slots.length; i++) {
      const { method } = slots[i]!.options[chosen[i]!]!;
      for (let k = i + 1; k < slots.length && slots[k]!.line === slots[i]!.line; k++)
        if (apart[method]![slots[k]!.options[chosen[k]!]!.method]!) return false;
    }
    return true;
  }

  /** Leaves out options whose regret lifts the bound to the best value; undefined when a slot has none left. */
  #strike(open: Open, bound: Bound): Open | undefined {
    let less: (readonly number[])[] | undefined;
    for (let i = 0; i < open.length; i++) {
      const list = open[i]!;
      if (list.length === 1) continue;
      const regrets = bound.regrets[i]!;
      let kept = 0;
      for (let p = 0; p < list.length; p++) if (!this.#done(bound.value + regrets[p]!)) kept++;
      if (kept === list.length) continue;
      if (kept === 0) return undefined;
      less ??= [...open];
      less[i] = list.filter((_, p) => !this.#done(bound.value + regrets[p]!));
    }
    return less ?? open;
  }

  /** The slot to split: the one whose options differ most; -1 when every slot is down to one option. */
  #splitOn(open: Open): number {
    let best = -1;
    for (let i = 0; i < open.length; i++)
      if (open[i]!.length > 1 && (best < 0 || this.#spread[i]! > this.#spread[best]!)) best = i;
    return best;
  }

  #spreadOf(slot: number): number {
    const { options } = this.#model.slots[slot]!;
    const { costWeight, loadWeight } = this.#weighing;
    const width = (of: (option: (typeof options)[number]) => number): number => {
      const values = options.map(of);
      return Math.max(...values) - Math.min(...values);
    };
    let load = 0;
    for (let s = 0; s < this.#stationCount; s++)
      load = Math.max(
        load,
        width(({ loads }) => loads[s]!),
      );
    return costWeight * width(({ cost }) => cost) + (loadWeight || (this.#priced ? 1 : 0)) * load;
  }

  /** The node with a slot's option fixed, and what may not be on the same piece struck out; undefined: impossible. */
  #fixed(open: Open, slot: number, option: number): Open | undefined {
    const { slots, apart } = this.#model;
    const { line, options } = slots[slot]!;
    const { method } = options[option]!;
    const child = [...open];
    child[slot] = [option];
    for (let i = 0; i < slots.length; i++) {
      if (i === slot || slots[i]!.line !== line) continue;
      const kept = open[i]!.filter((index) => !apart[method]![slots[i]!.options[index]!.method]!);
      if (kept.length === 0) return undefined;
      if (kept.length < open[i]!.length) child[i] = kept;
    }
    return child;
  }

  #startPrices(): StationPrices {
    const share = new Float64Array(this.#stationCount);
    const penalty = new Float64Array(this.#stationCount);
    if (this.#weighing.loadWeight > 0) share.fill(1 / Math.max(1, this.#stationCount));
    return { share, penalty };
  }

  /** Prices moved along a direction of loads: up where it is high, by a step of Polyak's length to the best value. */
  #moved(prices: StationPrices, loads: Float64Array, bound: number, step: number): StationPrices | undefined {
    const { loadWeight, startsMs, capacityMs } = this.#weighing;
    const gap = Number.isFinite(this.#value) ? this.#value - bound : Math.abs(bound) * 0.1 + 1;
    const share = new Float64Array(prices.share);
    const penalty = new Float64Array(prices.penalty);
    let norm = 0;
    let mean = 0;
    for (let s = 0; s < this.#stationCount; s++) mean += (startsMs?.[s] ?? 0) + loads[s]!;
    mean /= Math.max(1, this.#stationCount);
    const slopes = new Float64Array(this.#stationCount);
    const overs = new Float64Array(this.#stationCount);
    for (let s = 0; s < this.#stationCount; s++) {
      if (loadWeight > 0) slopes[s] = loadWeight * ((startsMs?.[s] ?? 0) + loads[s]! - mean);
      if (capacityMs !== undefined) {
        const over = loads[s]! - capacityMs[s]!;
        overs[s] = over > 0 || penalty[s]! > 0 ? over : 0;
      }
      norm += slopes[s]! ** 2 + overs[s]! ** 2;
    }
    if (norm === 0 || !(gap > 0)) return undefined;
    const by = (step * gap) / norm;
    for (let s = 0; s < this.#stationCount; s++) {
      if (loadWeight > 0) share[s]! += by * slopes[s]!;
      penalty[s] = Math.max(0, penalty[s]! + by * overs[s]!);
    }
    if (loadWeight > 0) toSimplex(share);
    return { share, penalty };
  }
}

const HOUR_MS = 3_600_000;
/** Moves of the prices at the root and at every other node. */
const ROOT_ROUNDS = 120;
const NODE_ROUNDS = 6;
/** Parts of the work limit that the root's prices and local search may take. */
const ROOT_PART = 0.4;
const IMPROVE_PART = 0.4;
/** Weight of the latest choice in the mean. */
const MEAN_STEP = 0.2;

/** Differences under this are rounding. */
function slackOf(value: number): number {
  return Number.isFinite(value) ? 1e-4 + 1e-13 * Math.abs(value) : 0;
}

/** The nearest point whose members are 0 or more and add up to 1. */
function toSimplex(point: Float64Array): void {
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
