/**
 * The choice of methods as numbers: what is left of an order once everything but the choice is known. Money is in
 * millionths of the currency's unit; load is in milliseconds of a station, divided by how many of it there are.
 */
export type ChoiceModel = {
  /** station ids; every `loads` has this length. */
  readonly stations: readonly string[];
  readonly slots: readonly Slot[];
  readonly setUps: readonly SetUp[];
  readonly pools: readonly Pool[];
  /** `incompatible[i][j]`: methods i and j may not be on the same piece. */
  readonly incompatible: readonly (readonly boolean[])[];
};

/** A print for which a method is chosen. */
export type Slot = {
  /** slots of the same line are on the same piece, and stand side by side in the model. */
  readonly line: number;
  /** at least one, ascending by method. */
  readonly options: readonly Option[];
};

/** A method for a slot: what it adds by itself, and what it shares with others. */
export type Option = {
  readonly method: number;
  readonly cost: number;
  readonly loads: readonly number[];
  /** indexes into `setUps`; each is paid once, however many options share it. */
  readonly setUps: readonly number[];
  readonly shares: readonly Share[];
};

/** A fixed cost: paid once when any option that names it is chosen. */
export type SetUp = {
  readonly cost: number;
  readonly loads: readonly number[];
  readonly shares: readonly Share[];
};

/** A share of a pool, in sheets or batches. */
export type Share = { readonly pool: number; readonly amount: number };

/** What one sheet or batch costs. The shares taken are added up, then rounded up to whole ones. */
export type Pool = { readonly cost: number; readonly loads: readonly number[] };

/** Cost and load of a choice. */
export type Outcome = {
  readonly cost: number;
  /** ms, by station. */
  readonly loads: readonly number[];
  /** ms of the station with the most load. */
  readonly bottleneckMs: number;
};

/** Shares are sums of fractions: up to this much over a whole number is still that number. */
const UNIT_SLACK = 1e-9;

/** Evaluates a choice (option index by slot) exactly. */
export function outcomeOf(model: ChoiceModel, chosen: readonly number[]): Outcome {
  let cost = 0;
  const loads = new Array<number>(model.stations.length).fill(0);
  const amounts = new Array<number>(model.pools.length).fill(0);
  const paid = new Uint8Array(model.setUps.length);
  const add = (part: { readonly loads: readonly number[]; readonly shares: readonly Share[] }): void => {
    for (let s = 0; s < loads.length; s++) loads[s]! += part.loads[s]!;
    for (const { pool, amount } of part.shares) amounts[pool]! += amount;
  };
  model.slots.forEach(({ options }, slot) => {
    const option = options[chosen[slot]!]!;
    cost += option.cost;
    add(option);
    for (const setUp of option.setUps) {
      if (paid[setUp] === 1) continue;
      paid[setUp] = 1;
      cost += model.setUps[setUp]!.cost;
      add(model.setUps[setUp]!);
    }
  });
  for (let pool = 0; pool < amounts.length; pool++) {
    const count = wholeUnits(amounts[pool]!);
    if (count === 0) continue;
    cost += count * model.pools[pool]!.cost;
    for (let s = 0; s < loads.length; s++) loads[s]! += count * model.pools[pool]!.loads[s]!;
  }
  let bottleneckMs = 0;
  for (const load of loads) bottleneckMs = Math.max(bottleneckMs, load);
  return { cost, loads, bottleneckMs };
}

/** Shares rounded up to whole sheets or batches. */
export function wholeUnits(amount: number): number {
  return Math.ceil(amount - UNIT_SLACK);
}
