import highsLoader, { type Highs } from 'highs';
import { beforeAll, describe, expect, it } from 'vitest';
import type { Choice } from '../../../src/routing/choice/choice.ts';
import { choose } from '../../../src/routing/choice/choose.ts';
import { type ChoiceModel, outcomeOf } from '../../../src/routing/choice/model.ts';
import { randomModel, randomOf } from '../../src/routing/choice/models.ts';
import { type LinearWeighing, linearProgram } from './choice-lp.ts';

/**
 * The choice of methods against HiGHS, an open mixed-integer solver (npm highs), on 500 random slips. The promise is made
 * linear: a needed-by date is the open time each station has until then, which its load may not exceed.
 */

let highs: Highs;
beforeAll(async () => {
  highs = await highsLoader();
});

/** HiGHS stops within this of the optimum; see `mip_rel_gap`. */
const GAP = 1e-7;
const PLENTY = 20_000_000;

/** The least value; undefined when there is no choice at all. */
function leastBy(model: ChoiceModel, weighing: LinearWeighing): number | undefined {
  const solved = highs.solve(linearProgram(model, weighing), {
    mip_rel_gap: GAP / 10,
    mip_feasibility_tolerance: 1e-9,
    primal_feasibility_tolerance: 1e-9,
  });
  if (solved.Status === 'Infeasible') return undefined;
  if (solved.Status !== 'Optimal') throw new Error(`HiGHS ended with ${solved.Status}`);
  return solved.ObjectiveValue;
}

function close(ours: number, theirs: number): void {
  expect(Math.abs(ours - theirs)).toBeLessThanOrEqual(1 + 10 * GAP * Math.abs(theirs));
}

type Case = {
  readonly seed: number;
  readonly model: ChoiceModel;
  readonly capacityMs: readonly number[] | undefined;
};

/** Random slips of 1 to 4 lines, 1 or 2 prints a piece, 2 to 4 methods; every other one with a needed-by date. */
function slip(seed: number): Case {
  const random = randomOf(seed * 7919);
  const among = (least: number, most: number): number => least + Math.floor(random() * (most - least + 1));
  const model = randomModel(seed, {
    lines: among(1, 4),
    prints: among(1, 2),
    methods: among(2, 4),
    clashShare: random() < 0.25 ? 0.3 : 0,
  });
  if (seed % 2 === 0) return { seed, model, capacityMs: undefined };
  const free = choose(model, { kind: 'least-cost' }, { workLimit: PLENTY });
  const share = 0.4 + 0.8 * random();
  return { seed, model, capacityMs: free?.outcome.loads.map((load) => Math.round(load * share) + 1) };
}

function costOf(choice: Choice | undefined, model: ChoiceModel): number | undefined {
  return choice && outcomeOf(model, choice.chosen).cost;
}

describe('the choice of methods, against HiGHS', () => {
  it('least cost: the same on 250 slips', () => {
    let impossible = 0;
    for (let seed = 1; seed <= 250; seed++) {
      const { model, capacityMs } = slip(seed);
      const ours = choose(model, { kind: 'least-cost' }, { capacityMs, workLimit: PLENTY });
      const theirs = leastBy(model, { costWeight: 1, loadWeight: 0, capacityMs });
      const cost = costOf(ours, model);
      expect(cost === undefined, `slip ${seed}`).toBe(theirs === undefined);
      if (cost === undefined) impossible++;
      else {
        expect(ours!.gap).toBe(0);
        close(cost, theirs!);
      }
    }
    expect(impossible).toBeGreaterThan(5);
    expect(impossible).toBeLessThan(125);
  });

  it('margin per bottleneck minute: none better on 250 slips', () => {
    let earning = 0;
    for (let seed = 251; seed <= 500; seed++) {
      const { model, capacityMs } = slip(seed);
      const cheapest = choose(model, { kind: 'least-cost' }, { capacityMs, workLimit: PLENTY });
      if (cheapest === undefined) {
        expect(leastBy(model, { costWeight: 1, loadWeight: 0, capacityMs })).toBeUndefined();
        continue;
      }
      const worth = Math.round(cheapest.outcome.cost * (1.05 + (seed % 7) / 4));
      const ours = choose(model, { kind: 'best-rate', worth }, { capacityMs, workLimit: PLENTY })!;
      const { cost, bottleneckMs } = outcomeOf(model, ours.chosen);
      const rate = (worth - cost) / Math.max(1, bottleneckMs);
      expect(ours.gap).toBe(0);
      expect(rate).toBeGreaterThan(0);
      // r is the best rate exactly when the least of cost + r · bottleneck is worth (Dinkelbach).
      const least = leastBy(model, { costWeight: 1, loadWeight: rate, capacityMs });
      close(worth, least!);
      earning++;
    }
    expect(earning).toBeGreaterThan(150);
  });
});
