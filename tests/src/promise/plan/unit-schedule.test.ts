import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { OpenHours } from '../../../../src/promise/calendar/open-hours.ts';
import type { Booking } from '../../../../src/promise/index.ts';
import { UnitSchedule } from '../../../../src/promise/plan/unit-schedule.ts';

function booking(from: number, to: number): Booking {
  return {
    job: `${from}`,
    chain: 0,
    step: 0,
    key: 'k',
    part: 'all',
    station: 's',
    unit: 0,
    heldFrom: from,
    start: from,
    runStart: from,
    end: to,
    setUpS: 0,
    runS: to - from,
    fullSetUpS: 0,
    setUpCrewShare: 0,
    crewShare: 0,
    likeKey: null,
    joined: false,
    state: 'booked',
  };
}

/** Enough bookings for many chunks (128 bookings each), some of which are split; gaps are mostly narrow. */
const manyBookings = fc
  .array(
    fc.tuple(
      fc.oneof({ weight: 9, arbitrary: fc.nat({ max: 3 }) }, fc.nat({ max: 40 })),
      fc.integer({ min: 1, max: 9 }),
    ),
    {
      minLength: 200,
      maxLength: 1_200,
      size: 'max',
    },
  )
  .map((pairs) => {
    let at = 0;
    return pairs.map(([gap, length]) => {
      const from = at + gap;
      at = from + length;
      return booking(from, at);
    });
  });

/** Closed for 7 of every 20 seconds. */
const hours = new OpenHours(Array.from({ length: 3_000 }, (_, i) => ({ from: 20 * i, to: 20 * i + 13 })));

describe('a unit schedule, compared with a plain list', () => {
  it('lists bookings in order when built at once, in any order, or with some removed again', () => {
    let largest = 0;
    fc.assert(
      fc.property(manyBookings, fc.infiniteStream(fc.nat()), (bookings, numbers) => {
        const shuffled = bookings.map((each) => ({ each, key: numbers.next().value as number }));
        shuffled.sort((a, b) => a.key - b.key);
        const added = shuffled.reduce((schedule, { each }) => schedule.with(each), UnitSchedule.empty);
        expect([...added.bookings()]).toEqual(bookings);
        expect([...UnitSchedule.of(shuffled.map(({ each }) => each)).bookings()]).toEqual(bookings);
        const removed = new Set(shuffled.slice(0, shuffled.length >> 1).map(({ each }) => each));
        const rest = [...removed].reduce((schedule, each) => schedule.without(each), added);
        expect([...rest.bookings()]).toEqual(bookings.filter((each) => !removed.has(each)));
        expect(rest.size).toBe(bookings.length - removed.size);
        expect(rest.without(booking(-9, -8))).toBe(rest);
        largest = Math.max(largest, bookings.length);
      }),
      { numRuns: 40 },
    );
    expect(largest).toBeGreaterThan(3 * 256);
  });

  it('visits exactly the gaps that are wide enough in open time', () => {
    fc.assert(
      fc.property(
        manyBookings,
        fc.nat({ max: 4_000 }),
        fc.integer({ min: 1, max: 20 }),
        fc.oneof(fc.constant(Number.POSITIVE_INFINITY), fc.nat({ max: 5_000 })),
        (bookings, from, needS, latest) => {
          const schedule = bookings.reduce((now, each) => now.with(each), UnitSchedule.empty);
          const gaps = bookings.map((each, i) => ({
            from: bookings[i - 1]?.end ?? Number.NEGATIVE_INFINITY,
            to: each.heldFrom,
          }));
          gaps.push({ from: bookings.at(-1)!.end, to: Number.POSITIVE_INFINITY });
          const first = bookings.findIndex((each) => each.end > from);
          const rest = gaps.slice(first < 0 ? gaps.length - 1 : first);
          const expected = rest.filter(
            (gap, i) =>
              i === 0 ||
              (gap.from <= latest &&
                (gap.to === Number.POSITIVE_INFINITY ||
                  hours.openSecondsAt(gap.to) - hours.openSecondsAt(gap.from) >= needS)),
          );
          const walked: { from: number; to: number }[] = [];
          let gap = schedule.gapAt(from) as ReturnType<UnitSchedule['nextGap']>;
          while (gap) {
            walked.push({ from: gap.from, to: gap.to });
            expect(gap.before?.end ?? Number.NEGATIVE_INFINITY).toBe(gap.from);
            expect(schedule.bookingAfter(gap)?.heldFrom ?? Number.POSITIVE_INFINITY).toBe(gap.to);
            gap =
              gap.to === Number.POSITIVE_INFINITY ? undefined : schedule.nextGap(gap, hours, needS, latest);
          }
          expect(walked).toEqual(expected);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('counts the later of two overlapping bookings only from the end of the earlier one', () => {
    const schedule = UnitSchedule.of([booking(0, 10), booking(4, 8), booking(9, 15), booking(20, 30)]);
    const gap = schedule.gapAt(0);
    expect([gap.from, gap.to]).toEqual([Number.NEGATIVE_INFINITY, 0]);
    expect(schedule.gapAt(15)).toMatchObject({ from: 15, to: 20 });
    expect(schedule.gapAt(12)).toMatchObject({ from: 10, to: 10 });
  });
});
