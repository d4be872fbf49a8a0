import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkCatalog } from '../../../src/catalog/check.ts';
import type { CatalogInput } from '../../../src/catalog/index.ts';
import { shopInput } from '../../fixtures/shop.ts';

/** Sorted places of the faults after a change. */
function placesAfter(change: (catalog: CatalogInput) => void): string[] {
  const input = shopInput();
  change(input);
  return (checkCatalog(input).faults ?? []).map(({ at }) => at).sort();
}

/** Changes that each cause one fault, with its place. */
const PLANTED: readonly (readonly [what: string, at: string, change: (catalog: CatalogInput) => void])[] = [
  [
    'a currency that is none',
    'shop.currency',
    (c) => {
      c.shop.currency = 'XXA';
    },
  ],
  [
    'a time zone that is none',
    'shop.timeZone',
    (c) => {
      c.shop.timeZone = 'Moon/Tycho';
    },
  ],
  [
    'an offset for a time zone',
    'shop.timeZone',
    (c) => {
      c.shop.timeZone = '+02:00';
    },
  ],
  [
    'a fiber sum off 1',
    'blanks.0.fibers',
    (c) => {
      c.blanks[0]!.fibers[0]!.share = '0.9';
    },
  ],
  [
    'a fiber twice',
    'blanks.0.fibers.1.id',
    (c) => {
      c.blanks[0]!.fibers = [
        { fiber: 'cotton', share: '0.5' },
        { fiber: 'cotton', share: '0.5' },
      ];
    },
  ],
  [
    'a face larger than its blank',
    'blanks.0.faces.0',
    (c) => {
      c.blanks[0]!.faces[0]!.widthMm = 601;
    },
  ],
  [
    'a face hanging off its view',
    'blanks.0.faces.1',
    (c) => {
      c.blanks[0]!.faces[1]!.onView.yMm = 260;
    },
  ],
  [
    'an unknown view',
    'blanks.0.faces.0.onView.view',
    (c) => {
      c.blanks[0]!.faces[0]!.onView.view = 'top';
    },
  ],
  [
    'an area for an unknown size',
    'blanks.0.faces.1.areaBySize.xxl',
    (c) => {
      c.blanks[0]!.faces[1]!.areaBySize = { xxl: { widthMm: 1, heightMm: 1 } };
    },
  ],
  [
    'a size area over the face',
    'blanks.0.faces.0.areaBySize.s',
    (c) => {
      c.blanks[0]!.faces[0]!.areaBySize!['s']!.widthMm = 351;
    },
  ],
  [
    'a cylinder without a diameter',
    'blanks.2.faces.0.diameterMm',
    (c) => {
      delete c.blanks[2]!.faces[0]!.diameterMm;
    },
  ],
  [
    'a wrap wider than the mug is round',
    'blanks.2.faces.0.widthMm',
    (c) => {
      c.blanks[2]!.faces[0]!.diameterMm = 60;
    },
  ],
  [
    'a keep-out off its face',
    'blanks.0.faces.0.keepOuts.0',
    (c) => {
      c.blanks[0]!.faces[0]!.keepOuts![0]!.yMm = 450;
    },
  ],
  [
    'a usual position off its face',
    'blanks.0.faces.1.usual.0',
    (c) => {
      c.blanks[0]!.faces[1]!.usual = [{ id: 'u', name: 'U', xMm: 100, yMm: 10, widthMm: 200 }];
    },
  ],
  [
    'a size twice',
    'blanks.0.sizes.1.id',
    (c) => {
      c.blanks[0]!.sizes[1]!.id = 's';
    },
  ],
  [
    'a blank twice',
    'blanks.3.id',
    (c) => {
      c.blanks.push(structuredClone(c.blanks[2]!));
    },
  ],
  [
    'an unknown station',
    'methods.0.steps.1.stations.0',
    (c) => {
      c.methods[0]!.steps[1]!.stations = ['nowhere'];
    },
  ],
  [
    'a surface no station takes',
    'methods.1.steps.1.stations',
    (c) => {
      c.methods[1]!.steps[1]!.stations = ['press', 'cap-press'];
    },
  ],
  [
    'no step on a bed',
    'methods.0.steps',
    (c) => {
      c.methods[0]!.steps[1]!.onBed = false;
    },
  ],
  [
    'a wait that works',
    'methods.1.steps.2.stations',
    (c) => {
      c.methods[1]!.steps[2]!.perPrintS = 5;
    },
  ],
  [
    'a step twice',
    'methods.1.treatments.0.steps.0.id',
    (c) => {
      c.methods[1]!.treatments![0]!.steps![0]!.id = 'cool';
    },
  ],
  [
    'an unknown method to keep apart',
    'methods.0.notWith.0',
    (c) => {
      c.methods[0]!.notWith = ['ghost'];
    },
  ],
  [
    'a good dpi under the least',
    'methods.0.limits.goodDpi',
    (c) => {
      c.methods[0]!.limits.goodDpi = 71;
    },
  ],
  [
    'least cloth lightness over most',
    'methods.0.limits.clothLightness.least',
    (c) => {
      c.methods[0]!.limits.clothLightness = { least: 60, most: 40 };
    },
  ],
  [
    'least pieces over most',
    'methods.0.limits.pieces.least',
    (c) => {
      c.methods[0]!.limits.pieces = { least: 20, most: 10 };
    },
  ],
  [
    'margins that leave no sheet',
    'methods.1.consumables.0.driver.marginMm',
    (c) => {
      (c.methods[1]!.consumables[0]!.driver as { marginMm: number; sheetWidthMm: number }).sheetWidthMm = 9;
    },
  ],
  [
    'sheet steps without sheets',
    'methods.0.steps.0.per',
    (c) => {
      c.methods[0]!.steps[0]!.per = 'sheet';
    },
  ],
  [
    'all spoiled',
    'methods.0.spoilage',
    (c) => {
      c.methods[0]!.spoilage = '1';
    },
  ],
  [
    'a finish nothing meets',
    'finishes.1.bounds',
    (c) => {
      c.finishes[1]!.bounds = { handMost: 0.4 };
    },
  ],
  [
    'gloss bounds crossed',
    'finishes.0.bounds.glossLeast',
    (c) => {
      c.finishes[0]!.bounds = { glossLeast: 3, glossMost: 2 };
    },
  ],
  [
    'an unknown treatment',
    'finishes.0.treatments.0',
    (c) => {
      c.finishes[0]!.treatments = ['glitter'];
    },
  ],
  [
    'a missing list price',
    'prices.list',
    (c) => {
      c.prices.list!.pop();
    },
  ],
  [
    'two list prices for the same',
    'prices.list.12',
    (c) => {
      c.prices.list!.push(structuredClone(c.prices.list![0]!));
    },
  ],
  [
    'a price for an unknown blank',
    'prices.list.12.blank',
    (c) => {
      c.prices.list!.push({ ...structuredClone(c.prices.list![0]!), blank: 'sock' });
    },
  ],
  [
    'a first break over 1',
    'prices.list.0.breaks.0.from',
    (c) => {
      c.prices.list![0]!.breaks[0]!.from = 2;
    },
  ],
  [
    'breaks that do not ascend',
    'prices.list.0.breaks.2.from',
    (c) => {
      c.prices.list![0]!.breaks[2]!.from = 12;
    },
  ],
  [
    'a unit price that rises',
    'prices.list.0.breaks.1.unit',
    (c) => {
      c.prices.list![0]!.breaks[1]!.unit = '20.01';
    },
  ],
  [
    'a margin of 1',
    'prices.margin',
    (c) => {
      c.prices.margin = '1';
    },
  ],
  [
    'a floor margin of 1',
    'prices.floorMargin',
    (c) => {
      c.prices.floorMargin = '1';
    },
  ],
  [
    'an ending over its step',
    'prices.ending.offset',
    (c) => {
      c.prices.ending = { step: '1.00', offset: '1.00' };
    },
  ],
  [
    'an ending of no step',
    'prices.ending.step',
    (c) => {
      c.prices.ending = { step: '0', offset: '0' };
    },
  ],
  [
    'a closure that ends before it begins',
    'calendar.closures.0.to',
    (c) => {
      c.calendar.closures = [{ from: '2026-05-02', to: '2026-05-01', name: 'x' }];
    },
  ],
  [
    'a day that does not exist',
    'calendar.closures.0.from',
    (c) => {
      c.calendar.closures = [{ from: '2026-02-29', to: '2026-03-01', name: 'x' }];
    },
  ],
  [
    'hours that overlap',
    'calendar.week.mon.1',
    (c) => {
      c.calendar.week.mon = [
        { from: '08:00', to: '12:00' },
        { from: '11:00', to: '15:00' },
      ];
    },
  ],
  [
    'a shop that never opens',
    'calendar.week',
    (c) => {
      for (const day of ['mon', 'tue', 'wed', 'thu', 'fri'] as const) c.calendar.week[day] = [];
    },
  ],
  [
    'maintenance reversed',
    'stations.0.maintenance.0.to',
    (c) => {
      c.stations[0]!.maintenance = [{ from: '2026-05-02T10:00:00Z', to: '2026-05-02T09:00:00Z' }];
    },
  ],
  [
    'a bed for an unknown size',
    'stations.1.bedBySize.xxl',
    (c) => {
      c.stations[1]!.bedBySize = { xxl: { widthMm: 10, heightMm: 10 } };
    },
  ],
  [
    'a size bed over the bed',
    'stations.1.bedBySize.s',
    (c) => {
      c.stations[1]!.bedBySize!['s']!.widthMm = 341;
    },
  ],
];

describe('checkCatalog', () => {
  it('accepts a valid catalog', () => {
    expect(checkCatalog(shopInput()).faults).toBeUndefined();
  });

  it.each(PLANTED)('finds %s at %s', (_, at, change) => {
    expect(placesAfter(change)).toEqual([at]);
  });

  it('has a message and what is allowed for every fault', () => {
    for (const [what, at, change] of PLANTED) {
      const input = shopInput();
      change(input);
      const fault = checkCatalog(input).faults!.find((one) => one.at === at)!;
      expect(fault.message.length, what).toBeGreaterThan(5);
      expect(fault.allowed, what).toBeTruthy();
    }
  });

  it('finds all faults of any mixture at once', () => {
    // Changes to the same list would shift each other's places, so only one is taken from each part.
    const byPart = new Map<string, (typeof PLANTED)[number][]>();
    for (const one of PLANTED) {
      // The only fault of shape among them disables the consistency checks of the calendar.
      if (one[0] === 'a day that does not exist') continue;
      const part = one[1].split('.').slice(0, 2).join('.');
      byPart.set(part, [...(byPart.get(part) ?? []), one]);
    }
    const mixture = fc.tuple(...[...byPart.values()].map((part) => fc.option(fc.constantFrom(...part))));
    fc.assert(
      fc.property(mixture, (picked) => {
        const planted = picked.filter((one) => one !== null);
        const places = placesAfter((catalog) => {
          for (const [, , change] of planted) change(catalog);
        });
        for (const [what, at] of planted) expect(places, what).toContain(at);
      }),
      { numRuns: 200 },
    );
  });

  it('finds faults of consistency besides those of shape, and accepts references to parts with a wrong shape', () => {
    const places = placesAfter((catalog) => {
      (catalog.blanks[1] as { name: unknown }).name = 7;
      (catalog.stations[0] as { count: unknown }).count = 'two';
      catalog.shop.currency = 'ABC';
      catalog.prices.margin = '1';
    });
    expect(places).toEqual(['blanks.1.name', 'prices.margin', 'shop.currency', 'stations.0.count']);
  });

  it('returns faults for any value', () => {
    fc.assert(
      fc.property(fc.anything(), (value) => {
        const { faults } = checkCatalog(value);
        expect(faults!.length).toBeGreaterThan(0);
        expect(JSON.stringify(faults)).toBeTypeOf('string');
      }),
    );
  });

  it('handles any value in any member', () => {
    fc.assert(
      fc.property(fc.array(fc.nat(12), { minLength: 1, maxLength: 6 }), fc.jsonValue(), (path, value) => {
        const input = shopInput() as unknown as Record<string, unknown>;
        let at = input;
        for (const step of path.slice(0, -1)) {
          const next = Object.values(at)[step % Math.max(1, Object.keys(at).length)];
          if (typeof next !== 'object' || next === null) break;
          at = next as Record<string, unknown>;
        }
        const names = Object.keys(at);
        const name = names[path.at(-1)! % Math.max(1, names.length)];
        if (name !== undefined) at[name] = value;
        const checked = checkCatalog(input);
        expect(checked.catalog === undefined).toBe(checked.faults !== undefined);
      }),
      { numRuns: 300 },
    );
  });

  it('refuses `__proto__` as an id', () => {
    const places = placesAfter((catalog) => {
      catalog.blanks[0]!.id = '__proto__';
    });
    expect(places).toContain('blanks.0.id');
  });
});
