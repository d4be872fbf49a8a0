import type { ShopHours } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { PlanInputError } from '../input-checks.ts';
import { hoursOfBooking } from '../plan/booked-work.ts';
import type { Booking } from '../plan/booking.ts';
import type { Chain, Job, Step } from '../plan/job.ts';
import type { PlannedOrder } from './planned-order.ts';

/** What the floor reports. `chain` and `step` are the indexes of the booking; `at` is when it happened. */
export type FloorEvent =
  | {
      readonly kind: 'started';
      readonly job: string;
      readonly chain: number;
      readonly step: number;
      /** where it was actually started; default where it was booked. */
      readonly unit?: number | undefined;
      readonly at: EpochS;
    }
  | {
      readonly kind: 'finished';
      readonly job: string;
      readonly chain: number;
      readonly step: number;
      readonly at: EpochS;
    }
  | {
      readonly kind: 'spoiled';
      readonly job: string;
      readonly chain: number;
      /** the step at which it was noticed. */
      readonly step: number;
      /** how many of the pieces that go through the chain must be made again, 1 to `ofPieces`. */
      readonly pieces: number;
      readonly ofPieces: number;
      readonly at: EpochS;
      /** when work on them can begin, such as the day a new blank arrives; default at once. */
      readonly againFrom?: EpochS | undefined;
    }
  | {
      readonly kind: 'down';
      readonly station: string;
      /** default all units. */
      readonly unit?: number | undefined;
      readonly from: EpochS;
      /** when it is expected to work again. */
      readonly to: EpochS;
    };

/**
 * Enters a report about a step into its order's bookings.
 *
 * @throws PlanInputError when there is no such booking
 */
export function withReport(
  shop: ShopHours,
  order: PlannedOrder,
  event: Extract<FloorEvent, { kind: 'started' | 'finished' }>,
): PlannedOrder {
  const booking = order.bookings.find(
    (each) => each.chain === event.chain && each.step === event.step && each.part === 'all',
  );
  if (!booking) {
    throw new PlanInputError(
      `event '${event.kind}' is about chains[${event.chain}].steps[${event.step}] of job '${event.job}', which has no booking`,
    );
  }
  const after =
    event.kind === 'started'
      ? startedBooking(shop, booking, event.at, event.unit)
      : finishedBooking(shop, booking, event.at);
  return { ...order, bookings: order.bookings.map((each) => (each === booking ? after : each)) };
}

function startedBooking(shop: ShopHours, booking: Booking, at: EpochS, unit = booking.unit): Booking {
  const moved: Booking = { ...booking, unit, state: 'started', joined: false, heldFrom: at, start: at };
  return withRecomputedEnd(shop, moved, at);
}

/** A booking whose run and end are worked out anew from `start`, by the hours of the shop as they are. */
export function withRecomputedEnd(shop: ShopHours, booking: Booking, start: EpochS): Booking {
  const hours = hoursOfBooking(shop, booking);
  const runOpenS = hours.openSecondsAt(start) + booking.setUpS;
  // what goes on past the last known hour ends there
  const end = Math.min(hours.endAt(runOpenS + booking.runS), shop.to);
  return { ...booking, runStart: Math.max(start, Math.min(end, hours.startAt(runOpenS))), end };
}

function finishedBooking(shop: ShopHours, booking: Booking, at: EpochS): Booking {
  const start = Math.min(booking.start, at);
  const runStart = Math.min(booking.runStart, at);
  const hours = hoursOfBooking(shop, booking);
  const runOpenS = hours.openSecondsAt(runStart);
  return {
    ...booking,
    state: 'finished',
    joined: false,
    heldFrom: start,
    start,
    runStart,
    end: at,
    setUpS: runOpenS - hours.openSecondsAt(start),
    runS: hours.openSecondsAt(at) - runOpenS,
  };
}

/**
 * The job with one more chain, in which spoiled pieces go through every step again.
 *
 * @throws PlanInputError when there is no such step, or the number of pieces is not from 1 to all
 */
export function withRemake(job: Job, event: Extract<FloorEvent, { kind: 'spoiled' }>): Job {
  const chain = job.chains[event.chain];
  if (!chain?.steps[event.step]) {
    throw new PlanInputError(
      `event 'spoiled' is about chains[${event.chain}].steps[${event.step}] of job '${event.job}', which does not exist`,
    );
  }
  if (!(event.pieces >= 1 && event.pieces <= event.ofPieces)) {
    throw new PlanInputError(
      `event 'spoiled' of job '${event.job}' has ${event.pieces} of ${event.ofPieces} pieces; it must be from 1 to all`,
    );
  }
  const share = event.pieces / event.ofPieces;
  const notBefore = Math.max(event.at, event.againFrom ?? event.at);
  const remake: Chain = {
    steps: chain.steps.map((step, i): Step => {
      if (step.kind === 'wait') return step;
      const batches = Math.ceil(step.batches * share - 1e-9);
      return i === 0 ? { ...step, batches, notBefore } : { ...step, batches };
    }),
    after: chain.after,
  };
  const remakeIndex = job.chains.length;
  // chains that wait for the spoiled one wait for the remake, too
  const withRemakeRefs = (each: Chain): Chain => {
    const refs = (each.after ?? []).filter((ref) => ref.chain === event.chain);
    if (refs.length === 0) return each;
    return { ...each, after: [...each.after!, ...refs.map((ref) => ({ ...ref, chain: remakeIndex }))] };
  };
  return { ...job, chains: [...job.chains.map(withRemakeRefs), remake] };
}
