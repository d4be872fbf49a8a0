import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { releaseTime } from '../../../src/promise/index.ts';
import { routeSlip, type Setting } from '../../../src/quote/route.ts';
import { candidatesOf } from '../../../src/routing/fit/candidates.ts';
import { plainLettering } from '../../../src/routing/fit/print.ts';
import { resolveSlip } from '../../../src/routing/fit/resolve-slip.ts';
import { compiled, factsWith, NOW, planOf, slipOf, tees } from '../routing/shop.ts';

function settingOf(isTurned: boolean): Setting {
  const catalog = compiled((c) => {
    c.prices.choose = 'lowest-price';
    if (isTurned) c.methods.reverse();
  });
  const plan = planOf(catalog);
  return { catalog, plan, notBefore: releaseTime(plan.shop, NOW).notBefore, rushEnd: undefined };
}
/** Methods are tried as the catalog lists them: in one the cheap one comes first, in the other the dear one. */
const settings = [settingOf(false), settingOf(true)] as const;

/** Routes tees of so many pieces a line, needed by a day of September, asking the plan about so many ways at most. */
function routed(setting: Setting, counts: readonly number[], day: number, maxPlanQueries?: number) {
  const { catalog } = setting;
  const lines = counts.map((count, index) => tees({ id: `l${index}`, counts: [{ size: 'm', count }] }));
  const slip = slipOf(lines, { neededBy: `2026-09-${String(day).padStart(2, '0')}` });
  const resolved = resolveSlip(catalog, slip, () => ({ facts: factsWith() }), plainLettering);
  if (!('lines' in resolved)) throw new Error(JSON.stringify(resolved.faults));
  const candidates = resolved.lines.map((line) => ({ line, prints: candidatesOf(catalog, line) }));
  return routeSlip({ ...setting, maxPlanQueries }, slip, candidates);
}

describe('a slip with a day to keep, when the plan is asked about a few ways only', () => {
  it('keeps the day or says that it cannot, and finds no way where there is none', () => {
    let kept = 0;
    let given = 0;
    let dearer = 0;
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 2, maxLength: 4 }),
        fc.integer({ min: 2, max: 9 }),
        fc.integer({ min: 0, max: 3 }),
        fc.constantFrom(...settings),
        (counts, day, maxPlanQueries, setting) => {
          const all = routed(setting, counts, day);
          const few = routed(setting, counts, day, maxPlanQueries);
          if ('why' in few) {
            given++;
            return;
          }
          kept++;
          expect('why' in all).toBe(false);
          expect(few.promised.day <= few.slip.neededBy!).toBe(true);
          if ('why' in all) return;
          expect(few.cheapest.score[0]).toBeGreaterThanOrEqual(all.cheapest.score[0] - 1);
          // what it tells to be possible at best is at least as good as the best there is
          const { gap, outcome } = few.cheapest;
          expect((1 - gap) * outcome.cost).toBeLessThanOrEqual(all.cheapest.outcome.cost * (1 + 1e-9));
          if (outcome.cost > all.cheapest.outcome.cost * 1.0001) dearer++;
        },
      ),
      { numRuns: 120 },
    );
    expect(kept).toBeGreaterThan(20);
    expect(given).toBeGreaterThan(0);
    expect(dearer).toBeGreaterThan(0);
  });
});
