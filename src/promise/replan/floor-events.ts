import type { ShopHours } from '../calendar/shop-hours.ts';
import { hoursOfBooking, unitOf } from '../plan/plan.ts';
import {
  type Booking,
  type Chain,
  type EpochS,
  type Job,
  PlanInputError,
  type PlannedOrder,
  type Step,
} from '../types.ts';

/** What the floor reports. `chain` and `step` are the indexes of the booking; `at` is when it happened. */
export type FloorEvent =
  | {
      readonly kind: 'started';
      readonly job: string;
      readonly chain: number;
      readonly step: number;
      /** where it was really started; absent: where it was booked. */
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
      /** when work on them can begin, such as the day a new blank arrives; absent: at once. */
      readonly againFrom?: EpochS | undefined;
    }
  | {
      readonly kind: 'down';
      readonly station: string;
      /** absent: all of them. */
      readonly unit?: number | undefined;
      readonly from: EpochS;
      /** when it is expected to work again. */
      readonly to: EpochS;
    };

/** Puts a report about a step into its order's bookings. @throws PlanInputError when there is no such booking */
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
  const after = event.kind === 'started' ? started(shop, booking, event) : finished(shop, booking, event.at);
  return { ...order, bookings: order.bookings.map((each) => (each === booking ? after : each)) };
}

function started(
  shop: ShopHours,
  booking: Booking,
  event: { readonly unit?: number | undefined; readonly at: EpochS },
): Booking {
  const moved: Booking = {
    ...booking,
    unit: event.unit ?? booking.unit,
    state: 'started',
    joined: false,
    heldFrom: event.at,
    start: event.at,
  };
  return withWork(shop, moved, event.at);
}

/** A booking from `start` on with its set-up and run laid into the hours as they are. */
export function withWork(shop: ShopHours, booking: Booking, start: EpochS): Booking {
  const hours = hoursOfBooking(shop.units[unitOf(shop, booking)]!, booking);
  const startWork = hours.workAt(start);
  const runWork = startWork + booking.setUpS;
  const end = hours.endAt(runWork + booking.runS);
  // what reaches past the known hours ends with them: the plan is too short to say when
  const last = Math.min(end, shop.to);
  return { ...booking, runStart: Math.max(start, Math.min(last, hours.startAt(runWork))), end: last };
}

function finished(shop: ShopHours, booking: Booking, at: EpochS): Booking {
  const start = Math.min(booking.start, at);
  const runStart = Math.min(booking.runStart, at);
  const hours = hoursOfBooking(shop.units[unitOf(shop, booking)]!, booking);
  const runWork = hours.workAt(runStart);
  return {
    ...booking,
    state: 'finished',
    joined: false,
    heldFrom: start,
    start,
    runStart,
    end: at,
    setUpS: runWork - hours.workAt(start),
    runS: hours.workAt(at) - runWork,
  };
}

/** The job with a chain more, in which spoiled pieces go through every step again. */
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
  const again: Chain = {
    steps: chain.steps.map((step, i): Step => {
      if (step.kind === 'wait') return step;
      const batches = Math.ceil(step.batches * share - 1e-9);
      return i === 0 ? { ...step, batches, notBefore } : { ...step, batches };
    }),
    after: chain.after,
  };
  const remake = job.chains.length;
  return {
    ...job,
    // who waits for the chain waits for what is made again, too
    chains: [
      ...job.chains.map((each) => {
        const waits = (each.after ?? []).filter((ref) => ref.chain === event.chain);
        if (waits.length === 0) return each;
        return { ...each, after: [...each.after!, ...waits.map((ref) => ({ ...ref, chain: remake }))] };
      }),
      again,
    ],
  };
}
