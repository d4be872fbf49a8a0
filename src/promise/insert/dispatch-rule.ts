import { type Plan, withOverlay, withSchedule } from '../plan/plan.ts';
import type { Booking, EpochS, Job, PlacedStep, Step } from '../types.ts';
import { type BatchFlow, firstReadyAt, hasNoWork } from './batch-flow.ts';
import { placingsOf } from './choose-unit.ts';
import { flowOf, flowOfBooking, JobFlow, passThrough } from './job-flow.ts';
import { bookingOf, type Outcome, placedOf, planFull } from './outcome.ts';

/** A job of several chains, or one partly fixed: by the dispatch rule. */
export function byRule(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  fixed: readonly Booking[],
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): Outcome {
  let now = plan;
  const bookings: Booking[] = [];
  const steps: PlacedStep[] = [];
  const feeds = new JobFlow(job, notBefore);
  const still = new StepsLeft(job);
  let left = job.chains.reduce((sum, chain) => sum + chain.steps.length, 0);

  while (left > 0) {
    let next = -1;
    let input: readonly BatchFlow[] = [];
    let ready = Number.POSITIVE_INFINITY;
    for (let c = 0; c < job.chains.length; c++) {
      const step = feeds.nextStep(c);
      const given = step ? feeds.inputOf(c) : null;
      if (!step || !given) continue;
      const at = Math.max(
        ...given.map((feed) => (step.kind === 'work' ? firstReadyAt(feed, step) : feed.runStart)),
      );
      if (next < 0 || at < ready) {
        next = c;
        input = given;
        ready = at;
      }
    }
    const index = feeds.placedIn(next);
    const step = feeds.nextStep(next)!;
    left--;
    still.take(step);
    if (step.kind === 'wait' || hasNoWork(step)) {
      const waited = passThrough(step, input, notBefore);
      feeds.put(next, waited.feeds);
      steps.push(waited.placed(next, index));
      continue;
    }
    const held = fixed.find((each) => each.chain === next && each.step === index && each.part === 'all');
    if (held) {
      feeds.put(next, [flowOfBooking(now, step, held)]);
      steps.push(placedOf(held, held.runStart));
      continue;
    }
    const placing = placingsOf(now, step, input, notBefore, false)[0];
    if (!placing) return { refused: planFull(plan, step), allTried: false };
    if (placing.end > giveUpAfter) return { refused: planFull(plan, step), allTried: false };
    const booking = bookingOf(now, job, next, index, step, placing);
    bookings.push(booking);
    steps.push(placedOf(booking, placing.readyAt));
    feeds.put(next, [flowOf(step, placing)]);
    now = still.leftOf(now, booking);
  }
  return {
    bookings,
    steps,
    endsAt: Math.max(notBefore, ...steps.map((placed) => placed.end)),
    allTried: false,
  };
}

/** What the steps of a job that are still to be placed will look at: of the plan only that need be kept up to date. */
class StepsLeft {
  readonly #onStation = new Map<string, number>();
  #crewed = 0;

  constructor(job: Job) {
    for (const { steps } of job.chains) for (const step of steps) this.#count(step, 1);
  }

  take(step: Step): void {
    this.#count(step, -1);
  }

  /** The plan with a booking in it, as far as the steps left will see it. */
  leftOf(plan: Plan, booking: Booking): Plan {
    const seen = (this.#onStation.get(booking.station) ?? 0) > 0;
    const tracked = seen ? withSchedule(plan, booking) : plan;
    return this.#crewed > 0 ? withOverlay(tracked, booking) : tracked;
  }

  #count(step: Step, by: 1 | -1): void {
    if (step.kind === 'wait') return;
    this.#onStation.set(step.station, (this.#onStation.get(step.station) ?? 0) + by);
    if (step.setUpCrewShare > 0 || step.crewShare > 0) this.#crewed += by;
  }
}
