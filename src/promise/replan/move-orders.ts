import type { EpochS } from '../calendar/time.ts';
import { insertAround } from '../insert/insert.ts';
import type { Insertion } from '../insert/insertion.ts';
import { type Booking, haveSameBookings } from '../plan/booking.ts';
import { commit, type Plan } from '../plan/plan.ts';
import { type ChangedBooking, withdraw } from '../plan/withdraw.ts';
import { endOfOrder, type MovableOrder, type RoomRequest } from './movable-orders.ts';
import { type MovedOrder, type PlannedOrder, withChanges } from './planned-order.ts';

/** A plan in which a job found room. */
export type Room = {
  readonly kind: 'room';
  readonly insertion: Insertion;
  /** the plan with everything in its new place. */
  readonly plan: Plan;
  readonly moved: readonly MovedOrder[];
  /** the fixed bookings of the job as they are now: a set-up may have been repaired. */
  readonly fixed: readonly Booking[];
};

/** No room: `stuck` is the order that could not keep its promise, `endsAt` when it would end. */
export type NoRoom = {
  readonly kind: 'no-room';
  readonly stuck?: MovableOrder;
  readonly endsAt?: EpochS;
};

/** Takes orders out of the plan, places the job, and puts the orders back, in order of deadline. */
export function moveOrders(
  plan: Plan,
  displaced: readonly MovableOrder[],
  request: RoomRequest,
): Room | NoRoom {
  const { frozenUntil } = request;
  const withdrawal = withdraw(
    plan,
    displaced.flatMap(({ movable }) => movable),
    frozenUntil,
  );
  const insertion = insertAround(withdrawal.plan, request.job, request.notBefore, request.fixed);
  if (insertion.kind === 'refused') return { kind: 'no-room' };
  let current = commit(withdrawal.plan, insertion.bookings);
  const moved: MovedOrder[] = [];
  for (const each of displaced.toSorted((a, b) => a.deadline - b.deadline)) {
    const { job, notBefore, bookings } = each.order;
    const again = insertAround(current, job, Math.max(notBefore, frozenUntil), each.fixed);
    if (again.kind === 'refused') return { kind: 'no-room', stuck: each };
    if (again.endsAt > each.deadline) return { kind: 'no-room', stuck: each, endsAt: again.endsAt };
    current = commit(current, again.bookings);
    moved.push({
      order: job.id,
      before: bookings,
      after: [...each.fixed, ...again.bookings],
      endsAt: again.endsAt,
    });
  }
  return {
    kind: 'room',
    insertion,
    plan: current,
    moved: withRepairedSetUps(request.orders, moved, withdrawal.changed).filter(
      ({ before, after }) => !haveSameBookings(before, after),
    ),
    fixed: withChanges(
      request.fixed,
      withdrawal.changed.filter(({ after }) => after.job === request.job.id),
    ),
  };
}

/** The moved orders, and those whose set-ups were repaired because like work before them moved. */
function withRepairedSetUps(
  orders: readonly PlannedOrder[],
  moved: readonly MovedOrder[],
  changed: readonly ChangedBooking[],
): MovedOrder[] {
  const all = new Map(moved.map((each) => [each.order, each]));
  for (const id of new Set(changed.map(({ after }) => after.job))) {
    const order = orders.find((each) => each.job.id === id);
    if (!order) continue;
    const known = all.get(id);
    all.set(id, {
      order: id,
      before: order.bookings,
      after: withChanges(
        known?.after ?? order.bookings,
        changed.filter(({ after }) => after.job === id),
      ),
      endsAt: known ? known.endsAt : endOfOrder(order),
    });
  }
  return [...all.values()];
}
