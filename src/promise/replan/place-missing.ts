import { insertAround } from '../insert/insert.ts';
import type { Booking } from '../plan/booking.ts';
import { commit, type Plan } from '../plan/plan.ts';
import { withdraw } from '../plan/withdraw.ts';
import type { FloorRun, OrderCase } from './floor-run.ts';
import { makeRoom } from './make-room.ts';

const DEFAULT_MAX_MOVED = 20;

/** Places work that is missing from the plan, in order of deadline. */
export function placeMissing(run: FloorRun): void {
  for (const orderCase of run.cases.values()) {
    // work that found no place before the horizon in an earlier run may find one now
    if (run.stateOf(orderCase.order).endsAt === Number.POSITIVE_INFINITY) orderCase.isIncomplete = true;
  }
  const incomplete = [...run.cases.values()]
    .filter((orderCase) => orderCase.isIncomplete)
    .sort((a, b) => a.deadline - b.deadline);
  for (const orderCase of incomplete) place(run, orderCase);
}

function place(run: FloorRun, orderCase: OrderCase): void {
  const { now, maxMoved } = run.options;
  const { order, deadline } = orderCase;
  const notBefore = Math.max(order.notBefore, now);
  const direct = insertAround(run.plan, order.job, notBefore, order.bookings);
  orderCase.isIncomplete = false;
  if (direct.kind === 'placed' && direct.endsAt <= deadline) {
    book(run, orderCase, commit(run.plan, direct.bookings), direct.bookings);
    return;
  }
  const others = [...run.cases.values()].filter((other) => other !== orderCase);
  // orders that are not completely placed are not moved either
  const unsettled = others.filter((other) => other.isIncomplete || other.isUnplaceable);
  const room = makeRoom(
    run.plan,
    {
      orders: others.map((other) => other.order),
      immovable: new Set(unsettled.map((other) => other.order.job.id)),
      job: order.job,
      fixed: order.bookings,
      notBefore,
      dueBy: deadline,
      frozenUntil: now,
      maxMoved: maxMoved ?? DEFAULT_MAX_MOVED,
    },
    (other) => run.cases.get(other.job.id)!.deadline,
  );
  if (room.kind === 'room') {
    orderCase.order = { ...orderCase.order, bookings: room.fixed };
    book(run, orderCase, room.plan, room.insertion.bookings);
    for (const moved of room.moved) {
      const other = run.cases.get(moved.order)!;
      other.order = { ...other.order, bookings: moved.after };
    }
  } else if (direct.kind === 'placed') {
    book(run, orderCase, commit(run.plan, direct.bookings), direct.bookings);
  } else orderCase.isUnplaceable = true;
}

function book(run: FloorRun, orderCase: OrderCase, plan: Plan, bookings: readonly Booking[]): void {
  run.plan = plan;
  orderCase.order = { ...orderCase.order, bookings: [...orderCase.order.bookings, ...bookings] };
}

/** Moves the bookings of late orders into time that has become free, where that ends them earlier. */
export function advanceLate(run: FloorRun): void {
  const { now } = run.options;
  const late = [...run.cases.values()]
    .filter(({ order, deadline, isUnplaceable }) => !isUnplaceable && run.stateOf(order).endsAt > deadline)
    .sort((a, b) => a.deadline - b.deadline);
  for (const orderCase of late) {
    const { order } = orderCase;
    const movable = order.bookings.filter(({ state, start }) => state === 'booked' && start > now);
    if (movable.length === 0) continue;
    const kept = order.bookings.filter((booking) => !movable.includes(booking));
    const { plan, changed } = withdraw(run.plan, movable, now);
    // bookings of other orders do not change for an order that is late
    if (changed.length > 0) continue;
    const again = insertAround(plan, order.job, Math.max(order.notBefore, now), kept);
    if (again.kind !== 'placed') continue;
    const sooner = { ...order, bookings: [...kept, ...again.bookings] };
    if (run.stateOf(sooner).endsAt >= run.stateOf(order).endsAt) continue;
    run.plan = commit(plan, again.bookings);
    orderCase.order = sooner;
  }
}
