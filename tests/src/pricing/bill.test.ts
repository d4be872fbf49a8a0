import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { amountOf } from '../../../src/pricing/amounts.ts';
import { costOf, Money, money, type WrittenBill } from '../../../src/pricing/index.ts';
import { billShop } from '../../fixtures/bill-shop.ts';
import { type RoutedLineInput, type RoutedPrintInput, routedOf } from '../../fixtures/routed.ts';

const catalog = billShop();

function billOf(...lines: RoutedLineInput[]): WrittenBill {
  return costOf(catalog, routedOf(catalog, lines)).written();
}

/** Amount of the entries for an item, by what they are for. */
function amountsOf(bill: WrittenBill, item: string): Record<string, string> {
  return Object.fromEntries(
    bill.lines.filter((line) => line.item === item).map(({ what, amount }) => [what, amount]),
  );
}

describe('a bill worked out by hand', () => {
  // 8 of S and 4 of XL, black, one print of 200 x 300 mm with 300 cm² of black and 250 cm² of white ink.
  const bill = billOf({ color: 'black', counts: { s: 8, xl: 4 } });

  it('lists every driver', () => {
    expect(
      bill.lines.map(({ what, item, where, quantity, unit, rate, amount }) =>
        [what, item, where, quantity, unit, rate, amount].join(' '),
      ),
    ).toEqual([
      'blank s lines.0 8 piece 3.25 26',
      'blank xl lines.0 4 piece 3.75 15',
      // 12 × 0.01 ml × 22 cm × 32 cm
      'consumable primer lines.0.placements.0 84.48 ml 0.02 1.6896',
      // 12 × 20 ml/m² × 0.03 m²
      'consumable black lines.0.placements.0 7.2 ml 0.3 2.16',
      // 12 × 50 ml/m² × 0.025 m²
      'consumable white lines.0.placements.0 15 ml 0.4 6',
      'consumable tag lines.0.placements.0 12 piece 0.05 0.6',
      'consumable liner lines.0.placements.0 24 piece 0.01 0.24',
      'spoilage ink lines.0.placements.0 0.1 share 10.6896 1.06896',
      // 60 s + 120 s
      'set-up-crew jet lines.0 0.05 h 18 0.9',
      'set-up-station jet lines.0 0.05 h 6 0.3',
      // 12 × 12 s + 12 × 600 cm² × 0.06 s = 576 s
      'crew jet lines.0 0.08 h 18 1.44',
      'station jet lines.0 0.16 h 6 0.96',
      'spoilage ink lines.0 0.1 share 2.4 0.24',
      // two batches of 360 s
      'crew bake lines.0 0.02 h 18 0.36',
      'station bake lines.0 0.2 h 3.6 0.72',
      'spoilage ink lines.0 0.1 share 1.08 0.108',
      // 6 min + 12 × 0.5 min
      'packing packing order 0.2 h 18 3.6',
    ]);
  });

  it('adds up', () => {
    // 41 + 10.6896 + 1.06896 + 1.2 + 2.4 + 0.24 + 1.08 + 0.108 + 3.6
    expect(bill.total).toBe('61.38656');
    expect(bill.byLine).toEqual(['61.38656']);
  });

  it('counts the minutes of spoiled pieces', () => {
    // jet: 180 s + 576 s × 1.1; oven: 720 s × 1.1
    expect(bill.stationMinutes).toEqual({ jet: expect.closeTo(13.56, 9), oven: expect.closeTo(13.2, 9) });
    // 180 s + (288 s + 72 s) × 1.1 + 12 min
    expect(bill.crewMinutes).toBeCloseTo(21.6, 9);
  });

  it('leaves out white where none is printed', () => {
    const light = billOf({ color: 'white', counts: { s: 12 } });
    expect(amountsOf(light, 'white')).toEqual({});
    // 144 s + 12 × 600 cm² × 0.02 s = 288 s
    expect(amountsOf(light, 'jet')).toMatchObject({ crew: '0.72', station: '0.48' });
  });
});

describe('what is paid once', () => {
  it('pays set-ups once per order and once per design, whatever the lines', () => {
    const same = billOf({ counts: { s: 3 } }, { color: 'black', counts: { s: 3 } });
    // 60 s + 120 s, as for one line
    expect(amountsOf(same, 'jet')['set-up-crew']).toBe('0.9');
    const different = billOf({ counts: { s: 3 } }, { counts: { s: 3 }, prints: [{ design: 'other' }] });
    // 60 s + 2 × 120 s = 300 s
    expect(amountsOf(different, 'jet')['set-up-crew']).toBe('1.499999994');
  });

  it('pays a set-up for every different name', () => {
    const names = (...texts: string[]): WrittenBill =>
      billOf({ counts: { s: texts.length }, prints: [{ names: texts, w: 10, k: 20 }] });
    // 60 s + 120 s, and 60 s + 4 × 120 s = 540 s
    expect(amountsOf(names('Ada', 'Ada', 'Ada', 'Ada'), 'jet')['set-up-crew']).toBe('0.9');
    expect(amountsOf(names('Ada', 'Bo', 'Cy', 'Di'), 'jet')['set-up-crew']).toBe('2.7');
  });

  it('fills batches over the whole order', () => {
    // 6 + 4 pieces fill one oven load of ten; 6 + 5 take two.
    expect(amountsOf(billOf({ counts: { s: 6 } }, { counts: { s: 4 } }), 'bake')['station']).toBe('0.36');
    expect(amountsOf(billOf({ counts: { s: 6 } }, { counts: { s: 5 } }), 'bake')['station']).toBe('0.72');
  });

  it('uses a per-piece consumable once a piece, however many prints it has', () => {
    const two = billOf({ counts: { s: 4 }, prints: [{}, { design: 'back' }] });
    expect(amountsOf(two, 'tag')).toEqual({ consumable: '0.2' });
    expect(two.lines.filter(({ item }) => item === 'liner').map(({ amount }) => amount)).toEqual([
      '0.08',
      '0.08',
    ]);
    // One bake for both prints of a piece.
    expect(amountsOf(two, 'bake')['station']).toBe('0.36');
  });
});

describe('sheets', () => {
  const large: RoutedPrintInput = { method: 'sheet', widthMm: 280, heightMm: 320 };
  const small: RoutedPrintInput = { method: 'sheet', widthMm: 90, heightMm: 90, design: 'chest' };

  it('are nested for all placements of the order together', () => {
    // A sheet of 310 x 440 mm holds one large print and, beneath it, three small ones.
    expect(billOf({ counts: { s: 1 }, prints: [large, small] }).sheets).toEqual({ film: 1 });
    expect(billOf({ counts: { s: 8 }, prints: [large, small] }).sheets).toEqual({ film: 8 });
    expect(
      billOf({ counts: { s: 8 }, prints: [large] }, { counts: { s: 24 }, prints: [small] }).sheets,
    ).toEqual({ film: 8 });
    // 12 small ones to a sheet
    expect(billOf({ counts: { s: 24 }, prints: [small] }).sheets).toEqual({ film: 2 });
    expect(billOf({ counts: { s: 25 }, prints: [small] }).sheets).toEqual({ film: 3 });
  });

  it('are paid for whole, with spoilage, and each is printed', () => {
    const bill = billOf({ counts: { s: 25 }, prints: [small] });
    expect(amountsOf(bill, 'film')).toEqual({ sheet: '6' });
    // 3 × 54 s = 162 s
    expect(amountsOf(bill, 'print-sheet')['station']).toBe('0.108');
    expect(bill.lines.find(({ what, rate }) => what === 'spoilage' && rate === '6')?.amount).toBe('0.3');
  });

  it('are not shared where the method does not gang', () => {
    const own = structuredClone(catalog.catalog.methods[1]!);
    const [film] = own.consumables;
    if (film?.driver.kind === 'per-sheet') film.driver.gang = false;
    const apart = billShop({}, {}, { methods: [catalog.catalog.methods[0]!, own] });
    const sheets = (...lines: RoutedLineInput[]): unknown =>
      costOf(apart, routedOf(apart, lines)).written().sheets;
    expect(sheets({ counts: { s: 8 }, prints: [large, small] })).toEqual({ film: 9 });
    // One design on two lines shares; four different names take a sheet each, two alike share one.
    expect(sheets({ counts: { s: 6 }, prints: [small] }, { counts: { s: 6 }, prints: [small] })).toEqual({
      film: 1,
    });
    const named = { method: 'sheet', widthMm: 150, heightMm: 40 } as const;
    expect(sheets({ counts: { s: 4 }, prints: [{ ...named, names: ['A', 'B', 'C', 'D'] }] })).toEqual({
      film: 4,
    });
    expect(sheets({ counts: { s: 4 }, prints: [{ ...named, names: ['A', 'B', 'A', 'B'] }] })).toEqual({
      film: 2,
    });
  });
});

const print = fc.record({
  method: fc.constantFrom('ink' as const, 'sheet' as const),
  widthMm: fc.integer({ min: 10, max: 300 }),
  heightMm: fc.integer({ min: 10, max: 300 }),
  design: fc.constantFrom('one', 'two', 'three'),
  k: fc.double({ min: 0, max: 900, noNaN: true }),
  w: fc.double({ min: 0, max: 900, noNaN: true }),
});
const line = fc.record({
  color: fc.constantFrom('white' as const, 'black' as const),
  counts: fc.record({ s: fc.integer({ min: 1, max: 60 }), m: fc.nat(60), xl: fc.nat(60) }),
  prints: fc.array(print, { minLength: 1, maxLength: 3 }),
});
const order = fc.array(line, { minLength: 1, maxLength: 4 });

describe('the basis of prices', () => {
  it('does not fall where nesting happens to save a sheet for one print more', () => {
    const basis = (second: number): bigint => {
      const print = (widthMm: number, heightMm: number): RoutedPrintInput => ({
        method: 'sheet',
        widthMm,
        heightMm,
        w: 10,
      });
      const lines: RoutedLineInput[] = [
        { blank: 'tote', counts: { one: 21 }, prints: [print(70, 61)] },
        { blank: 'tote', counts: { one: second }, prints: [print(44, 58)] },
      ];
      const routed = routedOf(catalog, lines);
      expect(costOf(catalog, routed).written().sheets).toEqual({ film: second === 5 ? 2 : 1 });
      return costOf(catalog, routed).basis;
    };
    // The tote alone adds 1.20; a sheet of 2.00 less would be more than that.
    expect(basis(6) - basis(5)).toBeGreaterThanOrEqual(amountOf('1.20'));
  });
});

describe('any bill', () => {
  it('adds up digit for digit, in total and by line', () => {
    fc.assert(
      fc.property(order, (lines) => {
        const bill = billOf(...lines);
        let sum = money('0');
        for (const { quantity, rate, amount } of bill.lines) {
          const exact = money(quantity).times(money(rate));
          expect(amount).toBe(exact.toDecimalPlaces(12, Money.ROUND_HALF_UP).toFixed());
          sum = sum.plus(money(amount));
        }
        expect(bill.total).toBe(sum.toFixed());
        const shared = bill.byLine.reduce((all, part) => all.plus(money(part)), money('0'));
        expect(bill.total).toBe(shared.toFixed());
        for (const part of bill.byLine) expect(Number(part)).toBeGreaterThan(0);
      }),
      { numRuns: 200 },
    );
  });

  it('is at most its basis, and its basis never falls when a piece is added', () => {
    fc.assert(
      fc.property(order, fc.nat(3), fc.constantFrom('s', 'm', 'xl'), (lines, at, size) => {
        const before = costOf(catalog, routedOf(catalog, lines));
        expect(before.total).toBeLessThanOrEqual(before.basis);
        const grown = lines.map((wish, index) =>
          index === at % lines.length
            ? { ...wish, counts: { ...wish.counts, [size]: wish.counts[size as 's'] + 1 } }
            : wish,
        );
        const after = costOf(catalog, routedOf(catalog, grown));
        // At least the cheapest blank of the catalog: the tote at 1.20.
        expect(after.basis - before.basis).toBeGreaterThanOrEqual(amountOf('1.20'));
      }),
      { numRuns: 300 },
    );
  });

  it('scales with all of its rates', () => {
    const times = 3;
    const scaled = structuredClone(catalog.catalog);
    const up = (amount: string): string => money(amount).times(times).toFixed();
    for (const { sizes, colors } of scaled.blanks) {
      for (const size of sizes) size.cost = up(size.cost);
      for (const color of colors) color.extraCost = up(color.extraCost);
    }
    for (const { consumables } of scaled.methods)
      for (const consumable of consumables) consumable.price = up(consumable.price);
    for (const station of scaled.stations) station.ratePerHour = up(station.ratePerHour);
    scaled.crew.wagePerHour = up(scaled.crew.wagePerHour);
    const dearer = billShop({}, {}, scaled);
    fc.assert(
      fc.property(order, (lines) => {
        const one = costOf(catalog, routedOf(catalog, lines)).written();
        const three = costOf(dearer, routedOf(dearer, lines)).written();
        // Each amount is rounded at the 12th digit.
        const apart = money(three.total).minus(money(one.total).times(times)).abs();
        expect(apart.lte(money('0.000000000003').times(one.lines.length))).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it('never falls when any rate rises', () => {
    fc.assert(
      fc.property(order, fc.nat(20), (lines, which) => {
        const raised = structuredClone(catalog.catalog);
        const rates: (() => void)[] = [
          () => {
            raised.crew.wagePerHour = '18.01';
          },
          ...raised.stations.map((station) => () => {
            station.ratePerHour = money(station.ratePerHour).plus('0.01').toFixed();
          }),
          ...raised.methods.flatMap(({ consumables }) =>
            consumables.map((consumable) => () => {
              consumable.price = money(consumable.price).plus('0.01').toFixed();
            }),
          ),
        ];
        rates[which % rates.length]!();
        const dearer = billShop({}, {}, raised);
        const before = costOf(catalog, routedOf(catalog, lines)).total;
        expect(costOf(dearer, routedOf(dearer, lines)).total).toBeGreaterThanOrEqual(before);
      }),
      { numRuns: 100 },
    );
  });
});
