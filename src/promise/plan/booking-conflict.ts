import { crewParts, hoursOfBooking, unitIndexOf, workPieces } from './booked-work.ts';
import type { Booking } from './booking.ts';
import type { Plan } from './plan.ts';

/** Why a booking cannot stay where it is. */
export type Conflict =
  /** its unit or the crew is closed for part of its work. */
  | { readonly kind: 'closed' }
  /** another booking is on the unit. */
  | { readonly kind: 'occupied'; readonly by: Booking }
  /** too few people at some moment. */
  | { readonly kind: 'crew-short' }
  /** the like work before it is gone, so its set-up is too short. */
  | { readonly kind: 'not-joined' };

/** What keeps a booking from being added to a plan; undefined when nothing does. */
export function conflictOf(plan: Plan, booking: Booking): Conflict | undefined {
  const hours = hoursOfBooking(plan.shop, booking);
  const runOpenS = hours.openSecondsAt(booking.runStart);
  if (
    runOpenS - hours.openSecondsAt(booking.start) !== booking.setUpS ||
    hours.openSecondsAt(booking.end) - runOpenS !== booking.runS
  ) {
    return { kind: 'closed' };
  }
  const schedule = plan.schedules[unitIndexOf(plan.shop, booking)]!;
  const gap = schedule.gapAt(booking.heldFrom);
  if (gap.to < booking.end) return { kind: 'occupied', by: schedule.bookingAfter(gap)! };
  if (booking.joined && !followsLikeWork(booking, gap.before)) return { kind: 'not-joined' };
  for (const piece of workPieces(plan.shop, booking)) {
    const parts = crewParts(piece.crewShare);
    const limit = plan.shop.crewParts - parts;
    if (parts > 0 && plan.crew.endOfLastOverload(piece.from, piece.to, limit) > piece.from) {
      return { kind: 'crew-short' };
    }
  }
  return undefined;
}

/** Whether a booking directly follows like work, so that nothing can come between them. */
export function followsLikeWork(booking: Booking, before: Booking | undefined): boolean {
  return before !== undefined && before.likeKey === booking.likeKey && before.end >= booking.heldFrom;
}
