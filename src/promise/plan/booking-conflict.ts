import type { Booking } from '../types.ts';
import { crewParts, hoursOfBooking, type Plan, unitOf, workPieces } from './plan.ts';

/** Why a booking cannot stand where it is. */
export type Conflict =
  /** its unit or the crew are not there for all of its work any more. */
  | { readonly kind: 'closed' }
  /** another booking is on the unit. */
  | { readonly kind: 'occupied'; readonly by: Booking }
  /** too few people at some moment. */
  | { readonly kind: 'crew-short' }
  /** the like work before it is gone, so its set-up is too short. */
  | { readonly kind: 'not-joined' };

/** Whether a booking that is not in a plan could be added where it stands; null when it could. */
export function conflictOf(plan: Plan, booking: Booking): Conflict | null {
  const unitIndex = unitOf(plan.shop, booking);
  const hours = hoursOfBooking(plan.shop.units[unitIndex]!, booking);
  const runWork = hours.workAt(booking.runStart);
  if (
    runWork - hours.workAt(booking.start) !== booking.setUpS ||
    hours.workAt(booking.end) - runWork !== booking.runS
  ) {
    return { kind: 'closed' };
  }
  const track = plan.tracks[unitIndex]!;
  const gap = track.gapAt(booking.heldFrom);
  if (gap.to < booking.end) return { kind: 'occupied', by: track.after(gap)! };
  if (booking.joined && !followsLike(booking, gap.before)) return { kind: 'not-joined' };
  for (const piece of workPieces(plan.shop, booking)) {
    const parts = crewParts(piece.crewShare);
    const limit = plan.shop.crewParts - parts;
    if (parts > 0 && plan.crew.lastOver(piece.from, piece.to, limit) > piece.from) {
      return { kind: 'crew-short' };
    }
  }
  return null;
}

/** Whether a booking directly follows like work, with nothing able to come between. */
export function followsLike(booking: Booking, before: Booking | null): boolean {
  return before !== null && before.likeKey === booking.likeKey && before.end >= booking.heldFrom;
}
