import type { ChoiceModel, Option, Pool, SetUp, Slot } from '../../../../src/routing/choice/model.ts';

/** Small fast random numbers from a seed (mulberry32), 0 to 1. */
export function randomOf(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** What a random model is like. */
export type ModelShape = {
  readonly lines: number;
  readonly prints: number;
  readonly methods: number;
  readonly stations?: number;
  /** share of pairs of methods that may not be on the same piece. Default 0. */
  readonly clashShare?: number;
};

/**
 * A random choice: orders of 1 to 30 pieces, designs shared by some prints, set-ups per order and per design, sheets
 * shared by all prints of a method, and now and then two options that cost the same.
 */
export function randomModel(seed: number, shape: ModelShape): ChoiceModel {
  const random = randomOf(seed);
  const { lines, prints, methods, stations = 5, clashShare = 0 } = shape;
  const setUps: SetUp[] = [];
  const pools: Pool[] = [];
  const index = new Map<string, number>();
  const loads = (most: number): number[] =>
    Array.from({ length: stations }, () => (random() < 0.5 ? Math.round(random() * most) : 0));
  const recipes = Array.from({ length: methods }, () => {
    const pool = random() < 0.5 ? pools.push({ cost: 2_400_000, loads: loads(90_000) }) - 1 : undefined;
    return { each: 1e6 * (0.5 + 3 * random()), loads: loads(60_000), pool };
  });
  const setUp = (key: string, cost: number, load: number): number => {
    let place = index.get(key);
    if (place === undefined) {
      place = setUps.push({ cost: Math.round(random() * cost), loads: loads(load), shares: [] }) - 1;
      index.set(key, place);
    }
    return place;
  };
  const slots: Slot[] = [];
  for (let line = 0; line < lines; line++) {
    const pieces = 1 + Math.floor(30 * random());
    for (let print = 0; print < prints; print++) {
      const design = Math.floor(random() * lines * prints * 0.6);
      const size = 0.2 + 2 * random();
      const options: Option[] = [];
      recipes.forEach((recipe, method) => {
        const last = method === methods - 1;
        if (random() < 0.2 && !(last && options.length === 0)) return;
        const work = pieces * size;
        const twin = options.at(-1);
        if (twin !== undefined && random() < 0.05) options.push({ ...twin, method });
        else
          options.push({
            method,
            cost: Math.round(recipe.each * work * (0.8 + 0.4 * random())),
            loads: recipe.loads.map((load) => Math.round(load * work)),
            setUps: [
              setUp(`order ${method}`, 3e6, 200_000),
              setUp(`design ${method} ${design}`, 1.5e6, 300_000),
            ],
            shares: recipe.pool === undefined ? [] : [{ pool: recipe.pool, amount: work / 8 }],
          });
      });
      slots.push({ line, options });
    }
  }
  const pairs = Array.from({ length: methods }, () => new Array<boolean>(methods).fill(false));
  for (let one = 0; one < methods; one++)
    for (let other = 0; other < one; other++)
      if (random() < clashShare) {
        pairs[one]![other] = true;
        pairs[other]![one] = true;
      }
  return {
    stations: Array.from({ length: stations }, (_, station) => `s${station}`),
    slots,
    setUps,
    pools,
    incompatible: pairs,
  };
}
