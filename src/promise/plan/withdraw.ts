import type { Booking, EpochS } from '../types.ts';
import { conflictOf, followsLike } from './booking-conflict.ts';
import { crewParts, hoursOfBooking, type Plan, unitOf, withBooking, withoutBookings } from './plan.ts';

/** A booking that had to change, though its run did not move. */
export type ChangedBooking = {
  /** null: it is new. */
  readonly before: Booking | null;
  readonly after: Booking;
};

/** A plan with bookings taken out. */
export type Withdrawal = {
  readonly plan: Plan;
  /** bookings of others that relied on like work before them. */
  readonly changed: readonly ChangedBooking[];
};

/**
 * Takes bookings out of a plan, such as those of a canceled order. A booking left behind whose set-up was short because
 * of like work before it gets its full set-up, begun earlier, so its run stays where it is; where there is no room for
 * that, the place of the withdrawn booking stays booked as its set-up (`part: 'set-up'`).
 *
 * @param from nothing is booked before this instant
 */
export function withdraw(plan: Plan, bookings: readonly Booking[], from: EpochS): Withdrawal {
  let left = withoutBookings(plan, bookings);
  const changed: ChangedBooking[] = [];
  for (const unit of new Set(bookings.map((booking) => unitOf(plan.shop, booking)))) {
    const gone = bookings.filter((booking) => unitOf(plan.shop, booking) === unit);
    let before: Booking | null = null;
    for (const booking of [...left.tracks[unit]!.bookings()]) {
      if (booking.joined && booking.start >= from && !followsLike(booking, before)) {
        const mended = mend(left, booking, before, gone, from);
        left = mended.plan;
        changed.push(...mended.changed);
      }
      before = booking;
    }
  }
  return { plan: left, changed };
}

/**
 * A joined booking with its full set-up, begun earlier, so that it needs no like work before it; null when there is no
 * room for that in a plan without it.
 */
export function standingAlone(plan: Plan, booking: Booking, from: EpochS): Booking | null {
  const hours = hoursOfBooking(plan.shop.units[unitOf(plan.shop, booking)]!, booking);
  const startWork = hours.workAt(booking.runStart) - booking.fullSetUpS;
  const start = hours.startAt(startWork);
  if (startWork < 0 || start < from) return null;
  const alone = { ...booking, heldFrom: start, start, setUpS: booking.fullSetUpS, joined: false };
  return conflictOf(plan, alone) === null ? alone : null;
}

function mend(
  plan: Plan,
  booking: Booking,
  before: Booking | null,
  gone: readonly Booking[],
  from: EpochS,
): Withdrawal {
  const without = withoutBookings(plan, [booking]);
  const replaced = (after: Booking): Withdrawal => ({
    plan: withBooking(without, after),
    changed: [{ before: booking, after }],
  });
  const alone = standingAlone(without, booking, from);
  if (alone) return replaced(alone);
  if (before?.likeKey === booking.likeKey) return replaced({ ...booking, heldFrom: before!.end });

  const kept: Booking[] = [];
  let missingS = booking.fullSetUpS - booking.setUpS;
  for (const place of gone.toSorted((a, b) => b.start - a.start)) {
    if (missingS <= 0) break;
    if (place.likeKey !== booking.likeKey || place.end > booking.start) continue;
    missingS -= place.setUpS + place.runS;
    const { job, chain, step, key } = booking;
    kept.push({ ...place, job, chain, step, key, part: 'set-up' });
  }
  return {
    plan: kept.reduce(withBooking, plan),
    changed: kept.map((after) => ({ before: null, after })),
  };
}

/** What of the crew a booking takes at most, in CREW_PARTS. */
export function mostCrewParts(booking: Booking): number {
  return Math.max(crewParts(booking.setUpCrewShare), crewParts(booking.crewShare));
}
