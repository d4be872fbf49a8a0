import type { ShopHours } from '../calendar/shop-hours.ts';
import { crewParts } from '../plan/plan.ts';
import { type Chain, type Job, PlanInputError, type PlanReason, type WorkStep } from '../types.ts';

const MOST_BATCHES = 100_000;
const MOST_SECONDS = 3_660 * 86_400;
const MOST_SHARE = 100;

/**
 * Checks a job against its types and tells why it can never be placed in a shop, however empty; empty when it can.
 *
 * @throws PlanInputError naming the value, its place and what is allowed
 */
export function neverFits(shop: ShopHours, job: Job): PlanReason[] {
  const reasons: PlanReason[] = [];
  job.chains.forEach((chain, c) => {
    requireRefs(job, chain, c);
  });
  requireNoCircle(job);
  job.chains.forEach((chain, c) => {
    chain.steps.forEach((step, s) => {
      const place = `job '${job.id}', chains[${c}].steps[${s}]`;
      if (step.kind === 'wait') {
        requireNumber(step.waitS, MOST_SECONDS, `${place}.waitS`);
        return;
      }
      requireWorkStep(step, place);
      reasons.push(...whyNot(shop, step));
    });
  });
  return reasons;
}

function whyNot(shop: ShopHours, step: WorkStep): PlanReason[] {
  const station = shop.stations.get(step.station);
  const about = { station: step.station, step: step.key };
  if (!station) return [{ code: 'no-station', params: about }];
  const share = Math.max(
    step.setUpS > 0 ? step.setUpCrewShare : 0,
    step.batches * step.batchS > 0 ? step.crewShare : 0,
  );
  if (crewParts(share) > shop.crewParts) {
    return [{ code: 'crew-too-small', params: { ...about, share, crew: shop.spec.crew.count } }];
  }
  const units = shop.units.slice(station.firstUnit, station.firstUnit + station.count);
  const open = units.some((unit) => (crewParts(share) > 0 ? unit.crewedHours : unit.hours).totalS > 0);
  return open ? [] : [{ code: 'no-hours', params: about }];
}

function requireRefs(job: Job, chain: Chain, c: number): void {
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

function requireNoCircle(job: Job): void {
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

function requireWorkStep(step: WorkStep, place: string): void {
  requireNumber(step.setUpS, MOST_SECONDS, `${place}.setUpS`);
  requireNumber(step.batchS, MOST_SECONDS, `${place}.batchS`);
  requireNumber(step.batches, MOST_BATCHES, `${place}.batches`);
  if (!Number.isInteger(step.batches)) {
    throw new PlanInputError(`${place}.batches is ${step.batches}; it must be a whole number`);
  }
  requireNumber(step.batches * step.batchS, MOST_SECONDS, `${place}: batches times batchS`);
  requireNumber(step.setUpCrewShare, MOST_SHARE, `${place}.setUpCrewShare`);
  requireNumber(step.crewShare, MOST_SHARE, `${place}.crewShare`);
  if (step.batchPieces !== undefined && !(step.batchPieces > 0)) {
    throw new PlanInputError(`${place}.batchPieces is ${step.batchPieces}; it must be over 0`);
  }
  if (step.like) requireNumber(step.like.sharedSetUpS, MOST_SECONDS, `${place}.like.sharedSetUpS`);
}

function requireNumber(value: number, most: number, place: string): void {
  if (!(value >= 0 && value <= most)) {
    throw new PlanInputError(`${place} is ${value}; it must be from 0 to ${most}`);
  }
}
