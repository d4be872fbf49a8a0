import type { EpochS } from '../calendar/time.ts';
import type { Booking } from '../plan/booking.ts';
import type { Job } from '../plan/job.ts';
import type { Plan } from '../plan/plan.ts';
import { checkJob } from './check-job.ts';
import { placeByRule } from './dispatch-rule.ts';
import { infeasibleReasons } from './infeasible.ts';
import type { Insertion, Refusal } from './insertion.ts';
import { isProvablyEarliest, placeSingleChain } from './single-chain.ts';

/**
 * Finds where a job goes among the bookings of a plan, none of which moves. Reserves nothing: `commit` does.
 *
 * The dispatch rule: steps are placed one at a time, each on the unit and at the instant at which it ends earliest.
 * The next step to be placed is, of the chains whose predecessors are placed, the one whose input is ready earliest; of
 * equals, that of the chain listed first. A step is interrupted only by closed hours, its set-up begins no earlier than
 * the first batch of the previous step, and its batches follow each other without a break.
 *
 * For a job of one chain the result is the earliest of all; single-chain.ts has the proof and its exceptions. A job of
 * several chains is earliest only by the rule.
 *
 * Without like work, more bookings never make a job of one chain end earlier. Like work can, as it shortens a set-up.
 * Jobs of several chains can end earlier or later by chance, as in Graham's anomalies.
 *
 * @param notBefore nothing of the job, not even a set-up, happens earlier
 * @throws PlanInputError when the job is not what its type promises, or its chains wait for each other in a cycle
 * @see R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM J. Applied Mathematics 17, 1969
 */
export function insert(plan: Plan, job: Job, notBefore: EpochS): Insertion | Refusal {
  return insertAround(plan, job, notBefore, []);
}

/**
 * Like `insert`, for a job that is partly booked: those bookings stay, and the remaining steps are placed after them.
 *
 * @param plan must contain the fixed bookings
 */
export function insertAround(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  fixed: readonly Booking[],
): Insertion | Refusal {
  checkJob(job);
  const reasons = infeasibleReasons(plan.shop, job);
  if (reasons.length > 0) return { kind: 'refused', job: job.id, reasons, certain: true };
  const isSingle = job.chains.length === 1 && fixed.length === 0;
  const outcome = isSingle
    ? placeSingleChain(plan, job, notBefore)
    : placeByRule(plan, job, notBefore, fixed);
  const certain = isSingle && outcome.allTried && isProvablyEarliest(plan, job);
  if ('refused' in outcome) return { kind: 'refused', job: job.id, reasons: [outcome.refused], certain };
  const { bookings, steps, endsAt } = outcome;
  return { kind: 'placed', job: job.id, bookings, steps, endsAt, earliest: certain };
}

/**
 * When a job would end, or Infinity when it cannot be placed. Gives the same answer as `insert`, without the details.
 *
 * @param giveUpAfter stop as soon as it is certain to end later than this
 */
export function completionTime(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): EpochS {
  checkJob(job);
  if (infeasibleReasons(plan.shop, job).length > 0) return Number.POSITIVE_INFINITY;
  const outcome =
    job.chains.length === 1
      ? placeSingleChain(plan, job, notBefore, giveUpAfter)
      : placeByRule(plan, job, notBefore, [], giveUpAfter);
  return 'refused' in outcome || outcome.endsAt > giveUpAfter ? Number.POSITIVE_INFINITY : outcome.endsAt;
}
