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

/** Enough bookings that chunks (128 of them) are many and are split; gaps are mostly narrow. */
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

describe('the track of a unit, against a plain list', () => {
  it('built at once or in any order, with some taken out again, lists what is booked in order', () => {
    let most = 0;
    fc.assert(
      fc.property(manyBookings, fc.infiniteStream(fc.nat()), (bookings, numbers) => {
        const shuffled = bookings.map((each) => ({ each, key: numbers.next().value as number }));
        shuffled.sort((a, b) => a.key - b.key);
        const added = shuffled.reduce((track, { each }) => track.with(each), UnitSchedule.empty);
        expect([...added.bookings()]).toEqual(bookings);
        expect([...UnitSchedule.of(shuffled.map(({ each }) => each)).bookings()]).toEqual(bookings);
        const gone = new Set(shuffled.slice(0, shuffled.length >> 1).map(({ each }) => each));
        const left = [...gone].reduce((track, each) => track.without(each), added);
        expect([...left.bookings()]).toEqual(bookings.filter((each) => !gone.has(each)));
        expect(left.size).toBe(bookings.length - gone.size);
        expect(left.without(booking(-9, -8))).toBe(left);
        most = Math.max(most, bookings.length);
      }),
      { numRuns: 40 },
    );
    expect(most).toBeGreaterThan(3 * 256);
  });

  it('walks through exactly the gaps that are wide enough in open time', () => {
    fc.assert(
      fc.property(
        manyBookings,
        fc.nat({ max: 4_000 }),
        fc.integer({ min: 1, max: 20 }),
        fc.oneof(fc.constant(Number.POSITIVE_INFINITY), fc.nat({ max: 5_000 })),
        (bookings, from, needS, latest) => {
          const track = bookings.reduce((now, each) => now.with(each), UnitSchedule.empty);
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
          let gap = track.gapAt(from) as ReturnType<UnitSchedule['nextGap']>;
          while (gap) {
            walked.push({ from: gap.from, to: gap.to });
            expect(gap.before?.end ?? Number.NEGATIVE_INFINITY).toBe(gap.from);
            expect(track.bookingAfter(gap)?.heldFrom ?? Number.POSITIVE_INFINITY).toBe(gap.to);
            gap = gap.to === Number.POSITIVE_INFINITY ? undefined : track.nextGap(gap, hours, needS, latest);
          }
          expect(walked).toEqual(expected);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('where the floor made bookings overlap, the later one occupies only what is left', () => {
    const track = UnitSchedule.of([booking(0, 10), booking(4, 8), booking(9, 15), booking(20, 30)]);
    const gap = track.gapAt(0);
    expect([gap.from, gap.to]).toEqual([Number.NEGATIVE_INFINITY, 0]);
    expect(track.gapAt(15)).toMatchObject({ from: 15, to: 20 });
    expect(track.gapAt(12)).toMatchObject({ from: 10, to: 10 });
  });
});
