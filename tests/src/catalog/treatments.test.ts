import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Finish, Method } from '../../../src/catalog/index.ts';
import { bestVariant, missedBounds, qualitiesWith } from '../../../src/catalog/treatments.ts';
import { sheet } from '../../fixtures/shop.ts';

const method = Method.parse(sheet);
const finish = (bounds: object, treatments: string[] = []) =>
  Finish.parse({ id: 'f', name: 'F', bounds, treatments });
const ids = (variant: { treatments: readonly { id: string }[] }) => variant.treatments.map(({ id }) => id);

describe('bestVariant', () => {
  it('adds no treatment if none is needed', () => {
    expect(ids(bestVariant(method, finish({})))).toEqual([]);
  });

  it('adds the treatment that keeps the bound', () => {
    expect(ids(bestVariant(method, finish({ glossMost: 1 })))).toEqual(['matting']);
    expect(ids(bestVariant(method, finish({ breathabilityLeast: 3 })))).toEqual(['screening']);
  });

  it('adds both if one is not enough', () => {
    // hand 3 with -0.5 and -1: 1.5
    const both = bestVariant(method, finish({ handMost: 1.5 }));
    expect(ids(both)).toEqual(['matting', 'screening']);
    expect(both.qualities).toEqual({ hand: 1.5, gloss: 0, washLifeCycles: 41, breathability: 3 });
  });

  it('includes what the finish lists and the method offers, needed or not', () => {
    expect(ids(bestVariant(method, finish({}, ['screening', 'of-another-method'])))).toEqual(['screening']);
  });

  it('reports the missed bounds if no set keeps them', () => {
    const variant = bestVariant(method, finish({ handMost: 1, washLifeLeast: 60 }));
    expect(variant.meets).toBe(false);
    expect(variant.misses.map(({ code }) => code)).toContain('hand-too-thick');
  });

  it('never uses more treatments than another set that meets the finish', () => {
    const level = fc.integer({ min: 0, max: 8 }).map((half) => half / 2);
    const bounds = fc.record(
      {
        handMost: level,
        glossMost: level,
        washLifeLeast: fc.integer({ min: 0, max: 60 }),
        breathabilityLeast: level,
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(bounds, (wanted) => {
        const asked = finish(wanted);
        const best = bestVariant(method, asked);
        for (const set of [[], [0], [1], [0, 1]]) {
          const treatments = set.map((index) => method.treatments[index]!);
          const meets = missedBounds(qualitiesWith(method, treatments), asked).length === 0;
          if (meets) {
            expect(best.meets).toBe(true);
            expect(best.treatments.length).toBeLessThanOrEqual(treatments.length);
          }
        }
      }),
    );
  });
});
