import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compileShopHours, type ShopSpec } from '../../../../src/promise/index.ts';
import { calendar } from '../shops.ts';

describe('open hours', () => {
  const windowsArb = fc.array(
    fc
      .tuple(fc.integer({ min: 0, max: 23 }), fc.constantFrom(0, 30), fc.integer({ min: 0, max: 23 }))
      .map(([from, minute, to]) => ({
        from: `${String(from).padStart(2, '0')}:${minute === 0 ? '00' : '30'}`,
        to: `${String(to).padStart(2, '0')}:15`,
      })),
    { maxLength: 3 },
  );
  const zone = fc.constantFrom(
    'UTC',
    'America/New_York',
    'Europe/Berlin',
    'Australia/Lord_Howe',
    'Asia/Kathmandu',
  );

  it('map instants to open seconds and back, across clock changes in any zone', () => {
    fc.assert(
      fc.property(
        zone,
        fc.constantFrom('2026-03-05', '2026-03-26', '2026-04-02', '2026-10-22', '2026-10-30'),
        windowsArb,
        windowsArb,
        fc.nat({ max: 5 * 86_400 }),
        (timeZone, day, weekday, sunday, offset) => {
          const spec: ShopSpec = {
            calendar: calendar({
              timeZone,
              week: {
                mon: weekday,
                tue: weekday,
                wed: [],
                thu: weekday,
                fri: weekday,
                sat: weekday,
                sun: sunday,
              },
            }),
            stations: [],
            crew: { count: 1 },
          };
          const shop = compileShopHours(spec, day, 5);
          const { hours } = shop;
          for (let i = 0; i < hours.count; i++) {
            expect(hours.closes[i]!).toBeGreaterThan(hours.opens[i]!);
            if (i > 0) expect(hours.opens[i]!).toBeGreaterThan(hours.closes[i - 1]!);
          }
          const instant = shop.from + offset;
          const before = hours.openSecondsAt(instant);
          // counted from the intervals alone
          let counted = 0;
          for (let i = 0; i < hours.count; i++) {
            counted += Math.max(0, Math.min(instant, hours.closes[i]!) - hours.opens[i]!);
          }
          expect(before).toBe(counted);
          if (before < hours.totalS) {
            const start = hours.startAt(before);
            expect(start).toBeGreaterThanOrEqual(instant);
            expect(hours.openSecondsAt(start)).toBe(before);
            expect(hours.openSecondsAt(start + 1)).toBe(before + 1);
          } else expect(hours.startAt(before)).toBe(Number.POSITIVE_INFINITY);
          if (before > 0) {
            const end = hours.endAt(before);
            expect(end).toBeLessThanOrEqual(instant);
            expect(hours.openSecondsAt(end)).toBe(before);
            expect(hours.openSecondsAt(end - 1)).toBe(before - 1);
          }
        },
      ),
      { numRuns: 300 },
    );
  });

  it('agree with the wall clock every quarter of an hour, on days without a clock change', () => {
    fc.assert(
      fc.property(zone, windowsArb, (timeZone, daily) => {
        const all = { mon: daily, tue: daily, wed: daily, thu: daily, fri: daily, sat: daily, sun: daily };
        const shop = compileShopHours(
          { calendar: calendar({ timeZone, week: all }), stations: [], crew: { count: 1 } },
          '2026-06-10',
          2,
        );
        const format = new Intl.DateTimeFormat('en-GB', {
          timeZone,
          hour: '2-digit',
          minute: '2-digit',
          hourCycle: 'h23',
        });
        for (let minute = shop.from; minute < shop.to; minute += 900) {
          const clock = format.format(minute * 1000);
          const open = daily.some(({ from, to }) =>
            from < to ? clock >= from && clock < to : clock >= from || clock < to,
          );
          expect([clock, shop.hours.openSecondsAt(minute + 1) - shop.hours.openSecondsAt(minute)]).toEqual([
            clock,
            open ? 1 : 0,
          ]);
        }
      }),
      { numRuns: 60 },
    );
  });
});
