import { latestEnd } from '../calendar/promise-day.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import type { Plan } from '../plan/plan.ts';
import type { EpochS, Job, PlannedOrder, Refusal } from '../types.ts';
import { makeRoom, type Room } from './make-room.ts';

/** Limits of a rush. */
export type RushOptions = {
  /** nothing of the rush job happens earlier, and nothing that begins earlier is moved. */
  readonly notBefore: EpochS;
  /** it is enough to end by then, and refused later; absent: as early as can be found. */
  readonly by?: EpochS | undefined;
  /** what begins before this instant stays, such as today's work already laid out; absent: `notBefore`. */
  readonly frozenUntil?: EpochS | undefined;
  /** how many orders may be moved, 1 to 1000; absent: 50. */
  readonly mostMoved?: number | undefined;
  /** ways to choose the moved orders that are tried, 1 to 60; absent: 60. */
  readonly mostAttempts?: number | undefined;
};

const MOST_MOVED = 50;

/**
 * Places a rush job, using the slack of orders already promised: these may move, as long as every promised day still
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
      by: options.by ?? Number.POSITIVE_INFINITY,
      frozenUntil: Math.max(notBefore, options.frozenUntil ?? notBefore),
      mostMoved: options.mostMoved ?? MOST_MOVED,
      mostAttempts: options.mostAttempts,
    },
    (order) => keepByOf(plan.shop, order),
  );
}

/** Worked out once for an order and the hours of a shop: every rush that is looked at asks it of every order in its way. */
const known = new WeakMap<PlannedOrder, { readonly shop: ShopHours; readonly keepBy: EpochS }>();

function keepByOf(shop: ShopHours, order: PlannedOrder): EpochS {
  const kept = known.get(order);
  if (kept?.shop === shop) return kept.keepBy;
  const keepBy = latestEnd(shop, order.promised) ?? Number.NEGATIVE_INFINITY;
  known.set(order, { shop, keepBy });
  return keepBy;
}
