import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  bookingsOf,
  buildPlan,
  commit,
  insert,
  type Job,
  type Plan,
  withdraw,
} from '../../../../src/promise/index.ts';
import { MinuteLoad } from '../minute-checks.ts';
import { at, chain, iso, shopOf, work } from '../shops.ts';
import { filledPlan, MINUTE_S, MINUTES, otherJobs, smallShop } from '../small-plans.ts';

const MONDAY_8 = at('2026-03-02T08:00:00Z');

function filled(crew: number, ...jobs: Job[]): Plan {
  let plan = buildPlan(shopOf({ stations: [{ id: 'press', count: 1 }], crew: { count: crew } }), []);
  for (const job of jobs) {
    const placed = insert(plan, job, MONDAY_8);
    if (placed.kind === 'refused') throw new Error('refused');
    plan = commit(plan, placed.bookings);
  }
  return plan;
}

function shown(plan: Plan): string[] {
  return [...bookingsOf(plan)].map(
    (each) =>
      `${each.job} ${each.part} ${iso(each.start).slice(11, 16)} ${iso(each.runStart).slice(11, 16)} ${iso(each.end).slice(11, 16)}`,
  );
}

const like = (id: string, minutes: number, setUpMinutes: number, more = {}): Job =>
  chain(
    id,
    work('press', minutes, {
      setUpS: setUpMinutes * 60,
      like: { key: 'red', sharedSetUpS: 0 },
      crewShare: 0,
      ...more,
    }),
  );

/** Short jobs of like work, so that most share the set-up of the one before. */
const likeJobs: fc.Arbitrary<[Job, number][]> = fc.array(
  fc.tuple(
    fc
      .record({
        minutes: fc.integer({ min: 1, max: 3 }),
        setUp: fc.integer({ min: 1, max: 4 }),
        setUpCrewShare: fc.constantFrom(0, 0.5, 1),
        crewShare: fc.constantFrom(0, 0.5, 1),
      })
      .map(({ minutes, setUp, ...shares }) =>
        chain(
          'new',
          work('s0', minutes, { setUpS: setUp * 60, like: { key: 'red', sharedSetUpS: 0 }, ...shares }),
        ),
      ),
    fc.nat({ max: 10 }),
  ),
  { minLength: 2, maxLength: 6 },
);

describe('withdrawing an order from the plan', () => {
  it('frees its place and changes nothing else', () => {
    const plan = filled(1, chain('a', work('press', 60)), chain('b', work('press', 60)));
    const out = withdraw(plan, [...bookingsOf(plan)].slice(0, 1), MONDAY_8);
    expect(shown(out.plan)).toEqual(['b all 09:00 09:00 10:00']);
    expect(out.changed).toEqual([]);
  });

  it('gives like work that relied on it a full set-up, without moving its run', () => {
    const plan = filled(1, like('a', 60, 30), like('b', 60, 30));
    expect(shown(plan)).toEqual(['a all 08:00 08:30 09:30', 'b all 09:30 09:30 10:30']);
    const out = withdraw(plan, [...bookingsOf(plan)].slice(0, 1), MONDAY_8);
    expect(shown(out.plan)).toEqual(['b all 09:00 09:30 10:30']);
    expect(out.changed[0]!.after).toMatchObject({ joined: false, setUpS: 1800 });
  });

  it('keeps its place booked as a set-up where there is no room for a full one', () => {
    // nobody is free just before b: the only person works at another press from 08:30 on
    const shop = shopOf({ stations: [{ id: 'press', count: 2 }], crew: { count: 1 } });
    let plan = buildPlan(shop, []);
    for (const job of [like('a', 60, 30), chain('busy', work('press', 60)), like('b', 60, 30)]) {
      const placed = insert(plan, job, MONDAY_8);
      if (placed.kind === 'refused') throw new Error('refused');
      plan = commit(plan, placed.bookings);
    }
    const removed = [...bookingsOf(plan)].filter((booking) => booking.job === 'a');
    const out = withdraw(plan, removed, MONDAY_8);
    expect(shown(out.plan)).toEqual([
      'b set-up 08:00 08:30 09:30',
      'b all 09:30 09:30 10:30',
      'busy all 08:30 08:30 09:30',
    ]);
    expect(out.changed).toEqual([
      { before: undefined, after: expect.objectContaining({ job: 'b', part: 'set-up' }) },
    ]);
    // withdrawing b as well also withdraws its set-up
    const mine = [...bookingsOf(out.plan)].filter((booking) => booking.job === 'b');
    expect(shown(withdraw(out.plan, mine, MONDAY_8).plan)).toEqual(['busy all 08:30 08:30 09:30']);
  });

  it('changes nothing when the booking is not in the plan', () => {
    const plan = filled(1, chain('a', work('press', 60)));
    const [booking] = bookingsOf(plan);
    expect(shown(withdraw(plan, [{ ...booking!, job: 'z' }], MONDAY_8).plan)).toEqual(shown(plan));
  });

  it('from any plan leaves a plan within capacity in which no other run moved', () => {
    let repaired = 0;
    fc.assert(
      fc.property(
        smallShop(),
        fc.oneof(otherJobs(true), likeJobs),
        fc.nat({ max: 4 }),
        fc.nat({ max: MINUTES }),
        (small, jobs, who, from) => {
          const { plan, bookings } = filledPlan(small.shop, jobs);
          const removed = bookings.filter((booking) => booking.job === `old-${who}`);
          const out = withdraw(plan, removed, from * MINUTE_S);
          const left = [...bookingsOf(out.plan)];
          expect(new MinuteLoad(small, left).faults).toEqual([]);
          const run = (
            all: readonly {
              job: string;
              chain: number;
              step: number;
              unit: number;
              runStart: number;
              end: number;
            }[],
          ) =>
            all
              .map(({ job, chain: c, step, unit, runStart, end }) =>
                [job, c, step, unit, runStart, end].join(' '),
              )
              .sort();
          expect(run(left.filter((booking) => booking.part === 'all'))).toEqual(
            run(bookings.filter((booking) => booking.job !== `old-${who}`)),
          );
          repaired += out.changed.length;
          // the plan after the change equals one built from its bookings
          const again = buildPlan(small.shop, left);
          const probe = chain('probe', work('s0', 3, { setUpS: 60 }), work('s1', 2, { crewShare: 0.5 }));
          expect(insert(again, probe, 0)).toEqual(insert(out.plan, probe, 0));
        },
      ),
      { numRuns: 1500 },
    );
    expect(repaired).toBeGreaterThan(50);
  });
});
