/**
 * Places jobs of one chain, at their earliest end.
 *
 * A placing of a chain must satisfy four conditions:
 *
 * - every unit does one thing at a time;
 * - the crew suffices at every moment;
 * - a step is interrupted only by closed hours, its batches follow each other without a break, and none starts before
 *   its input is ready;
 * - the set-up of a step begins no earlier than the first batch of the previous step.
 *
 * Claim: of all placings of a chain that satisfy these, the rule "each step in turn where it ends earliest" ends
 * earliest. Proof: take any such placing P and move its steps, first to last, to where the rule puts them.
 *
 * 1. One step on one unit. `placeOnUnit` visits candidates in order of time and skips only impossible ones: gaps
 *    narrower than the work and, where the crew is overloaded, every start whose work would reach into the last
 *    overload. So it returns the earliest place for that step on that unit, given the previous steps.
 * 2. Moving the first step to its earliest place makes none of its batches ready later, so the input of the following
 *    steps stays in time.
 * 3. The crew still suffices. Where the moved step now works at the same moment as another step of the chain, that
 *    step began no earlier than the first batch of the moved step's old place. So at that moment the old place was
 *    working too, with the same share: no more crew is needed at any moment than in P.
 * 4. The unit is still free. Work of the chain on the same unit came after the old place, hence after the new one.
 * 5. Repeat with the second step, and so on. No step ends later than in P, so the rule's end is no later than P's. As P
 *    was any placing, the rule's end is the earliest.
 *
 * Which unit of a station takes a step does not matter as long as the units keep the same hours and the chain does not
 * return to the station: the next step depends only on when this one ends. Where the chain does return to a station
 * (a re-entrant flow), all ways to choose the units are tried, up to `MAX_PLACINGS`.
 *
 * The claim does not hold, and the result is earliest only by the rule, for units of one station with different hours,
 * for two like steps of one chain on one station, beyond `MAX_PLACINGS`, and for jobs of several chains, which compete
 * with each other: finding the best placing of those is a job-shop problem, which is NP-hard.
 *
 * tests/src/promise/insert/insert.properties.test.ts compares with an exhaustive search that shares no code with this;
 * tests/reference/promise/scheduling.test.ts replays published schedules.
 */

import type { EpochS } from '../calendar/time.ts';
import type { Booking } from '../plan/booking.ts';
import type { Job, Step, WorkStep } from '../plan/job.ts';
import { type Plan, withOverlay, withSchedule } from '../plan/plan.ts';
import { type BatchFlow, hasNoWork } from './batch-flow.ts';
import type { PlacedStep } from './insertion.ts';
import { endOfFlows, flowOf, initialFlows, passThrough } from './job-flow.ts';
import { bookingOf, type Found, type Outcome, placedStepOf, planFull } from './outcome.ts';
import { unitPlacings } from './unit-placings.ts';

/** Placings tried before the search over the units of a re-entrant chain is given up. */
const MAX_PLACINGS = 400;

/** A chain placed up to some step. */
type PartialChain = {
  readonly plan: Plan;
  readonly bookings: readonly Booking[];
  readonly steps: readonly PlacedStep[];
};

/**
 * Places the chain of a job with one chain: the best over all choices of units where the choice matters.
 *
 * @param giveUpAfter stop as soon as a step ends later than this
 */
export function placeSingleChain(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): Outcome {
  const { steps } = job.chains[0]!;
  let best: Found | undefined;
  let stuckAt: WorkStep | undefined;
  let tried = 0;
  let allTried = true;

  const isReentrant = (index: number, station: string): boolean =>
    steps.slice(index + 1).some((later) => later.kind === 'work' && later.station === station);

  const placeFrom = (index: number, partial: PartialChain, input: readonly BatchFlow[]): void => {
    const step = steps[index];
    if (!step) {
      const endsAt = endOfFlows(input, notBefore);
      if (!best || endsAt < best.endsAt) best = { ...partial, endsAt, allTried: true };
      return;
    }
    if (step.kind === 'wait' || hasNoWork(step)) {
      const waited = passThrough(step, input, notBefore);
      const placed = [...partial.steps, waited.placed(0, index)];
      placeFrom(index + 1, { ...partial, steps: placed }, waited.flows);
      return;
    }
    const all = isReentrant(index, step.station);
    const placings = unitPlacings(partial.plan, step, input, notBefore, all);
    if (placings.length === 0) stuckAt ??= step;
    for (const placing of all ? placings : placings.slice(0, 1)) {
      if (tried >= MAX_PLACINGS) {
        allTried = false;
        if (best) return;
      }
      tried++;
      if (placing.end > giveUpAfter || (best && placing.end >= best.endsAt)) return;
      const booking = bookingOf(partial.plan, job, 0, index, step, placing);
      placeFrom(
        index + 1,
        {
          plan: planForLaterSteps(partial.plan, booking, steps.slice(index + 1), all),
          bookings: [...partial.bookings, booking],
          steps: [...partial.steps, placedStepOf(booking, placing.readyAt)],
        },
        [flowOf(step, placing)],
      );
    }
  };
  placeFrom(0, { plan, bookings: [], steps: [] }, initialFlows(notBefore, []));
  if (best) return { ...(best as Found), allTried };
  return { refused: planFull(plan, stuckAt), allTried };
}

/** The plan with a booking in it, as far as the later steps of the chain will read it. */
function planForLaterSteps(plan: Plan, booking: Booking, later: readonly Step[], isReentrant: boolean): Plan {
  if (isReentrant) return withOverlay(withSchedule(plan, booking), booking);
  const needCrew = later.some(
    (step) => step.kind === 'work' && (step.crewShare > 0 || step.setUpCrewShare > 0),
  );
  return needCrew ? withOverlay(plan, booking) : plan;
}

/** Whether the claim at the top of this file covers a job of one chain. */
export function isProvablyEarliest(plan: Plan, job: Job): boolean {
  const likes = new Set<string>();
  for (const step of job.chains[0]!.steps) {
    if (step.kind === 'wait' || hasNoWork(step)) continue;
    if (!plan.shop.stations.get(step.station)!.sameHours) return false;
    if (!step.like) continue;
    const like = `${step.station} ${step.like.key}`;
    if (likes.has(like)) return false;
    likes.add(like);
  }
  return true;
}
