import type { EpochS } from '../calendar/time.ts';
import { hoursOfBooking, unitIndexOf } from './booked-work.ts';
import type { Booking } from './booking.ts';
import { conflictOf, followsLikeWork } from './booking-conflict.ts';
import { type Plan, withBooking, withoutBookings } from './plan.ts';

/** A booking that had to change, though its run did not move. */
export type ChangedBooking = {
  /** undefined when it is new. */
  readonly before: Booking | undefined;
  readonly after: Booking;
};

/** A plan with bookings removed. */
export type Withdrawal = {
  readonly plan: Plan;
  /** bookings of others that relied on like work before them. */
  readonly changed: readonly ChangedBooking[];
};

/**
 * Removes bookings from a plan, such as those of a canceled order. A remaining booking whose set-up was shortened by
 * one of them gets its full set-up, begun earlier, so that its run does not move. Where there is no room for that,
 * the place of the removed booking stays booked as its set-up (`part: 'set-up'`).
 *
 * @param from nothing is booked before this instant
 */
export function withdraw(plan: Plan, bookings: readonly Booking[], from: EpochS): Withdrawal {
  let rest = withoutBookings(plan, bookings);
  const changed: ChangedBooking[] = [];
  for (const unit of new Set(bookings.map((booking) => unitIndexOf(plan.shop, booking)))) {
    const removed = bookings.filter((booking) => unitIndexOf(plan.shop, booking) === unit);
    let before: Booking | undefined;
    for (const booking of [...rest.schedules[unit]!.bookings()]) {
      if (booking.joined && booking.start >= from && !followsLikeWork(booking, before)) {
        const repaired = repairSetUp(rest, booking, before, removed, from);
        rest = repaired.plan;
        changed.push(...repaired.changed);
      }
      before = booking;
    }
  }
  return { plan: rest, changed };
}

/**
 * A joined booking with its full set-up, begun earlier, so that it needs no like work before it; undefined when there
 * is no room for that.
 *
 * @param plan without the booking
 * @param from the set-up begins no earlier
 */
export function withFullSetUp(plan: Plan, booking: Booking, from: EpochS): Booking | undefined {
  const hours = hoursOfBooking(plan.shop, booking);
  const startOpenS = hours.openSecondsAt(booking.runStart) - booking.fullSetUpS;
  const start = hours.startAt(startOpenS);
  if (startOpenS < 0 || start < from) return undefined;
  const full = { ...booking, heldFrom: start, start, setUpS: booking.fullSetUpS, joined: false };
  return conflictOf(plan, full) === undefined ? full : undefined;
}

function repairSetUp(
  plan: Plan,
  booking: Booking,
  before: Booking | undefined,
  removed: readonly Booking[],
  from: EpochS,
): Withdrawal {
  const without = withoutBookings(plan, [booking]);
  const replaceWith = (after: Booking): Withdrawal => ({
    plan: withBooking(without, after),
    changed: [{ before: booking, after }],
  });
  const full = withFullSetUp(without, booking, from);
  if (full) return replaceWith(full);
  if (before?.likeKey === booking.likeKey) return replaceWith({ ...booking, heldFrom: before!.end });

  const setUps: Booking[] = [];
  let missingS = booking.fullSetUpS - booking.setUpS;
  for (const place of removed.toSorted((a, b) => b.start - a.start)) {
    if (missingS <= 0) break;
    if (place.likeKey !== booking.likeKey || place.end > booking.start) continue;
    missingS -= place.setUpS + place.runS;
    const { job, chain, step, key } = booking;
    setUps.push({ ...place, job, chain, step, key, part: 'set-up' });
  }
  return {
    plan: setUps.reduce(withBooking, plan),
    changed: setUps.map((after) => ({ before: undefined, after })),
  };
}
