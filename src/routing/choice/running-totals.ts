import { type ChoiceModel, type Share, wholeUnits } from './model.ts';
import { type SparseLoads, type SparseModel, sparseModel } from './sparse-loads.ts';

/** Running sums of a partial choice: options are added and removed in any order. */
export class RunningTotals {
  /** ms, by station, as of the last `recompute`. */
  readonly loads: Float64Array;
  readonly #model: ChoiceModel;
  readonly #sparse: SparseModel;
  /** loads and cost of all but the shared pools. */
  readonly #ownLoads: Float64Array;
  #ownCost = 0;
  /** shares taken, by pool. */
  readonly #amounts: Float64Array;
  /** options that use it, by set-up. */
  readonly #uses: Int32Array;
  #methods = 0;

  constructor(model: ChoiceModel, sparse: SparseModel = sparseModel(model)) {
    this.#model = model;
    this.#sparse = sparse;
    this.loads = new Float64Array(model.stations.length);
    this.#ownLoads = new Float64Array(model.stations.length);
    this.#amounts = new Float64Array(model.pools.length);
    this.#uses = new Int32Array(model.setUps.length);
  }

  /** Adds an option of a slot. */
  add(slot: number, option: number): void {
    const part = this.#model.slots[slot]!.options[option]!;
    this.#count(part, this.#sparse.options[slot]![option]!, 1);
    this.#methods += part.method;
    for (const index of part.setUps) if (this.#uses[index]!++ === 0) this.#countSetUp(index, 1);
  }

  /** Removes an option that was added for the slot. */
  remove(slot: number, option: number): void {
    const part = this.#model.slots[slot]!.options[option]!;
    this.#count(part, this.#sparse.options[slot]![option]!, -1);
    this.#methods -= part.method;
    for (const index of part.setUps) if (--this.#uses[index]! === 0) this.#countSetUp(index, -1);
  }

  /** Adds whole sheets and batches: sets `loads` and returns the cost. */
  recompute(): number {
    const { pools } = this.#model;
    const { loads } = this;
    loads.set(this.#ownLoads);
    let cost = this.#ownCost;
    for (let p = 0; p < pools.length; p++) {
      const count = wholeUnits(this.#amounts[p]!);
      if (count <= 0) continue;
      cost += count * pools[p]!.cost;
      const { stations, loads: each } = this.#sparse.pools[p]!;
      for (let i = 0; i < stations.length; i++) loads[stations[i]!]! += count * each[i]!;
    }
    return cost;
  }

  /** Sum of the methods' indexes in the catalog: breaks ties in favor of those listed first. */
  get methods(): number {
    return this.#methods;
  }

  #countSetUp(index: number, sign: 1 | -1): void {
    this.#count(this.#model.setUps[index]!, this.#sparse.setUps[index]!, sign);
  }

  #count(
    part: { readonly cost: number; readonly shares: readonly Share[] },
    { stations, loads }: SparseLoads,
    sign: 1 | -1,
  ): void {
    this.#ownCost += sign * part.cost;
    for (let i = 0; i < stations.length; i++) this.#ownLoads[stations[i]!]! += sign * loads[i]!;
    for (const { pool, amount } of part.shares) this.#amounts[pool]! += sign * amount;
  }
}
