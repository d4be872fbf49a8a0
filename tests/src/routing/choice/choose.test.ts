import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { choose } from '../../../../src/routing/choice/choose.ts';
import { isCompatible } from '../../../../src/routing/choice/clashes.ts';
import { enumerateBest } from '../../../../src/routing/choice/enumerate.ts';
import { type ChoiceModel, outcomeOf } from '../../../../src/routing/choice/model.ts';
import { type Objective, scoreOf } from '../../../../src/routing/choice/objective.ts';
import { RunningTotals } from '../../../../src/routing/choice/running-totals.ts';
import { randomModel } from './models.ts';

const ENOUGH = 50_000_000;

const shapes = fc.record({
  seed: fc.integer({ min: 1, max: 1e9 }),
  lines: fc.integer({ min: 1, max: 5 }),
  prints: fc.integer({ min: 1, max: 3 }),
  methods: fc.integer({ min: 1, max: 4 }),
  clashShare: fc.constantFrom(0, 0, 0.3),
});

const objectives = fc.constantFrom<Objective>(
  { kind: 'least-cost' },
  { kind: 'best-rate', worth: 2e9 },
  { kind: 'best-rate', worth: 1e8 },
  { kind: 'least-load', startsMs: [0, 1e5, 3e5, 0, 5e4] },
);

function combinations(model: ChoiceModel): number {
  return model.slots.reduce((product, { options }) => product * options.length, 1);
}

/** Every choice written down one after the other and worked out from the definition alone. */
function bestByHand(model: ChoiceModel, objective: Objective): number | undefined {
  let best: number | undefined;
  const go = (chosen: number[]): void => {
    if (chosen.length < model.slots.length) {
      model.slots[chosen.length]!.options.forEach((_, option) => {
        go([...chosen, option]);
      });
      return;
    }
    if (!isCompatible(model, chosen)) return;
    const { cost, loads } = outcomeOf(model, chosen);
    const [score] = scoreOf(objective, cost, loads, 0);
    if (best === undefined || score < best) best = score;
  };
  go([]);
  return best;
}

describe('choose', () => {
  it('finds what trying everything finds, for every policy', () => {
    fc.assert(
      fc.property(shapes, objectives, ({ seed, ...shape }, objective) => {
        const model = randomModel(seed, shape);
        fc.pre(combinations(model) <= 4096);
        const choice = choose(model, objective);
        const byHand = bestByHand(model, objective);
        if (byHand === undefined) expect(choice).toBeUndefined();
        else {
          expect(choice!.gap).toBe(0);
          const { cost, loads } = outcomeOf(model, choice!.chosen);
          const [score] = scoreOf(objective, cost, loads, 0);
          expect(Math.abs(score - byHand)).toBeLessThanOrEqual(1e-9 * Math.abs(byHand) + 0.01);
        }
      }),
      { numRuns: 150 },
    );
  });

  it('searches as well as it tries all: the same score and the same choice', () => {
    let searched = 0;
    fc.assert(
      fc.property(shapes, objectives, ({ seed, ...shape }, objective) => {
        const model = randomModel(seed, shape);
        fc.pre(combinations(model) > 1024 && combinations(model) <= 60_000);
        searched++;
        const found = choose(model, objective, { workLimit: ENOUGH });
        const all = enumerateBest(model, objective, undefined, undefined);
        expect(found === undefined).toBe(all === undefined);
        if (found === undefined) return;
        expect(found.gap).toBe(0);
        expect(found.score[0]).toBeCloseTo(all!.score[0], 6);
      }),
      { numRuns: 40 },
    );
    expect(searched).toBeGreaterThan(30);
  });

  it('never gets worse by another method to choose from', () => {
    fc.assert(
      fc.property(shapes, objectives, ({ seed, ...shape }, objective) => {
        const more = randomModel(seed, { ...shape, clashShare: 0 });
        const last = shape.methods - 1;
        const fewer: ChoiceModel = {
          ...more,
          slots: more.slots.map(({ line, options }) => ({
            line,
            options: options.filter(({ method }) => method !== last || options.length === 1),
          })),
        };
        fc.pre(combinations(more) <= 20_000);
        const before = choose(fewer, objective, { workLimit: ENOUGH })!;
        const after = choose(more, objective, { workLimit: ENOUGH })!;
        // the place in the list counts a thousandth of a millionth when all else is equal
        expect(after.score[0]).toBeLessThanOrEqual(before.score[0] + 0.02 + 1e-9 * Math.abs(before.score[0]));
      }),
      { numRuns: 60 },
    );
  });

  it('keeps capacities, and says so when none can be kept', () => {
    fc.assert(
      fc.property(shapes, fc.double({ min: 0.3, max: 1.2, noNaN: true }), ({ seed, ...shape }, tight) => {
        const model = randomModel(seed, shape);
        fc.pre(combinations(model) <= 20_000);
        const free = choose(model, { kind: 'least-cost' }, { workLimit: ENOUGH });
        if (free === undefined) return;
        const capacityMs = free.outcome.loads.map((load) => load * tight);
        const kept = choose(model, { kind: 'least-cost' }, { capacityMs, workLimit: ENOUGH });
        const all = enumerateBest(model, { kind: 'least-cost' }, capacityMs, undefined);
        expect(kept === undefined).toBe(all === undefined);
        if (kept === undefined) return;
        kept.outcome.loads.forEach((load, s) => {
          expect(load).toBeLessThanOrEqual(capacityMs[s]! + 0.01);
        });
        expect(kept.score[0]).toBeCloseTo(all!.score[0], 4);
      }),
      { numRuns: 60 },
    );
  });

  it('takes the best of those accepted', () => {
    for (let seed = 1; seed <= 12; seed++) {
      const model = randomModel(seed, { lines: 4, prints: 2, methods: 3 });
      // An arbitrary rule that no bound knows of.
      const accept = (chosen: readonly number[]): boolean =>
        chosen.reduce((sum, option, slot) => sum + option * (slot + 1), 0) % 3 === 0;
      const found = choose(model, { kind: 'least-cost' }, { accept, workLimit: ENOUGH });
      const all = enumerateBest(model, { kind: 'least-cost' }, undefined, accept);
      expect(found?.score[0]).toBeCloseTo(all!.score[0], 4);
      expect(accept(found!.chosen)).toBe(true);
    }
  });

  it('settles ties for the methods listed first, every time', () => {
    const option = (method: number) => ({ method, cost: 5e6, loads: [1000], setUps: [], shares: [] });
    const model: ChoiceModel = {
      stations: ['s'],
      slots: Array.from({ length: 12 }, (_, line) => ({ line, options: [option(0), option(1), option(2)] })),
      setUps: [],
      pools: [],
      incompatible: [],
    };
    const zero = new Array<number>(12).fill(0);
    expect(choose({ ...model, slots: model.slots.slice(0, 3) }, { kind: 'least-cost' })!.chosen).toEqual([
      0, 0, 0,
    ]);
    expect(choose(model, { kind: 'least-cost' })!.chosen).toEqual(zero);
    expect(choose(model, { kind: 'best-rate', worth: 1e9 })!.chosen).toEqual(zero);
  });

  it('pays a sheet as soon as any of it is used, and no second one before the first is full', () => {
    const option = (method: number, cost: number, amount: number) => ({
      method,
      cost,
      loads: [0],
      setUps: [],
      shares: amount > 0 ? [{ pool: 0, amount }] : [],
    });
    const model: ChoiceModel = {
      stations: ['s'],
      slots: [
        { line: 0, options: [option(0, 3e6, 0), option(1, 0, 0.5)] },
        { line: 1, options: [option(0, 3e6, 0), option(1, 0, 0.5)] },
        { line: 2, options: [option(0, 3e6, 0), option(1, 0, 0.5)] },
      ],
      setUps: [],
      pools: [{ cost: 4e6, loads: [0] }],
      incompatible: [],
    };
    // two share a sheet (4), the third is cheaper the other way (3): 7; all on sheets would be 8, none 9
    expect(choose(model, { kind: 'least-cost' })!.outcome.cost).toBe(7e6);
  });

  it('says how far from the best it may be when it gives up, and is right about it', () => {
    let gaveUp = 0;
    for (let seed = 1; seed <= 12; seed++) {
      const model = randomModel(seed, { lines: 4, prints: 2, methods: 4 });
      for (const objective of [
        { kind: 'least-cost' },
        { kind: 'best-rate', worth: 3e9 },
        { kind: 'least-load', startsMs: [0, 0, 0, 0, 0] },
      ] as const) {
        const quick = choose(model, objective, { workLimit: 300 });
        const proved = enumerateBest(model, objective, undefined, undefined);
        if (quick!.gap === 0) {
          expect(quick!.score[0]).toBeCloseTo(proved!.score[0], 4);
          continue;
        }
        gaveUp++;
        const better = (quick!.score[0] - proved!.score[0]) / Math.abs(quick!.score[0]);
        expect(better).toBeLessThanOrEqual(quick!.gap * (1 + 1e-9));
      }
    }
    expect(gaveUp).toBeGreaterThan(3);
  });
});

describe('Tally', () => {
  it('adds up to what the definition says, whatever was put in and taken out', () => {
    fc.assert(
      fc.property(
        shapes,
        fc.array(fc.tuple(fc.nat(), fc.nat()), { maxLength: 40 }),
        ({ seed, ...shape }, moves) => {
          const model = randomModel(seed, shape);
          const chosen = model.slots.map(() => 0);
          const tally = new RunningTotals(model);
          model.slots.forEach((_, slot) => {
            tally.add(slot, 0);
          });
          for (const [slotDraw, optionDraw] of moves) {
            const slot = slotDraw % model.slots.length;
            const { options } = model.slots[slot]!;
            tally.remove(slot, chosen[slot]!);
            chosen[slot] = optionDraw % options.length;
            tally.add(slot, chosen[slot]!);
          }
          const cost = tally.recompute();
          const outcome = outcomeOf(model, chosen);
          expect(cost).toBeCloseTo(outcome.cost, 3);
          outcome.loads.forEach((load, s) => {
            expect(tally.loads[s]).toBeCloseTo(load, 3);
          });
        },
      ),
      { numRuns: 100 },
    );
  });
});
