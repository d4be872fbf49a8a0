import { type Plan, withOverlay, withSchedule } from '../plan/plan.ts';
import type { Booking, EpochS, Job, PlacedStep, Step, WorkStep } from '../types.ts';
import { type BatchFlow, hasNoWork } from './batch-flow.ts';
import { placingsOf } from './choose-unit.ts';
import { endOf, flowOf, passThrough, startFlows } from './job-flow.ts';
import { bookingOf, type Found, type Outcome, placedOf, planFull } from './outcome.ts';

/** Placings tried before the search over units of a station that a chain visits again is given up. */
const MOST_TRIES = 400;

/** What is known while steps are being placed. */
type State = {
  readonly plan: Plan;
  readonly bookings: readonly Booking[];
  readonly steps: readonly PlacedStep[];
};

/** A job of one chain: the best over all choices of units where the choice matters. */
export function bestOfUnits(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): Outcome {
  const { steps } = job.chains[0]!;
  let best: Found | null = null;
  let stuck: WorkStep | null = null;
  let tries = 0;
  let allTried = true;

  const visitAgain = (index: number, station: string): boolean =>
    steps.slice(index + 1).some((later) => later.kind === 'work' && later.station === station);

  const go = (index: number, state: State, feeds: readonly BatchFlow[]): void => {
    const step = steps[index];
    if (!step) {
      const endsAt = endOf(feeds, notBefore);
      if (!best || endsAt < best.endsAt) best = { ...state, endsAt, allTried: true };
      return;
    }
    if (step.kind === 'wait' || hasNoWork(step)) {
      const waited = passThrough(step, feeds, notBefore);
      go(index + 1, { ...state, steps: [...state.steps, waited.placed(0, index)] }, waited.feeds);
      return;
    }
    // the choice matters only when a later step meets what this one leaves; the first is the earliest
    const all = visitAgain(index, step.station);
    const placings = placingsOf(state.plan, step, feeds, notBefore, all);
    if (placings.length === 0) stuck ??= step;
    for (const placing of all ? placings : placings.slice(0, 1)) {
      if (tries >= MOST_TRIES) {
        allTried = false;
        if (best) return;
      }
      tries++;
      if (placing.end > giveUpAfter || (best && placing.end >= best.endsAt)) return;
      const booking = bookingOf(state.plan, job, 0, index, step, placing);
      go(
        index + 1,
        {
          plan: forLater(state.plan, booking, steps.slice(index + 1), all),
          bookings: [...state.bookings, booking],
          steps: [...state.steps, placedOf(booking, placing.readyAt)],
        },
        [flowOf(step, placing)],
      );
    }
  };
  go(0, { plan, bookings: [], steps: [] }, startFlows(notBefore, []));
  if (best) return { ...(best as Found), allTried };
  return { refused: planFull(plan, stuck), allTried };
}

/** The plan as later steps of the chain will meet it; what none of them looks at is left as it was. */
function forLater(plan: Plan, booking: Booking, later: readonly Step[], visitAgain: boolean): Plan {
  if (visitAgain) return withOverlay(withSchedule(plan, booking), booking);
  const needsCrew = later.some(
    (step) => step.kind === 'work' && (step.crewShare > 0 || step.setUpCrewShare > 0),
  );
  return needsCrew ? withOverlay(plan, booking) : plan;
}

/** Whether insert's proof holds for a job of one chain. */
export function isProvable(plan: Plan, job: Job): boolean {
  const likes = new Set<string>();
  for (const step of job.chains[0]!.steps) {
    if (step.kind === 'wait' || hasNoWork(step)) continue;
    if (!plan.shop.stations.get(step.station)!.alike) return false;
    if (!step.like) continue;
    const like = `${step.station} ${step.like.key}`;
    if (likes.has(like)) return false;
    likes.add(like);
  }
  return true;
}
