import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type DeliveryRule,
  latestEnd,
  type PromisedDay,
  promiseDay,
  releaseTime,
} from '../../../../src/promise/index.ts';
import { at, iso, shopOf, week, windows } from '../shops.ts';

const PICK_UP: DeliveryRule = { kind: 'pick-up', workingDays: 0, handOverBy: null };
const CARRIER: DeliveryRule = { kind: 'carrier', workingDays: 2, handOverBy: '15:00' };

const shop = shopOf(
  {
    calendar: {
      timeZone: 'America/New_York',
      cutoff: '14:00',
      closures: [
        { from: '2026-05-25', to: '2026-05-25', name: 'Memorial Day', kind: 'holiday' },
        { from: '2026-05-28', to: '2026-05-29', name: 'stock-taking' },
      ],
    },
  },
  '2026-05-18',
  60,
);

function days(endsAt: string, packingS: number, rule: DeliveryRule): string {
  const { packedDay, leavesDay, day } = promiseDay(shop, at(endsAt), packingS, rule) as PromisedDay;
  return `${packedDay} ${leavesDay} ${day}`;
}

describe('the promised day', () => {
  it('is the day the order is packed, for pick-up', () => {
    expect(days('2026-05-20T15:00:00-04:00', 600, PICK_UP)).toBe('2026-05-20 2026-05-20 2026-05-20');
  });

  it('allows for packing in open hours: work that ends at closing is packed the next working day', () => {
    expect(days('2026-05-20T16:55:00-04:00', 600, PICK_UP)).toBe('2026-05-21 2026-05-21 2026-05-21');
    // after the long weekend
    expect(days('2026-05-22T17:00:00-04:00', 600, PICK_UP)).toBe('2026-05-26 2026-05-26 2026-05-26');
    // packed exactly at closing time is still that day
    expect(days('2026-05-20T16:50:00-04:00', 600, PICK_UP)).toBe('2026-05-20 2026-05-20 2026-05-20');
  });

  it('is the next working day for work that finishes drying on a Saturday night', () => {
    expect(days('2026-05-23T03:00:00-04:00', 0, PICK_UP)).toBe('2026-05-23 2026-05-26 2026-05-26');
  });

  it('may add working days of the shop for pick-up, which skip its own closures', () => {
    expect(days('2026-05-27T10:00:00-04:00', 0, { ...PICK_UP, workingDays: 1 })).toBe(
      '2026-05-27 2026-05-27 2026-06-01',
    );
  });

  it("counts carrier days: Monday to Friday without holidays, but including the shop's own closures", () => {
    expect(days('2026-05-21T10:00:00-04:00', 0, CARRIER)).toBe('2026-05-21 2026-05-21 2026-05-26');
    expect(days('2026-05-27T10:00:00-04:00', 0, CARRIER)).toBe('2026-05-27 2026-05-27 2026-05-29');
  });

  it('is later when the order is packed after the carrier has come', () => {
    expect(days('2026-05-21T15:00:00-04:00', 0, CARRIER)).toBe('2026-05-21 2026-05-21 2026-05-26');
    expect(days('2026-05-21T15:00:01-04:00', 0, CARRIER)).toBe('2026-05-21 2026-05-22 2026-05-27');
    // the shop is closed on 28 and 29 May, so nobody hands it over before Monday
    expect(days('2026-05-27T16:00:00-04:00', 0, CARRIER)).toBe('2026-05-27 2026-06-01 2026-06-03');
  });

  it("is a day in the shop's time zone, not in UTC", () => {
    expect(promiseDay(shop, at('2026-05-21T02:00:00Z'), 0, PICK_UP)!.packedDay).toBe('2026-05-20');
  });

  it("is unknown past the end of the shop's hours", () => {
    expect(promiseDay(shop, shop.to, 0, PICK_UP)).toBeUndefined();
    expect(promiseDay(shop, shop.to - 1, 86_400, PICK_UP)).toBeUndefined();
    expect(promiseDay(shop, Number.POSITIVE_INFINITY, 60, PICK_UP)).toBeUndefined();
  });

  it('throws on a wrong rule', () => {
    expect(() => promiseDay(shop, shop.from, -1, PICK_UP)).toThrow(/packingS is -1/);
    expect(() => promiseDay(shop, shop.from, 0, { ...PICK_UP, workingDays: 0.5 })).toThrow(
      /workingDays is 0\.5/,
    );
    expect(() => promiseDay(shop, shop.from, 0, { ...CARRIER, handOverBy: '3pm' })).toThrow(
      /handOverBy is '3pm'/,
    );
  });
});

describe('the latest end that keeps a promise', () => {
  it('is the last second that does, for any rule', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(PICK_UP, CARRIER, { ...PICK_UP, workingDays: 2, handOverBy: '12:00' }),
        fc.constantFrom(0, 600, 7200),
        fc.integer({ min: 0, max: 40 * 86_400 }),
        (rule, packingS, offset) => {
          const { day } = promiseDay(shop, shop.from + offset, packingS, rule)!;
          const last = latestEnd(shop, { day, packingS, rule })!;
          expect(last).toBeGreaterThanOrEqual(shop.from + offset);
          expect(promiseDay(shop, last, packingS, rule)!.day).toBe(day);
          const after = promiseDay(shop, last + 1, packingS, rule);
          if (after) expect(after.day > day).toBe(true);
        },
      ),
    );
    expect(latestEnd(shop, { day: '2026-05-01', packingS: 0, rule: PICK_UP })).toBeUndefined();
  });

  it('keeps its order: a later end is never promised earlier', () => {
    fc.assert(
      fc.property(fc.nat({ max: 40 * 86_400 }), fc.nat({ max: 10 * 86_400 }), (offset, more) => {
        const early = promiseDay(shop, shop.from + offset, 600, CARRIER)!;
        const late = promiseDay(shop, shop.from + offset + more, 600, CARRIER)!;
        expect(late.day >= early.day).toBe(true);
      }),
    );
  });
});

describe('the order cut-off', () => {
  it('releases an order at once before the cut-off, and on the next working day after it', () => {
    const before = at('2026-05-22T13:59:59-04:00');
    expect(releaseTime(shop, before)).toEqual({ notBefore: before, afterCutoff: false });
    const after = releaseTime(shop, at('2026-05-22T14:00:00-04:00'));
    expect(after.afterCutoff).toBe(true);
    // the Tuesday after Memorial Day
    expect(iso(after.notBefore)).toBe('2026-05-26T04:00:00Z');
  });

  it('does not apply on days that are not worked, or when there is none', () => {
    const sunday = at('2026-05-24T20:00:00-04:00');
    expect(releaseTime(shop, sunday)).toEqual({ notBefore: sunday, afterCutoff: false });
    const none = shopOf({}, '2026-03-02', 5);
    expect(releaseTime(none, at('2026-03-02T23:00:00Z')).afterCutoff).toBe(false);
  });

  it('follows the clock on days when it is changed', () => {
    const sunday = shopOf(
      {
        calendar: {
          timeZone: 'America/New_York',
          cutoff: '12:00',
          week: week({ sun: windows('08:00-16:00') }),
        },
      },
      '2026-03-08',
      14,
    );
    expect(releaseTime(sunday, at('2026-03-08T15:59:59Z')).afterCutoff).toBe(false);
    expect(releaseTime(sunday, at('2026-03-08T16:00:00Z')).afterCutoff).toBe(true);
  });
});
