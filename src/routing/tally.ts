import { type ChoiceModel, type Option, type Share, wholeOf } from './choice-model.ts';

/** Running sums of a choice in the making: options are put in and taken out again in any order. */
export class Tally {
  readonly loads: Float64Array;
  readonly #model: ChoiceModel;
  readonly #own: Float64Array;
  readonly #amounts: Float64Array;
  readonly #uses: Int32Array;
  #ownCost = 0;
  #methods = 0;

  constructor(model: ChoiceModel) {
    this.#model = model;
    this.loads = new Float64Array(model.stations.length);
    this.#own = new Float64Array(model.stations.length);
    this.#amounts = new Float64Array(model.pools.length);
    this.#uses = new Int32Array(model.setUps.length);
  }

  put(option: Option): void {
    this.#take(option, 1);
    this.#methods += option.method;
    for (const index of option.setUps) {
      if (this.#uses[index]!++ === 0) this.#take(this.#model.setUps[index]!, 1);
    }
  }

  remove(option: Option): void {
    this.#take(option, -1);
    this.#methods -= option.method;
    for (const index of option.setUps) {
      if (--this.#uses[index]! === 0) this.#take(this.#model.setUps[index]!, -1);
    }
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
      const pool = pools[p]!;
      cost += count * pool.cost;
      for (let s = 0; s < loads.length; s++) loads[s]! += count * pool.loads[s]!;
    }
    return cost;
  }

  /** Sum of the methods' places in the catalog: settles ties for those listed first. */
  get methods(): number {
    return this.#methods;
  }

  #take(
    part: { readonly cost: number; readonly loads: readonly number[]; readonly shares: readonly Share[] },
    sign: 1 | -1,
  ): void {
    this.#ownCost += sign * part.cost;
    for (let s = 0; s < this.#own.length; s++) this.#own[s]! += sign * part.loads[s]!;
    for (const { pool, amount } of part.shares) this.#amounts[pool]! += sign * amount;
  }
}
