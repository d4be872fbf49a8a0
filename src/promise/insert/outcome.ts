import type { EpochS } from '../calendar/time.ts';
import type { Booking } from '../plan/booking.ts';
import type { Job, WorkStep } from '../plan/job.ts';
import type { Plan } from '../plan/plan.ts';
import { runSeconds } from './batch-flow.ts';
import type { PlacedStep, PlanReason } from './insertion.ts';
import type { Placing } from './place-step.ts';

/** A job placed, or why not. `allTried`: every way to choose units was tried. */
export type Outcome = Found | { readonly refused: PlanReason; readonly allTried: boolean };

export type Found = {
  readonly bookings: readonly Booking[];
  readonly steps: readonly PlacedStep[];
  readonly endsAt: EpochS;
  readonly allTried: boolean;
};

/** The booking for a placing of step `index` of a chain. */
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
    crewShare: runSeconds(step) > 0 ? step.crewShare : 0,
    likeKey: step.like?.key ?? null,
    joined: placing.joined,
    state: 'booked',
  };
}

export function placedStepOf(booking: Booking, readyAt: EpochS): PlacedStep {
  const { chain, step, key, station, unit, start, runStart, end } = booking;
  return { chain, step, key, station, unit, readyAt, start, runStart, end };
}

/** The reason when no room was found for a step (undefined: no step was reached). */
export function planFull(plan: Plan, step: WorkStep | undefined): PlanReason {
  return {
    code: 'plan-full',
    params: { horizonDays: plan.shop.days, ...(step ? { station: step.station, step: step.key } : {}) },
  };
}
