import { promiseDay } from '../calendar/promise-day.ts';
import type { ShopHours } from '../calendar/shop-hours.ts';
import type { Day, EpochS } from '../calendar/time.ts';
import { haveSameBookings } from '../plan/booking.ts';
import type { Plan } from '../plan/plan.ts';
import type { FloorEvent } from './floor-events.ts';
import { type FloorOptions, type FloorRun, startFloorRun } from './floor-run.ts';
import type { LateCause } from './late-cause.ts';
import { advanceLate, placeMissing } from './place-missing.ts';
import type { MovedOrder, PlannedOrder } from './planned-order.ts';
import { restoreBooked, restoreReported } from './restore-bookings.ts';

/** An order that will miss its promised day. */
export type LateOrder = {
  readonly order: string;
  readonly promised: Day;
  /** the day it would be now; null beyond the shop's days. */
  readonly now: Day | null;
  /** null beyond the horizon. */
  readonly endsAt: EpochS | null;
  /** null when it was late before these events. */
  readonly cause: LateCause | null;
};

/** The plan after the floor's reports. */
export type FloorOutcome = {
  /** with the reported outages; keep its `spec`. */
  readonly shop: ShopHours;
  readonly plan: Plan;
  /** all orders with their jobs (spoiled pieces add a chain) and bookings as they are now, in the order given. */
  readonly orders: readonly PlannedOrder[];
  readonly moved: readonly MovedOrder[];
  /** late orders are reported here; they are never silently given another day. */
  readonly late: readonly LateOrder[];
};

/**
 * Brings the plan in line with what happened on the floor. Bookings that can stay do not move. Those that cannot (their
 * station is down, it is still occupied, their input comes later, the crew is short) are placed again, with what
 * depends on them, in order of deadline, each at its earliest. Where that breaks a promise, other orders are moved
 * within their slack if that saves it. An order that cannot be saved is reported late with the new day and the cause,
 * and moves up whenever that ends it earlier.
 *
 * @param orders all orders with work left in the plan, with their last known bookings
 * @throws PlanInputError when an event is about something that does not exist
 */
export function applyEvents(
  shop: ShopHours,
  orders: readonly PlannedOrder[],
  events: readonly FloorEvent[],
  options: FloorOptions,
): FloorOutcome {
  const run = startFloorRun(shop, orders, events, options);
  restoreReported(run);
  restoreBooked(run);
  placeMissing(run);
  advanceLate(run);
  return {
    shop: run.shop,
    plan: run.plan,
    orders: [...run.cases.values()].map(({ order }) => order),
    moved: movedOrders(run),
    late: lateOrders(run),
  };
}

function movedOrders(run: FloorRun): MovedOrder[] {
  return [...run.cases.values()]
    .filter(({ before, order }) => !haveSameBookings(before.bookings, order.bookings))
    .map(({ before, order, isUnplaceable }) => ({
      order: order.job.id,
      before: before.bookings,
      after: order.bookings,
      endsAt: isUnplaceable ? null : run.stateOf(order).endsAt,
    }));
}

function lateOrders(run: FloorRun): LateOrder[] {
  return [...run.cases.values()].flatMap(({ order, cause, isUnplaceable }): LateOrder[] => {
    const { packingS, rule, day } = order.promised;
    const { endsAt } = run.stateOf(order);
    const now = isUnplaceable ? undefined : promiseDay(run.shop, endsAt, packingS, rule)?.day;
    if (now !== undefined && now <= day) return [];
    return [
      {
        order: order.job.id,
        promised: day,
        now: now ?? null,
        endsAt: isUnplaceable ? null : endsAt,
        cause: cause ?? run.causes.delayOf(order.job.id) ?? null,
      },
    ];
  });
}
