import { type GivenPromise, latestEnd } from '../calendar/promise-day.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { type Booking, isSameBooking } from '../plan/booking.ts';
import type { Job } from '../plan/job.ts';
import type { ChangedBooking } from '../plan/withdraw.ts';

/** An order in the plan. Its id is its job's. */
export type PlannedOrder = {
  readonly job: Job;
  readonly bookings: readonly Booking[];
  /** nothing of it is placed earlier; only a set-up that `withdraw` had to repair may begin before. */
  readonly notBefore: EpochS;
  readonly promised: GivenPromise;
};

/** An order whose bookings changed. */
export type MovedOrder = {
  readonly order: string;
  readonly before: readonly Booking[];
  readonly after: readonly Booking[];
  /** the last step is done; null when part of it found no place. */
  readonly endsAt: EpochS | null;
};

/** The latest end of production that keeps an order's promise; -Infinity when none does. */
export function deadlineOf(shop: ShopHours, order: PlannedOrder): EpochS {
  return latestEnd(shop, order.promised) ?? Number.NEGATIVE_INFINITY;
}

/** The bookings of an order after `withdraw` changed some of them. */
export function withChanges(bookings: readonly Booking[], changes: readonly ChangedBooking[]): Booking[] {
  return [
    ...bookings.filter(
      (booking) => !changes.some(({ before }) => before !== undefined && isSameBooking(before, booking)),
    ),
    ...changes.map(({ after }) => after),
  ];
}
