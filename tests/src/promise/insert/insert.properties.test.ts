import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildPlan, commit, completionTime, insert, workPieces } from '../../../../src/promise/index.ts';
import { inputFaults, MinuteLoad } from '../minute-checks.ts';
import { anyJob, chainJob, filledPlan, MINUTE_S, MINUTES, otherJobs, smallShop } from '../small-plans.ts';
import { earliestEnd } from './brute-force.ts';

const minute = fc.nat({ max: MINUTES });

describe('inserting among given bookings', () => {
  it('never exceeds capacity in any minute, works only in open minutes, and starts no batch before its input', () => {
    fc.assert(
      fc.property(smallShop(), otherJobs(true), (small, jobs) => {
        const { bookings } = filledPlan(small.shop, jobs);
        expect(new MinuteLoad(small, bookings).faults).toEqual([]);
        jobs.forEach(([job], i) => {
          const mine = bookings.filter((booking) => booking.job === `old-${i}`);
          if (mine.length > 0) expect(inputFaults(small, job, mine)).toEqual([]);
        });
        for (const booking of bookings) {
          const worked = workPieces(small.shop, booking).reduce(
            (sum, piece) => sum + piece.to - piece.from,
            0,
          );
          expect(worked).toBe(booking.setUpS + booking.runS);
        }
      }),
      { numRuns: 400 },
    );
  });

  it('ends a job of one chain at the earliest end an exhaustive search finds', () => {
    let compared = 0;
    let refused = 0;
    fc.assert(
      fc.property(
        smallShop({ outages: false }),
        otherJobs(true),
        chainJob(true),
        minute,
        (small, jobs, job, from) => {
          const { plan, bookings } = filledPlan(small.shop, jobs);
          const placed = insert(plan, job, from * MINUTE_S);
          const best = earliestEnd(small, bookings, job.chains[0]!, from);
          if (placed.kind === 'refused') {
            if (!placed.certain) return;
            refused++;
            expect(best).toBe(Number.POSITIVE_INFINITY);
          } else if (placed.earliest) {
            compared++;
            expect(placed.endsAt).toBe(best);
          } else expect(placed.endsAt).toBeGreaterThanOrEqual(best);
        },
      ),
      { numRuns: 2000 },
    );
    // the cases compared must not be too few
    expect(compared).toBeGreaterThan(300);
    expect(refused).toBeGreaterThan(30);
  });

  it('gives the same result in a plan changed booking by booking as in one built at once', () => {
    fc.assert(
      fc.property(smallShop(), otherJobs(true), anyJob(true), minute, (small, jobs, job, from) => {
        const { plan, bookings } = filledPlan(small.shop, jobs);
        const rebuilt = buildPlan(small.shop, bookings);
        expect(insert(rebuilt, job, from * MINUTE_S)).toEqual(insert(plan, job, from * MINUTE_S));
      }),
      { numRuns: 300 },
    );
  });

  it('moves no booking and reserves nothing', () => {
    fc.assert(
      fc.property(smallShop(), otherJobs(true), anyJob(true), minute, (small, jobs, job, from) => {
        const { plan, bookings } = filledPlan(small.shop, jobs);
        const before = structuredClone(bookings);
        const first = insert(plan, job, from * MINUTE_S);
        expect(insert(plan, job, from * MINUTE_S)).toEqual(first);
        expect(bookings).toEqual(before);
        if (first.kind === 'placed') {
          commit(plan, first.bookings);
          expect(insert(plan, job, from * MINUTE_S)).toEqual(first);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('completionTime gives the same end as insert, or gives up after the given instant', () => {
    fc.assert(
      fc.property(
        smallShop(),
        otherJobs(true),
        anyJob(true),
        minute,
        minute,
        (small, jobs, job, from, stop) => {
          const { plan } = filledPlan(small.shop, jobs);
          const placed = insert(plan, job, from * MINUTE_S);
          const endsAt = placed.kind === 'placed' ? placed.endsAt : Number.POSITIVE_INFINITY;
          expect(completionTime(plan, job, from * MINUTE_S)).toBe(endsAt);
          expect(completionTime(plan, job, from * MINUTE_S, stop * MINUTE_S)).toBe(
            endsAt <= stop * MINUTE_S ? endsAt : Number.POSITIVE_INFINITY,
          );
        },
      ),
      { numRuns: 300 },
    );
  });

  it('never ends a chain earlier because of more bookings, without like work', () => {
    fc.assert(
      fc.property(
        smallShop({ outages: false }),
        otherJobs(false),
        otherJobs(false),
        chainJob(false),
        minute,
        (small, jobs, more, job, from) => {
          const few = filledPlan(small.shop, jobs);
          const many = filledPlan(small.shop, [...jobs, ...more]);
          expect(completionTime(many.plan, job, from * MINUTE_S)).toBeGreaterThanOrEqual(
            completionTime(few.plan, job, from * MINUTE_S),
          );
        },
      ),
      { numRuns: 500 },
    );
  });

  it('never ends a chain earlier for a later release time', () => {
    fc.assert(
      fc.property(
        smallShop({ outages: false }),
        otherJobs(false),
        chainJob(false),
        minute,
        minute,
        (small, jobs, job, a, b) => {
          const { plan } = filledPlan(small.shop, jobs);
          const early = completionTime(plan, job, Math.min(a, b) * MINUTE_S);
          expect(completionTime(plan, job, Math.max(a, b) * MINUTE_S)).toBeGreaterThanOrEqual(early);
        },
      ),
      { numRuns: 300 },
    );
  });
});
