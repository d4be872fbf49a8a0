/**
 * The choice of methods as numbers: what is left of an order when everything but the choice is worked out. Money is in
 * millionths of the currency's unit, load in milliseconds of a station divided by how many of it there are.
 */
export type ChoiceModel = {
  /** stations that carry load; every `loads` has this length. */
  readonly stations: readonly string[];
  readonly slots: readonly Slot[];
  readonly setUps: readonly SetUp[];
  readonly pools: readonly Pool[];
  /** `apart[i][j]`: methods i and j may not be on the same piece. */
  readonly apart: readonly (readonly boolean[])[];
};

/** A placement for which a method is chosen. */
export type Slot = {
  /** slots of the same line are on the same piece. */
  readonly line: number;
  /** at least one, ascending by method. */
  readonly options: readonly Option[];
};

/** A method for a slot: what it adds whatever else is chosen, and what it shares with others. */
export type Option = {
  readonly method: number;
  readonly cost: number;
  readonly loads: readonly number[];
  /** indexes into `setUps`, each paid once however many options share it. */
  readonly setUps: readonly number[];
  readonly shares: readonly Share[];
};

/** Something paid once when any option that names it is chosen. */
export type SetUp = {
  readonly cost: number;
  readonly loads: readonly number[];
  readonly shares: readonly Share[];
};

/** Part of a whole thing such as a sheet or a batch. */
export type Share = { readonly pool: number; readonly amount: number };

/** Whole things (sheets, batches) shared by many: what one costs. The shares taken of it are added up, then rounded up. */
export type Pool = { readonly cost: number; readonly loads: readonly number[] };

/** What a choice comes to. */
export type Outcome = {
  readonly cost: number;
  /** ms, by station. */
  readonly loads: readonly number[];
  /** ms of the station with most load: the bottleneck. */
  readonly bottleneckMs: number;
};

/** Shares are sums of fractions: this much over a whole number is still that number. */
const WHOLE_SLACK = 1e-9;

/** Works out a choice (option index by slot) exactly. */
export function outcomeOf(model: ChoiceModel, chosen: readonly number[]): Outcome {
  let cost = 0;
  const loads = new Array<number>(model.stations.length).fill(0);
  const amounts = new Array<number>(model.pools.length).fill(0);
  const paid = new Uint8Array(model.setUps.length);
  const take = (part: { readonly loads: readonly number[]; readonly shares: readonly Share[] }): void => {
    for (let s = 0; s < loads.length; s++) loads[s]! += part.loads[s]!;
    for (const { pool, amount } of part.shares) amounts[pool]! += amount;
  };
  model.slots.forEach(({ options }, slot) => {
    const option = options[chosen[slot]!]!;
    cost += option.cost;
    take(option);
    for (const setUp of option.setUps) {
      if (paid[setUp] === 1) continue;
      paid[setUp] = 1;
      cost += model.setUps[setUp]!.cost;
      take(model.setUps[setUp]!);
    }
  });
  for (let pool = 0; pool < amounts.length; pool++) {
    const count = wholeOf(amounts[pool]!);
    if (count === 0) continue;
    cost += count * model.pools[pool]!.cost;
    for (let s = 0; s < loads.length; s++) loads[s]! += count * model.pools[pool]!.loads[s]!;
  }
  let bottleneckMs = 0;
  for (const load of loads) bottleneckMs = Math.max(bottleneckMs, load);
  return { cost, loads, bottleneckMs };
}

/** Shares rounded up to whole things. */
export function wholeOf(amount: number): number {
  return Math.ceil(amount - WHOLE_SLACK);
}

/** Whether the choice puts no two methods on a piece that may not be together there. */
export function isCompatible(model: ChoiceModel, chosen: readonly number[]): boolean {
  for (let slot = 0; slot < chosen.length; slot++) {
    const { line, options } = model.slots[slot]!;
    const { method } = options[chosen[slot]!]!;
    for (let other = slot + 1; other < chosen.length && model.slots[other]!.line === line; other++)
      if (model.apart[method]![model.slots[other]!.options[chosen[other]!]!.method]!) return false;
  }
  return true;
}
