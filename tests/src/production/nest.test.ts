import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  fitsSheet,
  monotoneSheets,
  type NestPrints,
  type NestSheet,
  nest,
  printsPerSheet,
} from '../../../src/production/nest.ts';
import { faultsOf } from './layout-faults.ts';

const SHEET: NestSheet = { widthMm: 320, heightMm: 450, marginMm: 5, gapMm: 6 };

const anySheet = fc.record({
  widthMm: fc.integer({ min: 200, max: 600 }),
  heightMm: fc.integer({ min: 200, max: 600 }),
  marginMm: fc.integer({ min: 0, max: 20 }),
  gapMm: fc.integer({ min: 0, max: 12 }),
});
const size = fc.double({ min: 15, max: 160, noNaN: true }).map((mm) => Math.round(mm * 10) / 10);
const anyPrints = fc.array(fc.record({ widthMm: size, heightMm: size, count: fc.nat(30) }), { maxLength: 6 });

describe('any nest', () => {
  it('lays every print inside the margins, a gap apart, none twice', () => {
    fc.assert(
      fc.property(anySheet, anyPrints, fc.boolean(), (sheet, prints, mayTurn) => {
        const laid = nest(sheet, prints, mayTurn);
        expect(faultsOf(laid, sheet, prints)).toEqual([]);
        if (!mayTurn)
          for (const { blocks } of laid.layouts) expect(blocks.some(({ turned }) => turned)).toBe(false);
      }),
      { numRuns: 300 },
    );
  });

  it('needs no fewer sheets than the least there can be, and no more than the steady count', () => {
    fc.assert(
      fc.property(anySheet, anyPrints, fc.boolean(), (sheet, prints, mayTurn) => {
        const { sheets, lowerBound } = nest(sheet, prints, mayTurn);
        expect(sheets).toBeGreaterThanOrEqual(lowerBound);
        expect(sheets).toBeLessThanOrEqual(monotoneSheets(sheet, prints, mayTurn));
        const apart = prints.reduce(
          (sum, { widthMm, heightMm, count }) =>
            sum + Math.ceil(count / printsPerSheet(sheet, widthMm, heightMm, mayTurn)),
          0,
        );
        expect(monotoneSheets(sheet, prints, mayTurn)).toBeLessThanOrEqual(apart);
      }),
      { numRuns: 300 },
    );
  });

  it('is the same for the same prints', () => {
    fc.assert(
      fc.property(anySheet, anyPrints, (sheet, prints) => {
        expect(nest(sheet, prints)).toEqual(nest(sheet, structuredClone(prints)));
      }),
      { numRuns: 50 },
    );
  });
});

describe('the steady count', () => {
  it('never falls when prints are added', () => {
    fc.assert(
      fc.property(
        anySheet,
        anyPrints,
        fc.nat(6),
        fc.integer({ min: 1, max: 4 }),
        size,
        size,
        (sheet, prints, at, add, widthMm, heightMm) => {
          const grown: NestPrints[] =
            at < prints.length
              ? prints.map((print, index) => (index === at ? { ...print, count: print.count + add } : print))
              : [...prints, { widthMm, heightMm, count: add }];
          for (const mayTurn of [true, false])
            expect(monotoneSheets(sheet, grown, mayTurn)).toBeGreaterThanOrEqual(
              monotoneSheets(sheet, prints, mayTurn),
            );
        },
      ),
      { numRuns: 1000 },
    );
  });

  it('is needed, since nesting itself may take fewer sheets for more prints', () => {
    const prints = (second: number): NestPrints[] => [
      { widthMm: 70, heightMm: 61, count: 21 },
      { widthMm: 44, heightMm: 58, count: second },
    ];
    // Found by trying 20,000 orders at random; 8 of them were so. Should nesting learn better, find another.
    expect(nest(SHEET, prints(5)).sheets).toBe(2);
    expect(nest(SHEET, prints(6)).sheets).toBe(1);
    expect(monotoneSheets(SHEET, prints(5))).toBeLessThanOrEqual(monotoneSheets(SHEET, prints(6)));
  });

  it('repeats what comes again: counts by the thousand are counted as one by one', () => {
    const kinds = (times: number): NestPrints[] => [
      { widthMm: 200, heightMm: 280, count: times },
      { widthMm: 90, heightMm: 90, count: 2 * times },
      { widthMm: 60, heightMm: 40, count: times },
    ];
    // One large, two chest and one sleeve print to a sheet.
    for (const times of [1, 7, 1000, 200_000])
      expect(monotoneSheets(SHEET, kinds(times))).toBeLessThanOrEqual(times);
    expect(nest(SHEET, kinds(200_000)).sheets).toBeLessThanOrEqual(200_000);
  });
});

describe('worked by hand', () => {
  it('lays like prints in rows', () => {
    // 310 x 440 mm of room; 96 mm pitch: 3 across (3 × 96 - 6 = 282), 4 down (378)
    expect(printsPerSheet(SHEET, 90, 90)).toBe(12);
    expect(nest(SHEET, [{ widthMm: 90, heightMm: 90, count: 12 }]).sheets).toBe(1);
    expect(nest(SHEET, [{ widthMm: 90, heightMm: 90, count: 13 }]).sheets).toBe(2);
    // 10,000 prints of 12 to a sheet: 833 full sheets and one of 4, told as two layouts.
    const many = nest(SHEET, [{ widthMm: 90, heightMm: 90, count: 10_000 }]);
    expect(many.sheets).toBe(834);
    expect(many.layouts.map(({ times }) => times)).toEqual([833, 1]);
  });

  it('turns some where that holds more', () => {
    // 100 x 200 mm and the gap: upright 2 across and 2 down; turned 1 across and 4 down; one upright column of 2 beside
    // a turned one of 4 holds 6.
    expect(printsPerSheet(SHEET, 100, 200, false)).toBe(4);
    expect(printsPerSheet(SHEET, 100, 200, true)).toBe(6);
  });

  it('lays four blocks round like a pinwheel', () => {
    // 30 x 20 in 50 x 50: one each way round the middle holds 4; rows hold 2 + 0.
    expect(printsPerSheet({ widthMm: 50, heightMm: 50, marginMm: 0, gapMm: 0 }, 30, 20)).toBe(4);
  });

  it('fills the rest of a sheet with smaller prints', () => {
    const { sheets, layouts } = nest(SHEET, [
      { widthMm: 280, heightMm: 320, count: 24 },
      { widthMm: 90, heightMm: 90, count: 24 },
    ]);
    expect(sheets).toBe(24);
    expect(layouts.length).toBeLessThanOrEqual(3);
  });

  it('takes a print as large as the room, and by no more than a rounding larger', () => {
    expect(fitsSheet(SHEET, 310, 440)).toBe(true);
    expect(fitsSheet(SHEET, 440, 310)).toBe(true);
    expect(fitsSheet(SHEET, 440, 310, false)).toBe(false);
    expect(fitsSheet(SHEET, 310.04, 440)).toBe(true);
    expect(fitsSheet(SHEET, 310.2, 440)).toBe(false);
    expect(printsPerSheet(SHEET, 310.2, 440)).toBe(0);
    expect(nest(SHEET, [{ widthMm: 440, heightMm: 310, count: 3 }]).sheets).toBe(3);
  });

  it('lays nothing on no sheets', () => {
    expect(nest(SHEET, [])).toEqual({ sheets: 0, lowerBound: 0, layouts: [] });
    expect(nest(SHEET, [{ widthMm: 10, heightMm: 10, count: 0 }]).sheets).toBe(0);
  });
});

describe('hostile input', () => {
  it.each([
    [{ widthMm: 400, heightMm: 500, count: 1 }, '400 x 500 mm do not fit a sheet of 320 x 450 mm'],
    [{ widthMm: 10, heightMm: 10, count: 1.5 }, 'the count 1.5 is not a whole number'],
    [{ widthMm: 10, heightMm: 10, count: -1 }, 'the count -1 is not a whole number'],
    [{ widthMm: Number.NaN, heightMm: 10, count: 1 }, 'NaN x 10 mm is no size'],
    [{ widthMm: 0, heightMm: 10, count: 1 }, '0 x 10 mm is no size'],
  ])('refuses %o, naming it', (print, message) => {
    expect(() => nest(SHEET, [{ widthMm: 10, heightMm: 10, count: 1 }, print])).toThrow(message);
    expect(() => nest(SHEET, [{ widthMm: 10, heightMm: 10, count: 1 }, print])).toThrow('prints 1');
  });

  it('is not slowed by tiny prints, huge sheets or huge counts', () => {
    const huge: NestSheet = { widthMm: 3000, heightMm: 3000, marginMm: 0, gapMm: 0 };
    const tiny = nest(huge, [
      { widthMm: 1, heightMm: 1, count: 20_000_000 },
      { widthMm: 1, heightMm: 2.5, count: 20_000_000 },
    ]);
    // 20,000,000 mm² and 50,000,000 mm² on sheets of 9,000,000 mm²
    expect(tiny.lowerBound).toBe(8);
    expect(tiny.sheets).toBeLessThanOrEqual(9);
  });
});
