import type { ShopHours } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { flowAt, hasNoWork, minRunOpenS } from '../insert/batch-flow.ts';
import { flowOfBooking, JobFlow, passThrough } from '../insert/job-flow.ts';
import { hoursOfBooking } from '../plan/booked-work.ts';
import type { Booking } from '../plan/booking.ts';
import type { PlannedOrder } from './planned-order.ts';

/** How an order stands according to its bookings. */
export type OrderState = {
  /** bookings whose run begins before their input is ready. After a step that is not booked, input is never ready. */
  readonly tooEarly: readonly Booking[];
  /** the last step is done; Infinity when some work is not booked. */
  readonly endsAt: EpochS;
};

/** Goes through the steps of an order and compares the input of each with when it is booked. */
export function stateOfOrder(shop: ShopHours, order: PlannedOrder): OrderState {
  const { job, bookings, notBefore } = order;
  const flow = new JobFlow(job, notBefore);
  const tooEarly: Booking[] = [];
  let endsAt = notBefore;
  for (let more = true; more; ) {
    more = false;
    for (let c = 0; c < job.chains.length; c++) {
      const step = flow.nextStep(c);
      const input = step && flow.inputOf(c);
      if (!step || !input) continue;
      more = true;
      const index = flow.placedCount(c);
      const booking = bookings.find((each) => each.chain === c && each.step === index && each.part === 'all');
      if (step.kind === 'wait' || hasNoWork(step)) {
        flow.record(c, passThrough(step, input, notBefore).flows);
      } else if (!booking) {
        flow.record(c, [flowAt(notBefore, Number.POSITIVE_INFINITY)]);
      } else {
        const hours = hoursOfBooking(shop, booking);
        const earliest = Math.max(
          hours.openSecondsAt(step.notBefore ?? notBefore),
          ...input.map((each) => minRunOpenS(each, step, hours)),
        );
        if (hours.openSecondsAt(booking.runStart) < earliest) tooEarly.push(booking);
        flow.record(c, [flowOfBooking(shop, step, booking)]);
      }
      endsAt = Math.max(endsAt, ...flow.outputOf(c).map((each) => each.end));
    }
  }
  return { tooEarly, endsAt };
}

/** Whether `later` comes after `earlier` in its job, in the same chain or in one that waits for it. */
export function isDownstream(order: PlannedOrder, earlier: Booking, later: Booking): boolean {
  if (later.chain === earlier.chain) return later.step > earlier.step;
  const waitsFor = (chain: number): boolean =>
    (order.job.chains[chain]!.after ?? []).some(
      (ref) =>
        (ref.chain === earlier.chain && (ref.step ?? Number.POSITIVE_INFINITY) >= earlier.step) ||
        (ref.chain !== earlier.chain && waitsFor(ref.chain)),
    );
  return waitsFor(later.chain);
}
