import { memoByKey } from '../../memo-by-key.ts';
import { type ShopHours, withOutage } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { PlanInputError } from '../input-checks.ts';
import type { Booking } from '../plan/booking.ts';
import { buildPlan, type Plan } from '../plan/plan.ts';
import { type FloorEvent, withRemake, withReport } from './floor-events.ts';
import { CauseTracker, type LateCause } from './late-cause.ts';
import { type OrderState, stateOfOrder } from './order-state.ts';
import { deadlineOf, type PlannedOrder } from './planned-order.ts';

/** How to read what the floor reports. */
export type FloorOptions = {
  readonly now: EpochS;
  /**
   * Steps that should have begun by `now` and were not reported: `assume-on-time` (default) takes them as begun, for
   * floors that only report trouble; `assume-not-started` moves them.
   */
  readonly unreported?: 'assume-on-time' | 'assume-not-started' | undefined;
  /** how many other orders may be moved within their slack to save one, 0 to 1000; default 20. */
  readonly maxMoved?: number | undefined;
};

/** An order while the plan is brought in line with the floor. */
export type OrderCase = {
  order: PlannedOrder;
  readonly before: PlannedOrder;
  /** the latest end that keeps its promise. */
  readonly deadline: EpochS;
  cause: LateCause | undefined;
  /** some of its work is missing from the plan. */
  isIncomplete: boolean;
  /** its missing work found no room within the horizon. */
  isUnplaceable: boolean;
};

/** The state shared by the steps of `applyEvents`; `plan` and the cases change from step to step. */
export type FloorRun = {
  /** with the reported outages. */
  readonly shop: ShopHours;
  readonly options: FloorOptions;
  readonly cases: ReadonlyMap<string, OrderCase>;
  readonly causes: CauseTracker;
  readonly stateOf: (order: PlannedOrder) => OrderState;
  plan: Plan;
};

/**
 * Enters the reports into the orders' jobs and bookings. The plan is still empty.
 *
 * @throws PlanInputError when an event is about something that does not exist
 */
export function startFloorRun(
  shopBefore: ShopHours,
  orders: readonly PlannedOrder[],
  events: readonly FloorEvent[],
  options: FloorOptions,
): FloorRun {
  const outages = events.filter((event) => event.kind === 'down');
  const shop = outages.reduce((hours, event) => withOutage(hours, event.station, event), shopBefore);
  const cases = new Map(
    orders.map((order): [string, OrderCase] => [
      order.job.id,
      {
        order,
        before: order,
        deadline: deadlineOf(shopBefore, order),
        cause: undefined,
        isIncomplete: false,
        isUnplaceable: false,
      },
    ]),
  );
  for (const event of events) if (event.kind !== 'down') enterReport(shop, cases, event);
  return {
    shop,
    options,
    cases,
    causes: new CauseTracker(outages),
    stateOf: memoByKey((order: PlannedOrder) => stateOfOrder(shop, order)),
    plan: buildPlan(shop, []),
  };
}

function enterReport(
  shop: ShopHours,
  cases: ReadonlyMap<string, OrderCase>,
  event: Exclude<FloorEvent, { kind: 'down' }>,
): void {
  const orderCase = cases.get(event.job);
  if (!orderCase) {
    throw new PlanInputError(
      `event '${event.kind}' is about job '${event.job}', which is not among the orders`,
    );
  }
  if (event.kind !== 'spoiled') {
    orderCase.order = withReport(shop, orderCase.order, event);
    return;
  }
  const job = withRemake(orderCase.order.job, event);
  orderCase.order = { ...orderCase.order, job };
  orderCase.cause = {
    kind: 'spoiled',
    step: job.chains[event.chain]!.steps[event.step]!.key,
    pieces: event.pieces,
  };
  orderCase.isIncomplete = true;
}

/** Replaces a booking of an order; `before` undefined: adds one. */
export function replaceBooking(orderCase: OrderCase, before: Booking | undefined, after: Booking): void {
  const { order } = orderCase;
  orderCase.order = {
    ...order,
    bookings: [...order.bookings.filter((booking) => booking !== before), after],
  };
}
