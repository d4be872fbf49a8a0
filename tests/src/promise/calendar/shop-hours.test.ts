import { describe, expect, it } from 'vitest';
import {
  compileShopHours,
  extendShopHours,
  PlanInputError,
  withOutage,
} from '../../../../src/promise/index.ts';
import { at, calendar, iso, OFFICE, shopOf, week, windows } from '../shops.ts';

/** Open intervals as text. */
function intervalsOf(hours: { opens: Float64Array; closes: Float64Array }): string[] {
  return Array.from(hours.opens, (open, i) => `${iso(open)}/${iso(hours.closes[i]!)}`);
}

function hoursOf(changes: Parameters<typeof calendar>[0], firstDay: string, days: number): string[] {
  return intervalsOf(
    compileShopHours({ calendar: calendar(changes), stations: [], crew: { count: 1 } }, firstDay, days).hours,
  );
}

describe('shop hours', () => {
  it('have a break at noon and a free weekend', () => {
    expect(hoursOf({}, '2026-03-06', 4)).toEqual([
      '2026-03-06T08:00:00Z/2026-03-06T12:00:00Z',
      '2026-03-06T13:00:00Z/2026-03-06T17:00:00Z',
      '2026-03-09T08:00:00Z/2026-03-09T12:00:00Z',
      '2026-03-09T13:00:00Z/2026-03-09T17:00:00Z',
    ]);
  });

  it('let a night shift run past midnight, also into the first day', () => {
    const night = week({ thu: windows('22:00-02:00'), fri: windows('22:00-02:00') });
    expect(hoursOf({ week: night }, '2026-03-06', 2)).toEqual([
      '2026-03-06T00:00:00Z/2026-03-06T02:00:00Z',
      '2026-03-06T22:00:00Z/2026-03-07T02:00:00Z',
    ]);
    // a closed day cancels the shift that starts on it, not the one that reaches into it
    const closures = [{ from: '2026-03-06', to: '2026-03-06', name: 'off' }];
    expect(hoursOf({ week: night, closures }, '2026-03-05', 3)).toEqual([
      '2026-03-05T22:00:00Z/2026-03-06T02:00:00Z',
    ]);
  });

  it('take a window from a time to itself as 24 hours, and end one to 24:00 at midnight', () => {
    expect(hoursOf({ week: week({ fri: windows('06:00-06:00') }) }, '2026-03-06', 2)).toEqual([
      '2026-03-06T06:00:00Z/2026-03-07T06:00:00Z',
    ]);
    expect(hoursOf({ week: week({ fri: windows('06:00-24:00') }) }, '2026-03-06', 2)).toEqual([
      '2026-03-06T06:00:00Z/2026-03-07T00:00:00Z',
    ]);
  });

  it('end a shift in spring when the clock passes its end, even if that time is skipped', () => {
    const shift = week({ sat: windows('22:00-02:30'), sun: windows('02:15-04:00') });
    // 02:00 to 03:00 do not exist on 8 March: both the end 02:30 and the start 02:15 are the moment of the change
    expect(hoursOf({ timeZone: 'America/New_York', week: shift }, '2026-03-07', 2)).toEqual([
      '2026-03-08T03:00:00Z/2026-03-08T08:00:00Z',
    ]);
    expect(
      hoursOf({ timeZone: 'America/New_York', week: week({ sun: windows('02:10-02:50') }) }, '2026-03-08', 1),
    ).toEqual([]);
  });

  it('use the first occurrence in autumn of a time that comes twice', () => {
    const zone = { timeZone: 'America/New_York' };
    // 22:00 EDT to 01:30 EDT
    expect(hoursOf({ ...zone, week: week({ sat: windows('22:00-01:30') }) }, '2026-10-31', 2)).toEqual([
      '2026-11-01T02:00:00Z/2026-11-01T05:30:00Z',
    ]);
    // 01:30 EDT to 02:00 EST is an hour and a half
    expect(hoursOf({ ...zone, week: week({ sun: windows('01:30-02:00') }) }, '2026-11-01', 1)).toEqual([
      '2026-11-01T05:30:00Z/2026-11-01T07:00:00Z',
    ]);
  });

  it('are empty on a day that the zone skipped (Apia, 30 December 2011)', () => {
    const all = windows('09:00-17:00');
    const open = hoursOf(
      { timeZone: 'Pacific/Apia', week: week({ thu: all, fri: all, sat: all }) },
      '2011-12-29',
      3,
    );
    expect(open).toEqual([
      '2011-12-29T19:00:00Z/2011-12-30T03:00:00Z',
      '2011-12-30T19:00:00Z/2011-12-31T03:00:00Z',
    ]);
  });

  it('begin at 01:00 when midnight itself is skipped (Asuncion, 2024-10-06)', () => {
    expect(
      hoursOf({ timeZone: 'America/Asuncion', week: week({ sun: windows('00:00-02:00') }) }, '2024-10-06', 1),
    ).toEqual(['2024-10-06T04:00:00Z/2024-10-06T05:00:00Z']);
  });

  it('include extra shifts on weekends and holidays', () => {
    const extra = {
      closures: [{ from: '2026-03-06', to: '2026-03-09', name: 'closed' }],
      extraShifts: [
        { day: '2026-03-07', from: '09:00', to: '11:00' },
        { day: '2026-03-08', from: '10:00', to: '12:00', stations: ['press'] },
      ],
    };
    const shop = shopOf({ calendar: extra }, '2026-03-06', 4);
    const press = shop.units[shop.stations.get('press')!.firstUnit]!;
    const printer = shop.units[shop.stations.get('printer')!.firstUnit]!;
    expect(intervalsOf(printer.hours)).toEqual(['2026-03-07T09:00:00Z/2026-03-07T11:00:00Z']);
    expect(intervalsOf(press.crewedHours)).toEqual([
      '2026-03-07T09:00:00Z/2026-03-07T11:00:00Z',
      '2026-03-08T10:00:00Z/2026-03-08T12:00:00Z',
    ]);
  });

  it('of a station follow its own week without maintenance, and crewed hours are those it shares with the crew', () => {
    const shop = shopOf(
      {
        stations: [
          {
            id: 'press',
            count: 2,
            hours: week({ mon: windows('06:00-14:00') }),
            closures: [
              { from: at('2026-03-02T10:00:00Z'), to: at('2026-03-02T11:00:00Z') },
              { from: at('2026-03-02T12:30:00Z'), to: at('2026-03-02T13:30:00Z'), unit: 1 },
            ],
          },
        ],
        crew: { count: 1, hours: week({ mon: windows('07:00-13:00') }) },
      },
      '2026-03-02',
      1,
    );
    expect(intervalsOf(shop.units[0]!.hours)).toEqual([
      '2026-03-02T06:00:00Z/2026-03-02T10:00:00Z',
      '2026-03-02T11:00:00Z/2026-03-02T14:00:00Z',
    ]);
    expect(intervalsOf(shop.units[1]!.crewedHours)).toEqual([
      '2026-03-02T07:00:00Z/2026-03-02T10:00:00Z',
      '2026-03-02T11:00:00Z/2026-03-02T12:30:00Z',
    ]);
    const down = withOutage(shop, 'press', {
      from: at('2026-03-02T06:00:00Z'),
      to: at('2026-03-02T13:00:00Z'),
    });
    expect(intervalsOf(down.units[0]!.hours)).toEqual(['2026-03-02T13:00:00Z/2026-03-02T14:00:00Z']);
    expect(intervalsOf(down.units[1]!.hours)).toEqual(['2026-03-02T13:30:00Z/2026-03-02T14:00:00Z']);
  });

  it('stay the same when extended to more days', () => {
    const short = shopOf({ calendar: { timeZone: 'Europe/Berlin' } }, '2026-03-23', 5);
    const long = extendShopHours(short, 30);
    expect(intervalsOf(long.hours).slice(0, short.hours.count)).toEqual(intervalsOf(short.hours));
    expect(long.hours.count).toBeGreaterThan(short.hours.count);
    expect(extendShopHours(long, 10)).toBe(long);
  });
});

describe('wrong input throws, naming', () => {
  const bad = (changes: Partial<Parameters<typeof shopOf>[0]>, days = 10): (() => unknown) => {
    return () => shopOf(changes, '2026-03-02', days);
  };
  it.each([
    ['zone', { calendar: { timeZone: 'Mars/Olympus' } }, /timeZone is 'Mars\/Olympus'/],
    [
      'time',
      { calendar: { week: week({ mon: [{ from: '8:00', to: '12:00' }] }) } },
      /calendar\.week\.mon\[0\]\.from is '8:00'/,
    ],
    [
      'start at 24:00',
      { calendar: { week: week({ tue: [{ from: '24:00', to: '12:00' }] }) } },
      /tue\[0\]\.from is '24:00'/,
    ],
    [
      'day',
      { calendar: { closures: [{ from: '2026-02-30', to: '2026-03-01', name: '' }] } },
      /closures\[0\]\.from is '2026-02-30'/,
    ],
    [
      'order of days',
      { calendar: { closures: [{ from: '2026-03-02', to: '2026-03-01', name: '' }] } },
      /must not be before its from/,
    ],
    ['cut-off', { calendar: { cutoff: '25:00' } }, /calendar\.cutoff is '25:00'/],
    [
      'count',
      { stations: [{ id: 'press', count: 0 }] },
      /station 'press'\.count is 0; it must be a whole number from 1 to 1000/,
    ],
    [
      'twice',
      {
        stations: [
          { id: 'press', count: 1 },
          { id: 'press', count: 1 },
        ],
      },
      /'press' is listed twice/,
    ],
    [
      'unit',
      { stations: [{ id: 'press', count: 1, closures: [{ from: 0, to: 1, unit: 1 }] }] },
      /unit is 1; it must be a whole number from 0 to 0/,
    ],
    ['outage', { stations: [{ id: 'press', count: 1, closures: [{ from: 5, to: 1 }] }] }, /runs from 5 to 1/],
    ['crew', { crew: { count: -1 } }, /crew\.count is -1/],
  ])('%s', (_, changes, message) => {
    expect(bad(changes)).toThrow(PlanInputError);
    expect(bad(changes)).toThrow(message);
  });

  it('too few or too many days', () => {
    expect(bad({}, 0)).toThrow(/days is 0; it must be a whole number from 1 to 3660/);
    expect(bad({}, 4000)).toThrow(/days is 4000/);
    expect(() => shopOf({ calendar: { week: week({ mon: OFFICE }) } }, '2026-3-2')).toThrow(
      /firstDay is '2026-3-2'/,
    );
  });
});
