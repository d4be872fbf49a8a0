import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { countsFrom } from '../../../src/promise/index.ts';
import { candidatesOf } from '../../../src/routing/candidates.ts';
import { plainLettering } from '../../../src/routing/print.ts';
import { resolveSlip } from '../../../src/routing/resolve.ts';
import { routeSlip, type Setting } from '../../../src/routing/route.ts';
import { compiled, factsWith, NOW, planOf, slipOf, tees } from './shop.ts';

const catalog = compiled((c) => {
  c.prices.choose = 'lowest-price';
});
const plan = planOf(catalog);
const setting: Setting = {
  catalog,
  plan,
  notBefore: countsFrom(plan.shop, NOW).notBefore,
  rushEnd: undefined,
};

/** Routes tees of so many pieces a line, needed by a day of September, asking the plan about so many ways at most. */
function routed(counts: readonly number[], day: number, asks?: number) {
  const lines = counts.map((count, index) => tees({ id: `l${index}`, counts: [{ size: 'm', count }] }));
  const slip = slipOf(lines, { neededBy: `2026-09-${String(day).padStart(2, '0')}` });
  const resolved = resolveSlip(catalog, slip, () => ({ facts: factsWith() }), plainLettering);
  if (!('lines' in resolved)) throw new Error(JSON.stringify(resolved.faults));
  const candidates = resolved.lines.map((line) => ({ line, prints: candidatesOf(catalog, line) }));
  return routeSlip({ ...setting, asks }, slip, candidates);
}

describe('a slip with a day to keep, when the plan is asked about a few ways only', () => {
  it('keeps the day or says that it cannot, and finds no way where there is none', () => {
    let kept = 0;
    let given = 0;
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 1, max: 400 }), { minLength: 2, maxLength: 4 }),
        fc.integer({ min: 2, max: 9 }),
        fc.integer({ min: 0, max: 3 }),
        (counts, day, asks) => {
          const all = routed(counts, day);
          const few = routed(counts, day, asks);
          if ('why' in few) {
            given++;
            return;
          }
          kept++;
          expect('why' in all).toBe(false);
          expect(few.promised.day <= few.slip.neededBy!).toBe(true);
          if (!('why' in all))
            expect(few.cheapest.score[0]).toBeGreaterThanOrEqual(all.cheapest.score[0] - 1);
        },
      ),
      { numRuns: 120 },
    );
    expect(kept).toBeGreaterThan(20);
    expect(given).toBeGreaterThan(0);
  });
});
