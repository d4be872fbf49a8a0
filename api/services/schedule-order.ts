import { type Booking, insert, type Job, type MovedOrder, replanForRush } from '../../src/promise/index.ts';
import type { QuoteInternal } from '../../src/quote/index.ts';
import type { StoreParts } from '../store/store.ts';
import type { PlanSnapshot } from './plan-cache.ts';
import { MAX_RUSH_MOVES } from './quotes.ts';

/** Bookings found for an order. Times are epoch seconds. */
export type ScheduledWork = {
  readonly bookings: readonly Booking[];
  readonly endsAt: number;
  /** orders whose bookings move within their slack to make room. */
  readonly moved: readonly MovedOrder[];
};

/** Finds bookings for an order; a rush order may use the slack of orders already promised. */
export function scheduleWork(
  snapshot: PlanSnapshot,
  job: Job,
  internal: QuoteInternal,
  rush: boolean,
): ScheduledWork | undefined {
  const { notBefore } = internal;
  const plain = insert(snapshot.plan, job, notBefore);
  const scheduled: ScheduledWork | undefined =
    plain.kind === 'placed' ? { bookings: plain.bookings, endsAt: plain.endsAt, moved: [] } : undefined;
  if (!rush || (scheduled !== undefined && scheduled.endsAt <= internal.endsAt)) return scheduled;
  const room = replanForRush(snapshot.plan, [...snapshot.orders.values()], job, {
    notBefore,
    maxMoved: MAX_RUSH_MOVES,
  });
  if (room.kind !== 'room') return scheduled;
  return { bookings: room.insertion.bookings, endsAt: room.insertion.endsAt, moved: room.moved };
}

/** Stores the new bookings of an order that moved. */
export async function saveMove(
  parts: StoreParts,
  shop: string,
  snapshot: PlanSnapshot,
  moved: MovedOrder,
  planVersion: number,
): Promise<void> {
  const { job } = snapshot.orders.get(moved.order)!;
  await parts.orders.rebook(shop, moved.order, {
    job,
    bookings: moved.after,
    endsAt: moved.endsAt,
    planVersion,
  });
}
