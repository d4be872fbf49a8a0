import { describe, expect, it } from 'vitest';
import {
  bookingsOf,
  buildPlan,
  commit,
  insert,
  type Job,
  type Plan,
  planByStationAndDay,
} from '../../../../src/promise/index.ts';
import { at, chain, shopOf, week, windows, work } from '../shops.ts';

function planned(plan: Plan, job: Job, from: string): Plan {
  const placed = insert(plan, job, at(from));
  if (placed.kind === 'refused') throw new Error(JSON.stringify(placed.reasons));
  return commit(plan, placed.bookings);
}

describe('the plan by station and day', () => {
  it('lists the pieces of work in open hours, set-up separately, with sums', () => {
    const shop = shopOf({
      stations: [
        { id: 'press', count: 2 },
        { id: 'oven', count: 1 },
      ],
      crew: { count: 2 },
    });
    let plan = buildPlan(shop, []);
    plan = planned(
      plan,
      chain('a', work('press', 60, { setUpS: 1800, crewShare: 0.5 })),
      '2026-03-02T11:00:00Z',
    );
    plan = planned(plan, chain('b', work('press', 120)), '2026-03-02T16:00:00Z');
    const view = planByStationAndDay(shop, bookingsOf(plan), '2026-03-02', 2);
    expect(view).toEqual({
      from: '2026-03-02',
      to: '2026-03-03',
      timeZone: 'UTC',
      stations: [
        {
          station: 'press',
          count: 2,
          days: [
            {
              day: '2026-03-02',
              openS: 2 * 8 * 3600,
              bookedS: 1800 + 3600 + 3600,
              work: [
                {
                  job: 'a',
                  step: 'on press',
                  part: 'set-up',
                  unit: 0,
                  from: '2026-03-02T11:00:00Z',
                  to: '2026-03-02T11:30:00Z',
                  crewShare: 1,
                  state: 'booked',
                },
                {
                  job: 'a',
                  step: 'on press',
                  part: 'run',
                  unit: 0,
                  from: '2026-03-02T11:30:00Z',
                  to: '2026-03-02T12:00:00Z',
                  crewShare: 0.5,
                  state: 'booked',
                },
                {
                  job: 'a',
                  step: 'on press',
                  part: 'run',
                  unit: 0,
                  from: '2026-03-02T13:00:00Z',
                  to: '2026-03-02T13:30:00Z',
                  crewShare: 0.5,
                  state: 'booked',
                },
                {
                  job: 'b',
                  step: 'on press',
                  part: 'run',
                  unit: 0,
                  from: '2026-03-02T16:00:00Z',
                  to: '2026-03-02T17:00:00Z',
                  crewShare: 1,
                  state: 'booked',
                },
              ],
            },
            {
              day: '2026-03-03',
              openS: 2 * 8 * 3600,
              bookedS: 3600,
              work: [
                {
                  job: 'b',
                  step: 'on press',
                  part: 'run',
                  unit: 0,
                  from: '2026-03-03T08:00:00Z',
                  to: '2026-03-03T09:00:00Z',
                  crewShare: 1,
                  state: 'booked',
                },
              ],
            },
          ],
        },
        {
          station: 'oven',
          count: 1,
          days: [
            { day: '2026-03-02', openS: 8 * 3600, bookedS: 0, work: [] },
            { day: '2026-03-03', openS: 8 * 3600, bookedS: 0, work: [] },
          ],
        },
      ],
      crew: [
        { day: '2026-03-02', openS: 2 * 8 * 3600, bookedS: 1800 + 1800 + 3600 },
        { day: '2026-03-03', openS: 2 * 8 * 3600, bookedS: 3600 },
      ],
    });
    // plain data: a JSON round trip loses nothing
    expect(JSON.parse(JSON.stringify(view))).toEqual(view);
  });

  it("splits a night shift at midnight in the shop's time zone", () => {
    const shop = shopOf(
      {
        stations: [{ id: 'press', count: 1 }],
        crew: {
          count: 1,
          away: [{ from: at('2026-03-03T05:00:00Z'), to: at('2026-03-03T06:00:00Z'), count: 1 }],
        },
        calendar: { timeZone: 'America/New_York', week: week({ mon: windows('22:00-02:00') }) },
      },
      '2026-03-02',
      3,
    );
    const plan = planned(
      buildPlan(shop, []),
      chain('a', work('press', 60, { crewShare: 0.5 })),
      '2026-03-03T04:30:00Z',
    );
    // the only person is away from 05:00 to 06:00 UTC, so nothing fits before 06:00
    const view = planByStationAndDay(shop, bookingsOf(plan), '2026-03-02', 2);
    expect(
      view.stations[0]!.days.map((day) => [day.openS, day.bookedS, day.work.map((each) => each.from)]),
    ).toEqual([
      [7200, 0, []],
      [7200, 3600, ['2026-03-03T06:00:00Z']],
    ]);
    expect(view.crew.map((day) => day.openS)).toEqual([7200, 3600]);
  });

  it('throws on days the shop was not compiled for', () => {
    const shop = shopOf({}, '2026-03-02', 5);
    const ask = (from: string, count: number) => () => planByStationAndDay(shop, [], from, count);
    expect(ask('2026-03-01', 1)).toThrow(/1 days from '2026-03-01'.*within 2026-03-02 to 2026-03-06/);
    expect(ask('2026-03-02', 6)).toThrow(/6 days from/);
    expect(ask('2026-03-02', 0)).toThrow(/0 days from/);
  });
});
