import { hoursOfBooking, type Plan, unitOf } from '../plan/plan.ts';
import type { Booking, EpochS, PlannedOrder } from '../types.ts';
import { flowAt, hasNoWork, leastRunWork } from './batch-flow.ts';
import { flowOfBooking, JobFlow, passThrough } from './job-flow.ts';

/** How an order stands by its bookings. */
export type OrderState = {
  /** bookings whose run begins before their input is there, which is never where work before them is not booked. */
  readonly tooEarly: readonly Booking[];
  /** the last step is done; Infinity when some work is not booked. */
  readonly endsAt: EpochS;
};

/** Goes through the steps of an order and compares what they hand over with what is booked. */
export function stateOfOrder(plan: Plan, order: PlannedOrder, bookings: readonly Booking[]): OrderState {
  const { job, notBefore } = order;
  const feeds = new JobFlow(job, notBefore);
  const tooEarly: Booking[] = [];
  let endsAt = notBefore;
  for (let more = true; more; ) {
    more = false;
    for (let c = 0; c < job.chains.length; c++) {
      const step = feeds.nextStep(c);
      const input = step ? feeds.inputOf(c) : null;
      if (!step || !input) continue;
      more = true;
      const index = feeds.placedIn(c);
      const booking = bookings.find((each) => each.chain === c && each.step === index && each.part === 'all');
      if (step.kind === 'wait' || hasNoWork(step)) {
        feeds.put(c, passThrough(step, input, notBefore).feeds);
      } else if (!booking) {
        feeds.put(c, [flowAt(notBefore, Number.POSITIVE_INFINITY)]);
      } else {
        const hours = hoursOfBooking(plan.shop.units[unitOf(plan.shop, booking)]!, booking);
        const least = Math.max(
          hours.workAt(step.notBefore ?? notBefore),
          ...input.map((feed) => leastRunWork(feed, step, hours)),
        );
        if (hours.workAt(booking.runStart) < least) tooEarly.push(booking);
        feeds.put(c, [flowOfBooking(plan, step, booking)]);
      }
      endsAt = Math.max(endsAt, ...feeds.lastOf(c).map((feed) => feed.end));
    }
  }
  return { tooEarly, endsAt };
}

/** Whether `later` comes after `earlier` in its job, in the same chain or one that waits for it. */
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
