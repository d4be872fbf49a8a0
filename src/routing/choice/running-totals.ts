import { type ChoiceModel, type Share, wholeOf } from './model.ts';
import { type SparseLoads, type SparseModel, sparseModel } from './sparse-loads.ts';

/** Running sums of a choice in the making: options are put in and taken out again in any order. */
export class RunningTotals {
  readonly loads: Float64Array;
  readonly #model: ChoiceModel;
  readonly #sparse: SparseModel;
  readonly #own: Float64Array;
  readonly #amounts: Float64Array;
  readonly #uses: Int32Array;
  #ownCost = 0;
  #methods = 0;

  constructor(model: ChoiceModel) {
    this.#model = model;
    this.#sparse = sparseModel(model);
    this.loads = new Float64Array(model.stations.length);
    this.#own = new Float64Array(model.stations.length);
    this.#amounts = new Float64Array(model.pools.length);
    this.#uses = new Int32Array(model.setUps.length);
  }

  /** Puts in a slot's option. */
  put(slot: number, option: number): void {
    const part = this.#model.slots[slot]!.options[option]!;
    this.#take(part, this.#sparse.options[slot]![option]!, 1);
    this.#methods += part.method;
    for (const index of part.setUps) if (this.#uses[index]!++ === 0) this.#setUp(index, 1);
  }

  /** Takes a slot's option out again. */
  remove(slot: number, option: number): void {
    const part = this.#model.slots[slot]!.options[option]!;
    this.#take(part, this.#sparse.options[slot]![option]!, -1);
    this.#methods -= part.method;
    for (const index of part.setUps) if (--this.#uses[index]! === 0) this.#setUp(index, -1);
  }

  /** Works the sums out with whole sheets and batches: `loads` is set, the cost returned. */
  settle(): number {
    const { pools } = this.#model;
    const { loads } = this;
    loads.set(this.#own);
    let cost = this.#ownCost;
    for (let p = 0; p < pools.length; p++) {
      const count = wholeOf(this.#amounts[p]!);
      if (count <= 0) continue;
      cost += count * pools[p]!.cost;
      const { stations, loads: each } = this.#sparse.pools[p]!;
      for (let i = 0; i < stations.length; i++) loads[stations[i]!]! += count * each[i]!;
    }
    return cost;
  }

  /** Sum of the methods' places in the catalog: settles ties for those listed first. */
  get methods(): number {
    return this.#methods;
  }

  #setUp(index: number, sign: 1 | -1): void {
    this.#take(this.#model.setUps[index]!, this.#sparse.setUps[index]!, sign);
  }

  #take(
    part: { readonly cost: number; readonly shares: readonly Share[] },
    { stations, loads }: SparseLoads,
    sign: 1 | -1,
  ): void {
    this.#ownCost += sign * part.cost;
    for (let i = 0; i < stations.length; i++) this.#own[stations[i]!]! += sign * loads[i]!;
    for (const { pool, amount } of part.shares) this.#amounts[pool]! += sign * amount;
  }
}
