import type { ChoiceModel, Option, SetUp, Share } from '../model.ts';
import { TIE_BREAK_COST } from '../objective.ts';
import type { SparseLoads, SparseModel } from '../sparse-loads.ts';
import { type ConflictPiece, conflictPieces } from './compatible-sets.ts';
import { conflictBound } from './conflict-bound.ts';
import { COST_SLACK, dualAscent } from './dual-ascent.ts';
import type { OpenOptions } from './open-options.ts';
import { singleUnitPools } from './single-unit-pools.ts';
import type { StationPrices } from './station-prices.ts';
import type { WeightedObjective } from './weighted-objective.ts';

/** A lower bound on every choice within a node. */
export type Bound = {
  readonly value: number;
  /** by slot, by place in the node's list: forcing the option raises the bound by at least this. */
  readonly reducedCosts: readonly Float64Array[];
  /** place of the least reduced cost, by slot; compatible on every conflict piece. */
  readonly picks: Int32Array;
};

/**
 * A lower bound by Lagrangian relaxation and dual ascent. The maximum over the stations is replaced by a sum weighted with
 * their prices, and whole sheets and batches by the fractions taken of them (or, where all fractions together are at most
 * one, by one whole as soon as any is taken). Set-ups are fixed costs, paid by bids of the slots that could use them.
 */
export class LagrangianBound {
  readonly #model: ChoiceModel;
  readonly #sparse: SparseModel;
  readonly #objective: WeightedObjective;
  readonly #conflicts: readonly ConflictPiece[];
  /** pools treated as a set-up rather than by fractions. */
  readonly #singleUnit: Uint8Array;
  /** by slot, by option: indexes of its fixed costs, set-ups first, then single-unit pools. */
  readonly #fixedCosts: readonly (readonly (readonly number[])[])[];
  /** starts of the stations that every choice loads; 0 for the others. */
  readonly #starts: Float64Array;
  /** price of a millisecond of each station. */
  readonly #rates: Float64Array;
  /** the fixed costs, and what is left of them to bid for. */
  readonly #fixed: Float64Array;
  readonly #left: Float64Array;
  readonly #poolCosts: Float64Array;

  constructor(model: ChoiceModel, sparse: SparseModel, objective: WeightedObjective) {
    this.#model = model;
    this.#sparse = sparse;
    this.#objective = objective;
    this.#conflicts = conflictPieces(model);
    this.#singleUnit = singleUnitPools(model);
    this.#fixedCosts = model.slots.map(({ options }) => options.map((option) => this.#fixedCostsOf(option)));
    this.#starts = Float64Array.from(model.stations, (_, s) =>
      model.slots.some(({ options }) => options.every(({ loads }) => loads[s]! > 0))
        ? (objective.startsMs?.[s] ?? 0)
        : 0,
    );
    this.#rates = new Float64Array(model.stations.length);
    const fixedCount = model.setUps.length + model.pools.length;
    this.#fixed = new Float64Array(fixedCount);
    this.#left = new Float64Array(fixedCount);
    this.#poolCosts = new Float64Array(model.pools.length);
  }

  /** The bound of a node at these prices. The work grows with the number of open options times the set-ups of each. */
  at(open: OpenOptions, prices: StationPrices): Bound {
    const { slots } = this.#model;
    this.#setPrices(prices);
    this.#left.set(this.#fixed);
    const costs: Float64Array[] = new Array(slots.length);
    const duals = new Float64Array(slots.length);
    for (let i = 0; i < slots.length; i++) {
      const { options } = slots[i]!;
      const list = open[i]!;
      const cost = new Float64Array(list.length);
      let least = Number.POSITIVE_INFINITY;
      for (let p = 0; p < list.length; p++) {
        cost[p] = this.#optionCost(i, list[p]!, options[list[p]!]!);
        if (cost[p]! < least) least = cost[p]!;
      }
      costs[i] = cost;
      duals[i] = least;
    }
    dualAscent(open, costs, duals, this.#left, this.#fixedCosts);
    return this.#boundOf(open, costs, duals, prices);
  }

  #boundOf(
    open: OpenOptions,
    costs: readonly Float64Array[],
    duals: Float64Array,
    prices: StationPrices,
  ): Bound {
    const { slots } = this.#model;
    const { loadWeight, capacityMs } = this.#objective;
    let value = 0;
    const picks = new Int32Array(costs.length);
    for (let i = 0; i < costs.length; i++) {
      value += duals[i]!;
      const cost = costs[i]!;
      const list = open[i]!;
      let best = 0;
      let bestLeft = Number.POSITIVE_INFINITY;
      for (let p = 0; p < cost.length; p++) {
        cost[p]! -= duals[i]!;
        if (cost[p]! > COST_SLACK) continue;
        // Of equals the one whose fixed costs are paid for already.
        let left = cost[p]!;
        for (const k of this.#fixedCosts[i]![list[p]!]!) left += this.#left[k]!;
        if (left < bestLeft) {
          bestLeft = left;
          best = p;
        }
      }
      picks[i] = best;
    }
    for (const piece of this.#conflicts) value += conflictBound(slots, piece, open, costs, picks);
    for (let s = 0; s < prices.share.length; s++) {
      value += loadWeight * prices.share[s]! * this.#starts[s]!;
      if (capacityMs !== undefined && prices.penalty[s]! > 0) value -= prices.penalty[s]! * capacityMs[s]!;
    }
    return { value, reducedCosts: costs, picks };
  }

  #setPrices({ share, penalty }: StationPrices): void {
    const { setUps, pools } = this.#model;
    for (let s = 0; s < share.length; s++)
      this.#rates[s] = this.#objective.loadWeight * share[s]! + penalty[s]!;
    for (let p = 0; p < pools.length; p++)
      this.#poolCosts[p] = this.#priced(pools[p]!.cost, this.#sparse.pools[p]!);
    for (let k = 0; k < setUps.length; k++) {
      const setUp = setUps[k]!;
      this.#fixed[k] = this.#priced(setUp.cost, this.#sparse.setUps[k]!) + this.#fractions(setUp.shares);
    }
    for (let p = 0; p < pools.length; p++)
      this.#fixed[setUps.length + p] = this.#singleUnit[p] === 1 ? this.#poolCosts[p]! : 0;
  }

  /** What an option adds by itself, without its fixed costs. */
  #optionCost(slot: number, index: number, option: Option): number {
    const loads = this.#sparse.options[slot]![index]!;
    return this.#priced(option.cost + TIE_BREAK_COST * option.method, loads) + this.#fractions(option.shares);
  }

  #priced(cost: number, { stations, loads }: SparseLoads): number {
    let sum = this.#objective.costWeight * cost;
    for (let i = 0; i < stations.length; i++) sum += this.#rates[stations[i]!]! * loads[i]!;
    return sum;
  }

  #fractions(shares: readonly Share[]): number {
    let sum = 0;
    for (const { pool, amount } of shares)
      if (this.#singleUnit[pool] === 0) sum += amount * this.#poolCosts[pool]!;
    return sum;
  }

  #fixedCostsOf(option: Option): number[] {
    const { setUps } = this.#model;
    const indexes = new Set(option.setUps);
    const addPools = ({ shares }: Option | SetUp): void => {
      for (const { pool } of shares) if (this.#singleUnit[pool] === 1) indexes.add(setUps.length + pool);
    };
    addPools(option);
    for (const k of option.setUps) addPools(setUps[k]!);
    return [...indexes];
  }
}
