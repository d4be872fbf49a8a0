import { memoByKey } from '../../memo-by-key.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import type { Refusal } from '../insert/insertion.ts';
import type { Job } from '../plan/job.ts';
import type { Plan } from '../plan/plan.ts';
import { makeRoom } from './make-room.ts';
import type { Room } from './move-orders.ts';
import { deadlineOf, type PlannedOrder } from './planned-order.ts';

/** Limits of a rush. */
export type RushOptions = {
  /** nothing of the rush job happens earlier, and nothing that begins earlier is moved. */
  readonly notBefore: EpochS;
  /** ending by then is good enough, and ending later is refused; default as early as can be found. */
  readonly by?: EpochS | undefined;
  /** what begins before this instant stays, such as today's work already laid out; default `notBefore`. */
  readonly frozenUntil?: EpochS | undefined;
  /** how many orders may be moved, 1 to 1000; default 50. */
  readonly maxMoved?: number | undefined;
  /** how many sets of orders to move are tried, 1 to 60; default 60. */
  readonly maxAttempts?: number | undefined;
};

const DEFAULT_MAX_MOVED = 50;

/** A rush needs the deadline of every order in its way, and a quote looks at several rushes. */
const deadlinesIn = memoByKey((shop: ShopHours) =>
  memoByKey((order: PlannedOrder) => deadlineOf(shop, order)),
);

/**
 * Places a rush job, using the slack of orders already promised: these may move as long as every promised day still
 * holds. Nothing is reserved: book `insertion.bookings` and the `after` of every moved order together, or not at all.
 *
 * @returns the room found, or a refusal: `ends-too-late` when `by` cannot be kept, with a `slack-too-small` for each
 * order that was tried and could not be moved
 */
export function replanForRush(
  plan: Plan,
  orders: readonly PlannedOrder[],
  rush: Job,
  options: RushOptions,
): Room | Refusal {
  const { notBefore } = options;
  return makeRoom(
    plan,
    {
      orders,
      immovable: new Set(),
      job: rush,
      fixed: [],
      notBefore,
      dueBy: options.by ?? Number.POSITIVE_INFINITY,
      frozenUntil: Math.max(notBefore, options.frozenUntil ?? notBefore),
      maxMoved: options.maxMoved ?? DEFAULT_MAX_MOVED,
      maxAttempts: options.maxAttempts,
    },
    deadlinesIn(plan.shop),
  );
}
