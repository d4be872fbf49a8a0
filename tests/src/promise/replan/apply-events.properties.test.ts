import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyEvents,
  type Booking,
  type EpochS,
  type FloorEvent,
  type FloorOutcome,
  promiseDay,
} from '../../../../src/promise/index.ts';
import { inputFaults, MinuteLoad } from '../minute-checks.ts';
import { anyJob, MINUTE_S, MINUTES, promisedOrders, type SmallShop, smallShop } from '../small-plans.ts';

/** The small shop with the minutes of reported outages closed. */
function withDown(small: SmallShop, outcome: FloorOutcome, events: readonly FloorEvent[]): SmallShop {
  const stationOpen = new Map(
    [...small.stationOpen].map(([id, units]) => [
      id,
      units.map((open, unit) =>
        open.map(
          (isOpen, minute) =>
            isOpen &&
            !events.some(
              (event) =>
                event.kind === 'down' &&
                event.station === id &&
                (event.unit === undefined || event.unit === unit) &&
                event.from <= minute * MINUTE_S &&
                minute * MINUTE_S < event.to,
            ),
        ),
      ),
    ]),
  );
  return { ...small, shop: outcome.shop, stationOpen };
}

describe('any floor events', () => {
  const minutes = fc.nat({ max: MINUTES });
  const reports = fc.record({
    now: minutes,
    down: fc.option(
      fc.record({
        station: fc.constantFrom('s0', 's1'),
        from: minutes,
        length: fc.integer({ min: 1, max: 15 }),
        unit: fc.option(fc.constant(0), { nil: undefined }),
      }),
    ),
    /** of steps that should have begun by now: 0 not reported, 1 started, 2 finished on time, more: finished later. */
    progress: fc.array(fc.nat({ max: 6 }), { maxLength: 8 }),
    spoiled: fc.option(fc.record({ order: fc.nat({ max: 4 }), pieces: fc.integer({ min: 1, max: 5 }) })),
    unreported: fc.constantFrom('assume-on-time' as const, 'assume-not-started' as const),
  });

  it('leave a consistent plan in which every order keeps its promise or is reported late', () => {
    let moved = 0;
    let lateCount = 0;
    let countable = 0;
    fc.assert(
      fc.property(
        smallShop(),
        fc.array(fc.tuple(anyJob(true), fc.nat({ max: 15 }), fc.nat({ max: 20 })), {
          minLength: 1,
          maxLength: 5,
        }),
        reports,
        (small, jobs, report) => {
          const { orders } = promisedOrders(small.shop, jobs);
          const now: EpochS = report.now * MINUTE_S;
          const begun = orders
            .flatMap((order) => order.bookings)
            .filter((booking) => booking.start < now)
            .sort((a, b) => a.start - b.start);
          const events: FloorEvent[] = [];
          begun.forEach((booking: Booking, i) => {
            const progress = report.progress[i] ?? 0;
            const { job, chain: c, step } = booking;
            if (progress === 0) return;
            events.push({ kind: 'started', job, chain: c, step, at: booking.start });
            const done = booking.end + (progress - 2) * MINUTE_S;
            if (progress > 1 && done <= now) events.push({ kind: 'finished', job, chain: c, step, at: done });
          });
          if (report.down) {
            const from = report.down.from * MINUTE_S;
            events.push({
              kind: 'down',
              station: report.down.station,
              ...(report.down.unit === undefined ? {} : { unit: 0 }),
              from,
              to: from + report.down.length * MINUTE_S,
            });
          }
          const spoiledIn = orders[report.spoiled?.order ?? -1];
          if (spoiledIn && report.spoiled) {
            events.push({
              kind: 'spoiled',
              job: spoiledIn.job.id,
              chain: 0,
              step: 0,
              pieces: report.spoiled.pieces,
              ofPieces: 5,
              at: now,
            });
          }
          const outcome = applyEvents(small.shop, orders, events, { now, unreported: report.unreported });
          moved += outcome.moved.length;
          lateCount += outcome.late.length;

          const after = withDown(small, outcome, events);
          const all = outcome.orders.flatMap((order) => order.bookings);
          // the reports themselves may exceed capacity; only then may the plan do so
          const reported = all.filter((booking) => booking.state !== 'booked');
          const lastMinute = Math.max(0, ...all.map((booking) => booking.end / MINUTE_S));
          // batches of a step that took longer are spread evenly, so some do not start on a whole minute
          const onMinutes = all.every((booking) =>
            [booking.heldFrom, booking.start, booking.runStart, booking.end].every(
              (at) => at % MINUTE_S === 0,
            ),
          );
          if (onMinutes) countable++;
          if (onMinutes && lastMinute <= MINUTES && new MinuteLoad(after, reported).faults.length === 0) {
            expect(new MinuteLoad(after, all).faults).toEqual([]);
          }
          expect(new Set(outcome.plan.schedules.flatMap((track) => [...track.bookings()]))).toEqual(
            new Set(all),
          );
          const late = new Map(outcome.late.map((each) => [each.order, each]));
          for (const order of outcome.orders) {
            const id = order.job.id;
            const before = orders.find((each) => each.job.id === id)!;
            const stuck = late.get(id)?.endsAt === null;
            if (!stuck && onMinutes) expect(inputFaults(after, order.job, order.bookings)).toEqual([]);
            // orders that are not late keep their day by their bookings alone
            if (!late.has(id)) {
              const last = Math.max(...order.bookings.map((booking) => booking.end));
              expect(promiseDay(outcome.shop, last, 0, order.promised.rule)?.day).toBe('1970-01-01');
            }
            for (const booking of order.bookings) {
              const was = before.bookings.find(
                (each) => each.start === booking.start && each.step === booking.step,
              );
              if (!was && booking.state === 'booked') expect(booking.runStart).toBeGreaterThanOrEqual(now);
            }
          }
          for (const each of outcome.late) {
            expect(each.now === null || each.now > each.promised).toBe(true);
            expect(each.cause).not.toBeNull();
          }
        },
      ),
      { numRuns: 800 },
    );
    expect(moved).toBeGreaterThan(200);
    expect(lateCount).toBeGreaterThan(50);
    expect(countable).toBeGreaterThan(600);
  });
});
