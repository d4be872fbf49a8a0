import type { Booking } from '../plan/booking.ts';
import { conflictOf } from '../plan/booking-conflict.ts';
import { buildPlan, withBooking } from '../plan/plan.ts';
import { withdraw, withFullSetUp } from '../plan/withdraw.ts';
import { withRecomputedEnd } from './floor-events.ts';
import { type FloorRun, type OrderCase, replaceBooking } from './floor-run.ts';
import { type LateCause, lateStep } from './late-cause.ts';
import { isDownstream } from './order-state.ts';

/** Puts what the floor has begun or finished into the plan, whatever was planned. */
export function restoreReported(run: FloorRun): void {
  const reported: Booking[] = [];
  for (const orderCase of run.cases.values()) {
    const bookings = orderCase.order.bookings.map((booking) => {
      if (booking.state === 'booked') return booking;
      const actual = booking.state === 'started' ? runningBooking(run, booking) : booking;
      reported.push(actual);
      noteDelay(run, orderCase, actual);
      return actual;
    });
    orderCase.order = { ...orderCase.order, bookings };
  }
  run.plan = buildPlan(run.shop, reported);
}

/** A started booking by the hours as they are now. It does not end before `now`. */
function runningBooking({ shop, options }: FloorRun, booking: Booking): Booking {
  const running = withRecomputedEnd(shop, booking, booking.start);
  return running.end >= options.now ? running : { ...running, end: options.now };
}

function noteDelay(run: FloorRun, orderCase: OrderCase, actual: Booking): void {
  const planned = orderCase.before.bookings.find(
    (booking) =>
      booking.chain === actual.chain && booking.step === actual.step && booking.part === actual.part,
  );
  if (planned && actual.end > planned.end) run.causes.addDelayed(actual);
}

/** Puts booked work back into the plan, in order of time. What cannot stay is dropped, with what depends on it. */
export function restoreBooked(run: FloorRun): void {
  const booked = [...run.cases.values()]
    .flatMap((orderCase) => orderCase.order.bookings.map((booking) => ({ orderCase, booking })))
    .filter(({ booking }) => booking.state === 'booked')
    .sort((a, b) => a.booking.heldFrom - b.booking.heldFrom);
  const lost = new Set<Booking>();
  for (const { orderCase, booking: planned } of booked) {
    if (lost.has(planned)) continue;
    const booking = adjusted(run, planned);
    if (booking !== planned) {
      replaceBooking(orderCase, planned, booking);
      noteDelay(run, orderCase, booking);
    }
    const cause = whyNotStay(run, orderCase, booking);
    if (cause === undefined) {
      run.plan = withBooking(run.plan, booking);
      continue;
    }
    run.causes.addDropped(booking, cause);
    orderCase.cause ??= cause;
    orderCase.isIncomplete = true;
    const dropped = orderCase.order.bookings.filter(
      (other) =>
        other === booking || (other.state === 'booked' && isDownstream(orderCase.order, booking, other)),
    );
    for (const other of dropped) lost.add(other);
    drop(run, orderCase, dropped);
  }
}

/**
 * A booking taken as begun continues after an outage of its station. One whose like work before it is gone begins its
 * set-up earlier if it can. Any other booking is returned unchanged.
 */
function adjusted({ shop, plan, options }: FloorRun, booking: Booking): Booking {
  const { now, unreported } = options;
  const conflict = conflictOf(plan, booking);
  if (conflict?.kind === 'closed' && booking.start < now && unreported !== 'assume-not-started') {
    return withRecomputedEnd(shop, booking, booking.start);
  }
  if (conflict?.kind === 'not-joined') return withFullSetUp(plan, booking, now) ?? booking;
  return booking;
}

/** Why a booking cannot stay where it is; undefined when it can. */
function whyNotStay(run: FloorRun, orderCase: OrderCase, booking: Booking): LateCause | undefined {
  const { now, unreported } = run.options;
  if (booking.start < now && unreported === 'assume-not-started') {
    return { kind: 'not-started', step: booking.key, station: booking.station };
  }
  const conflict = conflictOf(run.plan, booking);
  if (conflict) return run.causes.causeOf(conflict, booking);
  if (!run.stateOf(orderCase.order).tooEarly.includes(booking)) return undefined;
  return orderCase.cause ?? run.causes.delayOf(booking.job) ?? lateStep(booking);
}

/** Removes bookings from an order, and from the plan where they are in it already. */
function drop(run: FloorRun, orderCase: OrderCase, dropped: readonly Booking[]): void {
  const { plan, changed } = withdraw(run.plan, dropped, run.options.now);
  run.plan = plan;
  orderCase.order = {
    ...orderCase.order,
    bookings: orderCase.order.bookings.filter((booking) => !dropped.includes(booking)),
  };
  for (const { before, after } of changed) replaceBooking(run.cases.get(after.job)!, before, after);
}
