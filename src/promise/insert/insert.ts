import type { Plan } from '../plan/plan.ts';
import type { Booking, EpochS, Insertion, Job, Refusal } from '../types.ts';
import { neverFits } from './check-job.ts';
import { byRule } from './dispatch-rule.ts';
import { bestOfUnits, isProvable } from './single-chain.ts';

/**
 * Finds where a job goes among the given bookings, none of which moves, and reserves nothing: `commit` does.
 *
 * The dispatch rule: steps are placed one at a time, each on the unit and at the instant at which it ends earliest.
 * The next step placed is, of the chains whose predecessors are placed, the one whose input is ready earliest; of
 * equals the chain listed first. A step is never interrupted but by closed hours, its set-up begins no earlier than
 * the first batch of the step before, and its batches follow each other without a break.
 *
 * For a job of one chain this is the earliest end of all placings under those three conditions (`earliest` is true):
 * take any placing of the chain and move its first step to its earliest place on the same unit. Its batches get ready
 * no later, so the others' input stays in time. Wherever it now runs at the same moment as another step of the chain,
 * that other step began no earlier than the first batch of the old placing, so at that moment the old placing ran as
 * well and took the same part of the crew; so the crew still suffices. On the unit, any own booking lies after the old
 * placing, so after the new one. Repeat with the second step, and so on: the result is never later. Which unit does
 * not matter when all keep the same hours and the chain does not come back to the station; when it comes back, all
 * ways to choose the units are tried. `earliest` is false for jobs of several chains, which compete with each other;
 * for units of one station with different hours; where two steps of the chain are like work on one station; and where
 * there were too many ways to choose the units: then the result is earliest by the rule only.
 *
 * Without like work more bookings never make the end of a job of one chain earlier. Like work can, since it shortens
 * a set-up, and jobs of several chains can end earlier or later by chance, as in Graham's anomalies.
 *
 * @param notBefore nothing of it, not even a set-up, happens earlier
 * @throws PlanInputError when the job is not what its type promises, or its chains wait for each other in a circle
 * @see R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM J. Applied Mathematics 17, 1969
 */
export function insert(plan: Plan, job: Job, notBefore: EpochS): Insertion | Refusal {
  return insertAround(plan, job, notBefore, []);
}

/**
 * As `insert`, for a job some of whose steps are fixed already: those are taken as they are, and the rest is placed
 * after them. The plan must hold the fixed bookings.
 */
export function insertAround(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  fixed: readonly Booking[],
): Insertion | Refusal {
  const reasons = neverFits(plan.shop, job);
  if (reasons.length > 0) return { kind: 'refused', job: job.id, reasons, certain: true };
  const single = job.chains.length === 1 && fixed.length === 0;
  const found = single ? bestOfUnits(plan, job, notBefore) : byRule(plan, job, notBefore, fixed);
  const certain = single && found.allTried && isProvable(plan, job);
  if ('refused' in found) return { kind: 'refused', job: job.id, reasons: [found.refused], certain };
  return {
    kind: 'placed',
    job: job.id,
    bookings: found.bookings,
    steps: found.steps,
    endsAt: found.endsAt,
    earliest: certain,
  };
}

/**
 * When a job would end, or Infinity when it cannot be placed. The same answer as `insert`, without its details.
 *
 * @param giveUpAfter stop as soon as it is sure to end later than this
 */
export function quickPromise(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): EpochS {
  if (neverFits(plan.shop, job).length > 0) return Number.POSITIVE_INFINITY;
  const found =
    job.chains.length === 1
      ? bestOfUnits(plan, job, notBefore, giveUpAfter)
      : byRule(plan, job, notBefore, [], giveUpAfter);
  return 'refused' in found || found.endsAt > giveUpAfter ? Number.POSITIVE_INFINITY : found.endsAt;
}
