import { type Piece, piecesWithConflicts } from './compatible-methods.ts';
import type { ChoiceModel, Option, SetUp, Share } from './model.ts';
import { PLACE_COST } from './objective.ts';
import { type SparseLoads, type SparseModel, sparseModel } from './sparse-loads.ts';

/**
 * What a search minimizes: `costWeight · cost + loadWeight · max over stations of (start + load)`, with loads held under
 * capacities. Starts count only where every choice loads the station.
 */
export type Weighing = {
  readonly costWeight: number;
  readonly loadWeight: number;
  readonly startsMs: readonly number[] | undefined;
  readonly capacityMs: readonly number[] | undefined;
};

/** Prices on the stations' time: `share[s]` of the load weight (they add up to 1) and `penalty[s]` on loads over capacity. */
export type StationPrices = { readonly share: Float64Array; readonly penalty: Float64Array };

/** A lower bound on every choice within a node, and what each option adds to it. */
export type Bound = {
  readonly value: number;
  /** by slot, by position in the node's list: forcing the option raises the bound by at least this. */
  readonly regrets: readonly Float64Array[];
  /** position of the least regret, by slot; goes together on every piece whose modes are known. */
  readonly pick: Int32Array;
};

/** Options still open: option indexes by slot. */
export type Open = readonly (readonly number[])[];

/**
 * A lower bound by Lagrangian relaxation and dual ascent. The stations' maximum is replaced by the prices' weighted sum,
 * whole sheets and batches by the parts taken of them (or, where all parts together are at most one whole, by one whole
 * as soon as any is taken), and each set-up is paid for by bids of the slots that could use it: bids of all slots on a
 * set-up never exceed its cost, so what the slots pay is never more than what a choice really costs.
 */
export class LagrangianBound {
  readonly #model: ChoiceModel;
  readonly #weighing: Weighing;
  /** pools taken as a set-up rather than by parts. */
  readonly #wholePools: Uint8Array;
  /** set-ups and whole pools: effective cost at the current prices. */
  readonly #fixed: Float64Array;
  readonly #left: Float64Array;
  readonly #poolCost: Float64Array;
  readonly #sparse: SparseModel;
  readonly #pieces: readonly Piece[];
  /** price of a millisecond of each station. */
  readonly #rates: Float64Array;
  /** starts of the stations that every choice loads; 0 for the others. */
  readonly #starts: Float64Array;
  /** by slot, by option: set-ups and whole pools it needs. */
  readonly #needs: readonly (readonly (readonly number[])[])[];

  constructor(model: ChoiceModel, weighing: Weighing) {
    this.#model = model;
    this.#weighing = weighing;
    this.#wholePools = wholePools(model);
    const fixed = model.setUps.length + model.pools.length;
    this.#fixed = new Float64Array(fixed);
    this.#left = new Float64Array(fixed);
    this.#poolCost = new Float64Array(model.pools.length);
    this.#starts = Float64Array.from(model.stations, (_, s) =>
      model.slots.some(({ options }) => options.every(({ loads }) => loads[s]! > 0))
        ? (weighing.startsMs?.[s] ?? 0)
        : 0,
    );
    this.#sparse = sparseModel(model);
    this.#rates = new Float64Array(model.stations.length);
    this.#pieces = piecesWithConflicts(model);
    this.#needs = model.slots.map(({ options }) => options.map((option) => this.#needsOf(option)));
  }

  /** The bound of a node at these prices. Work is about the number of open options times the set-ups of each. */
  at(open: Open, prices: StationPrices): Bound {
    const { slots } = this.#model;
    this.#price(prices);
    this.#left.set(this.#fixed);
    const regrets: Float64Array[] = new Array(slots.length);
    const pay = new Float64Array(slots.length);
    for (let i = 0; i < slots.length; i++) {
      const { options } = slots[i]!;
      const list = open[i]!;
      const costs = new Float64Array(list.length);
      let least = Number.POSITIVE_INFINITY;
      for (let p = 0; p < list.length; p++) {
        costs[p] = this.#effective(i, list[p]!, options[list[p]!]!);
        if (costs[p]! < least) least = costs[p]!;
      }
      regrets[i] = costs;
      pay[i] = least;
    }
    this.#ascend(open, regrets, pay);
    return this.#finish(open, regrets, pay, prices);
  }

  /** Slots raise what they pay, a level at a time, and bid on the set-ups of the options that would become cheaper. */
  #ascend(open: Open, costs: readonly Float64Array[], pay: Float64Array): void {
    const slotCount = costs.length;
    for (let round = 0; round < ASCENT_ROUNDS; round++) {
      let raised = false;
      for (let i = 0; i < slotCount; i++) {
        const list = open[i]!;
        const cost = costs[i]!;
        const now = pay[i]!;
        // Up to the next level, but no further than the set-ups of the options at or under it can take up.
        let next = Number.POSITIVE_INFINITY;
        let room = Number.POSITIVE_INFINITY;
        for (let p = 0; p < list.length; p++) {
          const over = cost[p]! - now;
          if (over > LEVEL) {
            if (cost[p]! < next) next = cost[p]!;
          } else {
            let left = 0;
            for (const k of this.#needs[i]![list[p]!]!) left += this.#left[k]!;
            if (left + over < room) room = left + over;
          }
        }
        const by = Math.min(next - now, room);
        if (!(by > LEVEL) || by === Number.POSITIVE_INFINITY) continue;
        const target = now + by;
        let reached = target;
        for (let p = 0; p < list.length; p++) {
          let missing = target - cost[p]!;
          if (missing <= 0) continue;
          for (const k of this.#needs[i]![list[p]!]!) {
            const bid = Math.min(missing, this.#left[k]!);
            this.#left[k]! -= bid;
            missing -= bid;
            if (missing <= 0) break;
          }
          // Two options of a slot may draw on the same set-up: then less is reached than there was room for.
          cost[p] = target - Math.max(0, missing);
          reached = Math.min(reached, cost[p]!);
        }
        pay[i] = Math.max(now, reached);
        raised = true;
      }
      if (!raised) return;
    }
  }

  #finish(open: Open, costs: readonly Float64Array[], pay: Float64Array, prices: StationPrices): Bound {
    const { loadWeight, capacityMs } = this.#weighing;
    let value = 0;
    const pick = new Int32Array(costs.length);
    for (let i = 0; i < costs.length; i++) {
      value += pay[i]!;
      const cost = costs[i]!;
      const list = open[i]!;
      let best = 0;
      let bestLeft = Number.POSITIVE_INFINITY;
      for (let p = 0; p < cost.length; p++) {
        cost[p]! -= pay[i]!;
        if (cost[p]! > LEVEL) continue;
        // Of equals the one whose set-ups are paid for already.
        let left = cost[p]!;
        for (const k of this.#needs[i]![list[p]!]!) left += this.#left[k]!;
        if (left < bestLeft) {
          bestLeft = left;
          best = p;
        }
      }
      pick[i] = best;
    }
    for (const piece of this.#pieces) value += this.#together(piece, open, costs, pick);
    for (let s = 0; s < prices.share.length; s++) {
      value += loadWeight * prices.share[s]! * this.#starts[s]!;
      if (capacityMs !== undefined && prices.penalty[s]! > 0) value -= prices.penalty[s]! * capacityMs[s]!;
    }
    return { value, regrets: costs, pick };
  }

  /**
   * A piece must be made in one of its modes: what the best of them adds to the slots' least is added to the bound, and
   * each option's regret becomes that of the best mode that has it. Infinity when no mode is left open.
   */
  #together(piece: Piece, open: Open, regrets: readonly Float64Array[], pick: Int32Array): number {
    const { slots: all } = this.#model;
    const { slots, modes } = piece;
    const least = slots.map(() => new Float64Array(modes.length));
    const totals = new Float64Array(modes.length);
    modes.forEach((mode, q) => {
      slots.forEach((slot, index) => {
        const { options } = all[slot]!;
        const list = open[slot]!;
        let best = Number.POSITIVE_INFINITY;
        for (let p = 0; p < list.length; p++)
          if (mode[options[list[p]!]!.method]! && regrets[slot]![p]! < best) best = regrets[slot]![p]!;
        least[index]![q] = best;
        totals[q]! += best;
      });
    });
    let bestMode = 0;
    for (let q = 1; q < modes.length; q++) if (totals[q]! < totals[bestMode]!) bestMode = q;
    const added = totals[bestMode]!;
    if (added === Number.POSITIVE_INFINITY) return added;
    slots.forEach((slot, index) => {
      const { options } = all[slot]!;
      const list = open[slot]!;
      const own = regrets[slot]!;
      let pickLeft = Number.POSITIVE_INFINITY;
      for (let p = 0; p < list.length; p++) {
        const { method } = options[list[p]!]!;
        let best = Number.POSITIVE_INFINITY;
        for (let q = 0; q < modes.length; q++)
          if (modes[q]![method]!) best = Math.min(best, totals[q]! - least[index]![q]!);
        if (modes[bestMode]![method]! && own[p]! < pickLeft) {
          pickLeft = own[p]!;
          pick[slot] = p;
        }
        own[p] = own[p]! + best - added;
      }
    });
    return added;
  }

  #price({ share, penalty }: StationPrices): void {
    const { setUps, pools } = this.#model;
    for (let s = 0; s < share.length; s++)
      this.#rates[s] = this.#weighing.loadWeight * share[s]! + penalty[s]!;
    for (let p = 0; p < pools.length; p++)
      this.#poolCost[p] = this.#flat(pools[p]!.cost, this.#sparse.pools[p]!);
    for (let k = 0; k < setUps.length; k++) {
      const setUp = setUps[k]!;
      this.#fixed[k] = this.#flat(setUp.cost, this.#sparse.setUps[k]!) + this.#parts(setUp.shares);
    }
    for (let p = 0; p < pools.length; p++)
      this.#fixed[setUps.length + p] = this.#wholePools[p] === 1 ? this.#poolCost[p]! : 0;
  }

  #effective(slot: number, index: number, option: Option): number {
    const loads = this.#sparse.options[slot]![index]!;
    return this.#flat(option.cost + PLACE_COST * option.method, loads) + this.#parts(option.shares);
  }

  #flat(cost: number, { stations, loads }: SparseLoads): number {
    let sum = this.#weighing.costWeight * cost;
    for (let i = 0; i < stations.length; i++) sum += this.#rates[stations[i]!]! * loads[i]!;
    return sum;
  }

  #parts(shares: readonly Share[]): number {
    let sum = 0;
    for (const { pool, amount } of shares)
      if (this.#wholePools[pool] === 0) sum += amount * this.#poolCost[pool]!;
    return sum;
  }

  #needsOf(option: Option): number[] {
    const { setUps } = this.#model;
    const needs = new Set(option.setUps);
    const addPools = (part: Option | SetUp): void => {
      for (const { pool } of part.shares) if (this.#wholePools[pool] === 1) needs.add(setUps.length + pool);
    };
    addPools(option);
    for (const k of option.setUps) addPools(setUps[k]!);
    return [...needs];
  }
}

/** Rounds of raising; the bound is sound after any number of them. */
const ASCENT_ROUNDS = 12;
/** Differences of effective cost under this are none. */
const LEVEL = 1e-6;

/** Pools of which all slots together, each at its greediest, take no more than one whole. */
function wholePools(model: ChoiceModel): Uint8Array {
  const most = new Float64Array(model.pools.length);
  const seen = new Set<number>();
  const mostOf = (options: readonly Option[], pool: number): number => {
    let amount = 0;
    for (const option of options)
      for (const share of option.shares) if (share.pool === pool) amount = Math.max(amount, share.amount);
    return amount;
  };
  for (const { options } of model.slots) {
    const pools = new Set(options.flatMap(({ shares }) => shares.map(({ pool }) => pool)));
    for (const pool of pools) most[pool]! += mostOf(options, pool);
    for (const { setUps } of options)
      for (const k of setUps) {
        if (seen.has(k)) continue;
        seen.add(k);
        for (const { pool, amount } of model.setUps[k]!.shares) most[pool]! += amount;
      }
  }
  return Uint8Array.from(most, (amount) => (amount <= 1 + 1e-9 ? 1 : 0));
}
