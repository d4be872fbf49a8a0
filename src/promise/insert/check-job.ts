import { PlanInputError, requireNumber } from '../input-checks.ts';
import type { Chain, Job, WorkStep } from '../plan/job.ts';

const MAX_BATCHES = 100_000;
const MAX_SECONDS = 3_660 * 86_400;
const MAX_SHARE = 100;

/**
 * Checks that a job is what its type promises, and that its chains do not wait for each other in a cycle.
 *
 * @throws PlanInputError naming the value, its place and what is allowed
 */
export function checkJob(job: Job): void {
  job.chains.forEach((chain, c) => {
    checkPredecessors(job, chain, c);
  });
  checkNoCycle(job);
  job.chains.forEach((chain, c) => {
    chain.steps.forEach((step, s) => {
      const place = `job '${job.id}', chains[${c}].steps[${s}]`;
      if (step.kind === 'wait') requireNumber(step.waitS, MAX_SECONDS, `${place}.waitS`);
      else checkWorkStep(step, place);
    });
  });
}

function checkPredecessors(job: Job, chain: Chain, c: number): void {
  (chain.after ?? []).forEach((ref, i) => {
    const place = `job '${job.id}', chains[${c}].after[${i}]`;
    const other = job.chains[ref.chain];
    if (!other || ref.chain === c) {
      throw new PlanInputError(
        `${place}.chain is ${ref.chain}; it must be the index of another of the ${job.chains.length} chains`,
      );
    }
    if (ref.step !== undefined && !other.steps[ref.step]) {
      throw new PlanInputError(
        `${place}.step is ${ref.step}; chain ${ref.chain} has steps 0 to ${other.steps.length - 1}`,
      );
    }
  });
}

/** Depth-first search. */
function checkNoCycle(job: Job): void {
  const state = job.chains.map(() => 'new' as 'new' | 'open' | 'done');
  const visit = (c: number): void => {
    if (state[c] === 'done') return;
    if (state[c] === 'open') {
      throw new PlanInputError(
        `job '${job.id}': chains[${c}].after leads back to itself; chains must not wait in a circle`,
      );
    }
    state[c] = 'open';
    for (const ref of job.chains[c]!.after ?? []) visit(ref.chain);
    state[c] = 'done';
  };
  for (let c = 0; c < job.chains.length; c++) visit(c);
}

function checkWorkStep(step: WorkStep, place: string): void {
  requireNumber(step.setUpS, MAX_SECONDS, `${place}.setUpS`);
  requireNumber(step.batchS, MAX_SECONDS, `${place}.batchS`);
  requireNumber(step.batches, MAX_BATCHES, `${place}.batches`);
  if (!Number.isInteger(step.batches)) {
    throw new PlanInputError(`${place}.batches is ${step.batches}; it must be a whole number`);
  }
  requireNumber(step.batches * step.batchS, MAX_SECONDS, `${place}: batches times batchS`);
  requireNumber(step.setUpCrewShare, MAX_SHARE, `${place}.setUpCrewShare`);
  requireNumber(step.crewShare, MAX_SHARE, `${place}.crewShare`);
  if (step.batchPieces !== undefined && !(step.batchPieces > 0)) {
    throw new PlanInputError(`${place}.batchPieces is ${step.batchPieces}; it must be over 0`);
  }
  if (step.like) requireNumber(step.like.sharedSetUpS, MAX_SECONDS, `${place}.like.sharedSetUpS`);
}
