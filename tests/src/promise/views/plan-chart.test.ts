import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bookingsOf,
  buildPlan,
  commit,
  drawnDays,
  insert,
  workPieces,
} from '../../../../src/promise/index.ts';
import { at, chain, iso, shopOf, week, windows, work } from '../shops.ts';
import { anyJob, filledPlan, MINUTE_S, otherJobs, smallShop } from '../small-plans.ts';

describe('the plan as data for drawing it', () => {
  it('splits work at midnight, lists batch ends, and gives hours, outages and crew', () => {
    const shop = shopOf({
      stations: [
        {
          id: 'press',
          count: 2,
          closures: [{ from: at('2026-03-02T12:00:00Z'), to: at('2026-03-02T14:00:00Z'), unit: 1 }],
        },
      ],
      crew: {
        count: 3,
        away: [{ from: at('2026-03-02T20:00:00Z'), to: at('2026-03-02T21:00:00Z'), count: 2 }],
      },
      calendar: { week: week({ mon: windows('20:00-02:00') }) },
    });
    const job = chain('a', work('press', 60, { batches: 5, setUpS: 1800, crewShare: 0.5 }));
    const placed = insert(buildPlan(shop, []), job, at('2026-03-02T12:00:00Z'));
    if (placed.kind === 'refused') throw new Error('refused');
    const [monday, tuesday] = drawnDays(shop, placed.bookings, new Map([['a', { job }]]), '2026-03-02', 2);
    const [press] = monday!.units;
    expect(press!.open.map(({ from, to }) => [iso(from), iso(to)])).toEqual([
      ['2026-03-02T20:00:00Z', '2026-03-03T00:00:00Z'],
    ]);
    expect(
      press!.work.map(({ part, from, to, batchEnds }) => [part, iso(from), iso(to), batchEnds.map(iso)]),
    ).toEqual([
      ['set-up', '2026-03-02T20:00:00Z', '2026-03-02T20:30:00Z', []],
      [
        'run',
        '2026-03-02T20:30:00Z',
        '2026-03-03T00:00:00Z',
        ['2026-03-02T21:30:00Z', '2026-03-02T22:30:00Z', '2026-03-02T23:30:00Z'],
      ],
    ]);
    expect(
      tuesday!.units[0]!.work.map(({ from, to, batchEnds }) => [iso(from), iso(to), batchEnds.map(iso)]),
    ).toEqual([['2026-03-03T00:00:00Z', '2026-03-03T01:30:00Z', ['2026-03-03T00:30:00Z']]]);
    expect(monday!.units.map(({ outOfUse }) => outOfUse.length)).toEqual([0, 1]);
    expect(monday!.crew.map(({ at: when, there, busy }) => [iso(when), there, busy])).toEqual([
      ['2026-03-02T00:00:00Z', 0, 0],
      ['2026-03-02T20:00:00Z', 1, 1],
      ['2026-03-02T20:30:00Z', 1, 0.5],
      ['2026-03-02T21:00:00Z', 3, 0.5],
    ]);
    expect(() => drawnDays(shop, [], new Map(), '2026-03-02', 401)).toThrow('1 to 400 days');
  });

  it('contains all work of any plan exactly once, and never more busy people than are present', () => {
    fc.assert(
      fc.property(smallShop(), otherJobs(true), anyJob(true), (small, jobs, job) => {
        const { plan } = filledPlan(small.shop, jobs);
        const placed = insert(plan, job, 0 * MINUTE_S);
        const full = placed.kind === 'placed' ? commit(plan, placed.bookings) : plan;
        const days = drawnDays(small.shop, bookingsOf(full), new Map(), '1970-01-01', small.shop.days);
        const drawn = days.flatMap(({ units }) => units.flatMap((unit) => unit.work));
        const seconds = (spans: Iterable<{ from: number; to: number }>) =>
          [...spans].reduce((sum, { from, to }) => sum + to - from, 0);
        expect(seconds(drawn)).toBe(
          seconds([...bookingsOf(full)].flatMap((each) => workPieces(small.shop, each))),
        );
        for (const { crew } of days)
          for (const { there, busy } of crew) expect(busy).toBeLessThanOrEqual(there + 1e-6);
      }),
      { numRuns: 100 },
    );
  });
});
