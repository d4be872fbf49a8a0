import type { Plan } from '../plan/plan.ts';
import type { Booking, EpochS, Job, PlacedStep, PlanReason, WorkStep } from '../types.ts';
import { runSecondsOf } from './batch-flow.ts';
import type { Placing } from './place-step.ts';

/** A job placed, or why not. `allTried`: every way to choose units was looked at. */
export type Outcome = Found | { readonly refused: PlanReason; readonly allTried: boolean };

export type Found = {
  readonly bookings: readonly Booking[];
  readonly steps: readonly PlacedStep[];
  readonly endsAt: EpochS;
  readonly allTried: boolean;
};

/** The booking that a placing comes to. */
export function bookingOf(
  plan: Plan,
  job: Job,
  chain: number,
  index: number,
  step: WorkStep,
  placing: Placing,
): Booking {
  const { unit } = plan.shop.units[placing.unit]!;
  return {
    job: job.id,
    chain,
    step: index,
    key: step.key,
    part: 'all',
    station: step.station,
    unit,
    heldFrom: placing.heldFrom,
    start: placing.start,
    runStart: placing.runStart,
    end: placing.end,
    setUpS: placing.setUpS,
    runS: placing.runS,
    fullSetUpS: Math.ceil(step.setUpS),
    setUpCrewShare: step.setUpS > 0 ? step.setUpCrewShare : 0,
    crewShare: runSecondsOf(step) > 0 ? step.crewShare : 0,
    likeKey: step.like?.key ?? null,
    joined: placing.joined,
    state: 'booked',
  };
}

export function placedOf(booking: Booking, readyAt: EpochS): PlacedStep {
  const { chain, step, key, station, unit, start, runStart, end } = booking;
  return { chain, step, key, station, unit, readyAt, start, runStart, end };
}

/** The reason when no room was found for a step (null: it was never reached). */
export function planFull(plan: Plan, step: WorkStep | null): PlanReason {
  return {
    code: 'plan-full',
    params: { horizonDays: plan.shop.days, ...(step ? { station: step.station, step: step.key } : {}) },
  };
}
