import { describe, expect, it } from 'vitest';
import {
  clockChanges,
  compileShopHours,
  dayNumber,
  isoWeekOf,
  type WeekHours,
  ZoneClock,
} from '../../../src/promise/index.ts';
import { at, calendar, iso, week, windows } from '../../src/promise/shops.ts';

describe('clock changes by Directive 2000/84/EC (last Sundays of March and October at 01:00 UTC) and 15 U.S.C. 260a (second Sunday of March and first of November at 02:00 local), both quoted from memory; dates as in the time zone database', () => {
  const changesIn = (zone: string, year: number): string[] =>
    clockChanges(zone, `${year}-01-01`, `${year + 1}-01-01`).map(
      (change) => `${iso(change.at)} ${change.shiftS > 0 ? '+' : ''}${change.shiftS / 3600}`,
    );

  it('in the European Union and the United Kingdom', () => {
    for (const zone of ['Europe/Berlin', 'Europe/London']) {
      expect(changesIn(zone, 2026)).toEqual(['2026-03-29T01:00:00Z +1', '2026-10-25T01:00:00Z -1']);
      expect(changesIn(zone, 2027)).toEqual(['2027-03-28T01:00:00Z +1', '2027-10-31T01:00:00Z -1']);
    }
  });

  it('in the United States', () => {
    expect(changesIn('America/New_York', 2026)).toEqual([
      '2026-03-08T07:00:00Z +1',
      '2026-11-01T06:00:00Z -1',
    ]);
    expect(changesIn('America/New_York', 2027)).toEqual([
      '2027-03-14T07:00:00Z +1',
      '2027-11-07T06:00:00Z -1',
    ]);
  });

  it('in Sydney, where spring begins in October', () => {
    const clock = new ZoneClock('Australia/Sydney');
    const days = clockChanges('Australia/Sydney', '2026-01-01', '2027-12-31').map((change) => [
      clock.dayAt(change.at),
      change.shiftS,
    ]);
    expect(days).toEqual([
      [dayNumber('2026-04-05'), -3600],
      [dayNumber('2026-10-04'), 3600],
      [dayNumber('2027-04-04'), -3600],
      [dayNumber('2027-10-03'), 3600],
    ]);
  });

  it('make a day of 23 hours in spring and 25 in autumn, in which a shop that never closes is open all the time', () => {
    const always: WeekHours = week({
      mon: windows('00:00-24:00'),
      tue: windows('00:00-24:00'),
      wed: windows('00:00-24:00'),
      thu: windows('00:00-24:00'),
      fri: windows('00:00-24:00'),
      sat: windows('00:00-24:00'),
      sun: windows('00:00-24:00'),
    });
    for (const [timeZone, day, hours] of [
      ['Europe/Berlin', '2026-03-29', 23],
      ['Europe/Berlin', '2026-10-25', 25],
      ['America/New_York', '2026-03-08', 23],
      ['America/New_York', '2026-11-01', 25],
      ['America/New_York', '2026-11-02', 24],
      ['Australia/Sydney', '2026-04-05', 25],
      ['Australia/Sydney', '2026-10-04', 23],
    ] as const) {
      const shop = compileShopHours(
        { calendar: calendar({ timeZone, week: always }), stations: [], crew: { count: 1 } },
        day,
        1,
      );
      expect([timeZone, day, shop.hours.totalS / 3600]).toEqual([timeZone, day, hours]);
    }
  });
});

describe('ISO 8601 weeks (expected values from two independent calendar implementations)', () => {
  it.each([
    ['2005-01-01', 2004, 53, 6],
    ['2008-12-29', 2009, 1, 1],
    ['2010-01-03', 2009, 53, 7],
    ['2025-12-28', 2025, 52, 7],
    ['2025-12-29', 2026, 1, 1],
    ['2026-01-01', 2026, 1, 4],
    ['2026-12-31', 2026, 53, 4],
    ['2027-01-03', 2026, 53, 7],
    ['2027-01-04', 2027, 1, 1],
  ])('%s is in week %i-W%i, day %i', (day, year, number, weekday) => {
    expect(isoWeekOf(day)).toEqual({ year, week: number, weekday });
  });
});

describe('holidays by 5 U.S.C. 6103: one on a Saturday is observed on Friday (6103(b)), one on a Sunday on Monday (Executive Order 11582)', () => {
  const OBSERVED: Record<string, string[]> = {
    2026: [
      '2026-01-01',
      '2026-01-19',
      '2026-02-16',
      '2026-05-25',
      '2026-06-19',
      '2026-07-03',
      '2026-09-07',
      '2026-10-12',
      '2026-11-11',
      '2026-11-26',
      '2026-12-25',
    ],
    // New Year's Day of 2028 is a Saturday, so 2027 has twelve
    2027: [
      '2027-01-01',
      '2027-01-18',
      '2027-02-15',
      '2027-05-31',
      '2027-06-18',
      '2027-07-05',
      '2027-09-06',
      '2027-10-11',
      '2027-11-11',
      '2027-11-25',
      '2027-12-24',
      '2027-12-31',
    ],
  };

  it.each([
    ['2026', 261],
    ['2027', 261],
  ])('in %s a Monday-to-Friday shop works all %i weekdays except these', (year, weekdays) => {
    const closed = OBSERVED[year]!;
    const eight = windows('09:00-17:00');
    const shop = compileShopHours(
      {
        calendar: calendar({
          timeZone: 'America/New_York',
          week: week({ mon: eight, tue: eight, wed: eight, thu: eight, fri: eight }),
          closures: closed.map((day) => ({ from: day, to: day, name: 'holiday', kind: 'holiday' as const })),
        }),
        stations: [],
        crew: { count: 1 },
      },
      `${year}-01-01`,
      365,
    );
    const first = dayNumber(`${year}-01-01`);
    const worked = Array.from({ length: 365 }, (_, i) => first + i).filter((day) =>
      shop.workingDays.isWorking(day),
    );
    expect(worked).toHaveLength(weekdays - closed.length);
    for (const day of closed) expect(shop.workingDays.isWorking(dayNumber(day))).toBe(false);
    // clock changes fall on Sundays, so every working day has its eight hours
    expect(shop.hours.totalS).toBe(worked.length * 8 * 3600);
  });

  it('and clock changes: the shop opens at nine by its own clock before and after', () => {
    const nine = windows('09:00-17:00');
    const shop = compileShopHours(
      {
        calendar: calendar({ timeZone: 'America/New_York', week: week({ fri: nine, mon: nine }) }),
        stations: [],
        crew: { count: 1 },
      },
      '2026-03-06',
      4,
    );
    expect(Array.from(shop.hours.opens, iso)).toEqual(['2026-03-06T14:00:00Z', '2026-03-09T13:00:00Z']);
    expect(at('2026-03-09T13:00:00Z') - at('2026-03-06T14:00:00Z')).toBe(3 * 86_400 - 3600);
  });
});
