import { memoByKey } from '../../memo-by-key.ts';
import type { EpochS } from '../calendar/time.ts';
import { maxCrewParts } from '../plan/booked-work.ts';
import type { Booking } from '../plan/booking.ts';
import type { Job } from '../plan/job.ts';
import type { PlannedOrder } from './planned-order.ts';

/** A job to make room for. */
export type RoomRequest = {
  /** all orders in the plan. */
  readonly orders: readonly PlannedOrder[];
  /** ids of orders that must not be moved. */
  readonly immovable: ReadonlySet<string>;
  readonly job: Job;
  /** bookings of the job that are in the plan already. */
  readonly fixed: readonly Booking[];
  readonly notBefore: EpochS;
  /** ending by then is good enough; Infinity: as early as can be found. */
  readonly dueBy: EpochS;
  /** bookings that begin before this instant stay where they are. */
  readonly frozenUntil: EpochS;
  /** how many orders may be moved. */
  readonly maxMoved: number;
  /** how many sets of orders are tried; default 60. */
  readonly maxAttempts?: number | undefined;
};

/** An order some of whose bookings may be moved. */
export type MovableOrder = {
  readonly order: PlannedOrder;
  /** the latest end that keeps its promise. */
  readonly deadline: EpochS;
  /** what stays: begun, finished, or frozen. */
  readonly fixed: readonly Booking[];
  readonly movable: readonly Booking[];
};

/**
 * Orders with slack and with bookings whose place the job could use, most slack first.
 *
 * @param until bookings from here on are not in the way
 * @param deadlineOf the latest end of an order that keeps its promise
 */
export function ordersInTheWay(
  request: RoomRequest,
  until: EpochS,
  deadlineOf: (order: PlannedOrder) => EpochS,
): MovableOrder[] {
  const { stations, needsCrew } = resourcesOf(request.job);
  const mayMove = (booking: Booking): boolean =>
    booking.state === 'booked' && booking.start >= request.frozenUntil;
  const found: { order: PlannedOrder; deadline: EpochS; slackS: number }[] = [];
  for (const order of request.orders) {
    if (order.job.id === request.job.id || request.immovable.has(order.job.id)) continue;
    const isInTheWay = order.bookings.some(
      (booking) =>
        booking.start < until &&
        mayMove(booking) &&
        (stations.has(booking.station) || (needsCrew && maxCrewParts(booking) > 0)),
    );
    if (!isInTheWay) continue;
    const deadline = deadlineOf(order);
    const slackS = deadline - endOfOrder(order);
    if (slackS > 0) found.push({ order, deadline, slackS });
  }
  return found
    .sort((a, b) => b.slackS - a.slackS)
    .slice(0, request.maxMoved)
    .map(({ order, deadline }) => ({
      order,
      deadline,
      movable: order.bookings.filter(mayMove),
      fixed: order.bookings.filter((booking) => !mayMove(booking)),
    }));
}

function resourcesOf(job: Job): { stations: ReadonlySet<string>; needsCrew: boolean } {
  const steps = job.chains.flatMap((chain) => chain.steps).filter((step) => step.kind === 'work');
  return {
    stations: new Set(steps.map((step) => step.station)),
    needsCrew: steps.some((step) => step.crewShare > 0 || step.setUpCrewShare > 0),
  };
}

/** When an order's last step is done, including waits after it. */
export const endOfOrder = memoByKey((order: PlannedOrder): EpochS => {
  let end = order.notBefore;
  for (const booking of order.bookings) {
    const later = order.job.chains[booking.chain]?.steps.slice(booking.step + 1) ?? [];
    const waitS = later.reduce((sum, step) => sum + (step.kind === 'wait' ? Math.ceil(step.waitS) : 0), 0);
    end = Math.max(end, booking.end + waitS);
  }
  return end;
});
