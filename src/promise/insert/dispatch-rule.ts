import type { EpochS } from '../calendar/time.ts';
import type { Booking } from '../plan/booking.ts';
import type { Job, Step } from '../plan/job.ts';
import { type Plan, withOverlay, withSchedule } from '../plan/plan.ts';
import { type BatchFlow, firstReadyAt, hasNoWork } from './batch-flow.ts';
import type { PlacedStep } from './insertion.ts';
import { flowOf, flowOfBooking, JobFlow, passThrough } from './job-flow.ts';
import { bookingOf, type Outcome, placedStepOf, planFull } from './outcome.ts';
import { unitPlacings } from './unit-placings.ts';

/**
 * Places a job of several chains, or one partly booked, by the dispatch rule (see `insert`).
 *
 * @param fixed bookings of the job that stay as they are
 * @param giveUpAfter stop as soon as a step ends later than this
 */
export function placeByRule(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  fixed: readonly Booking[],
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): Outcome {
  let current = plan;
  const bookings: Booking[] = [];
  const steps: PlacedStep[] = [];
  const flow = new JobFlow(job, notBefore);
  const remaining = new RemainingSteps(job);

  for (let next = nextChain(job, flow); next; next = nextChain(job, flow)) {
    const { chain, step, input } = next;
    const index = flow.placedCount(chain);
    remaining.remove(step);
    if (step.kind === 'wait' || hasNoWork(step)) {
      const waited = passThrough(step, input, notBefore);
      flow.record(chain, waited.flows);
      steps.push(waited.placed(chain, index));
      continue;
    }
    const booked = fixed.find((each) => each.chain === chain && each.step === index && each.part === 'all');
    if (booked) {
      flow.record(chain, [flowOfBooking(current.shop, step, booked)]);
      steps.push(placedStepOf(booked, booked.runStart));
      continue;
    }
    const [placing] = unitPlacings(current, step, input, notBefore, false);
    if (!placing || placing.end > giveUpAfter) return { refused: planFull(plan, step), allTried: false };
    const booking = bookingOf(current, job, chain, index, step, placing);
    bookings.push(booking);
    steps.push(placedStepOf(booking, placing.readyAt));
    flow.record(chain, [flowOf(step, placing)]);
    current = remaining.planFor(current, booking);
  }
  return {
    bookings,
    steps,
    endsAt: Math.max(notBefore, ...steps.map((placed) => placed.end)),
    allTried: false,
  };
}

/** The chain whose next step is ready earliest, of equals the first; undefined when all steps are placed. */
function nextChain(
  job: Job,
  flow: JobFlow,
): { chain: number; step: Step; input: readonly BatchFlow[] } | undefined {
  let next: ReturnType<typeof nextChain>;
  let nextReady = Number.POSITIVE_INFINITY;
  for (let chain = 0; chain < job.chains.length; chain++) {
    const step = flow.nextStep(chain);
    const input = step && flow.inputOf(chain);
    if (!step || !input) continue;
    const ready = Math.max(
      ...input.map((each) => (step.kind === 'work' ? firstReadyAt(each, step) : each.runStart)),
    );
    if (!next || ready < nextReady) {
      next = { chain, step, input };
      nextReady = ready;
    }
  }
  return next;
}

/** Which parts of the plan the steps not yet placed will read: only those need to be kept up to date. */
class RemainingSteps {
  readonly #onStation = new Map<string, number>();
  #withCrew = 0;

  constructor(job: Job) {
    for (const { steps } of job.chains) for (const step of steps) this.#count(step, 1);
  }

  remove(step: Step): void {
    this.#count(step, -1);
  }

  /** The plan with a booking in it, as far as the remaining steps will read it. */
  planFor(plan: Plan, booking: Booking): Plan {
    const isStationRead = (this.#onStation.get(booking.station) ?? 0) > 0;
    const scheduled = isStationRead ? withSchedule(plan, booking) : plan;
    return this.#withCrew > 0 ? withOverlay(scheduled, booking) : scheduled;
  }

  #count(step: Step, by: 1 | -1): void {
    if (step.kind === 'wait') return;
    this.#onStation.set(step.station, (this.#onStation.get(step.station) ?? 0) + by);
    if (step.setUpCrewShare > 0 || step.crewShare > 0) this.#withCrew += by;
  }
}
