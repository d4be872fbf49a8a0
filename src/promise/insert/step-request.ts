import type { OpenHours } from '../calendar/open-hours.ts';
import type { Unit } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { crewParts } from '../plan/booked-work.ts';
import type { WorkStep } from '../plan/job.ts';
import type { Plan } from '../plan/plan.ts';
import { type BatchFlow, minRunOpenS, runSeconds } from './batch-flow.ts';

/** What a step needs, in open seconds of `hours`. Serves all units with the same hours. */
export class StepRequest {
  readonly hours: OpenHours;
  readonly step: WorkStep;
  readonly runS: number;
  readonly fullSetUpS: number;
  /** the set-up when it is shared with like work; `fullSetUpS` when sharing saves nothing. */
  readonly sharedSetUpS: number;
  /** no gap that ends before this instant can take it. */
  readonly earliestStart: EpochS;
  /** no set-up begins earlier. */
  readonly #minSetUpOpenS: number;
  /** no run begins earlier. */
  readonly #minRunOpenS: number;
  readonly #plan: Plan;
  readonly #setUpParts: number;
  readonly #runParts: number;
  #idleRunOpenS: number | undefined;
  /** crew searches done: `fit` is the answer for every start of the run from `min` to `fit`. */
  readonly #crewFits: { setUpS: number; min: number; fit: number }[] = [];

  constructor(plan: Plan, step: WorkStep, hours: OpenHours, input: readonly BatchFlow[], notBefore: EpochS) {
    this.#plan = plan;
    this.hours = hours;
    this.step = step;
    this.runS = runSeconds(step);
    this.fullSetUpS = Math.ceil(step.setUpS);
    this.sharedSetUpS = step.like
      ? Math.min(this.fullSetUpS, Math.ceil(step.like.sharedSetUpS))
      : this.fullSetUpS;
    const parts = crewPartsOf(step);
    this.#setUpParts = parts.setUp;
    this.#runParts = parts.run;
    let setUpOpenS = hours.openSecondsAt(notBefore);
    let runOpenS = Math.max(setUpOpenS, hours.openSecondsAt(step.notBefore ?? Number.NEGATIVE_INFINITY));
    for (const flow of input) {
      setUpOpenS = Math.max(setUpOpenS, hours.openSecondsAt(flow.runStart));
      runOpenS = Math.max(runOpenS, minRunOpenS(flow, step, hours));
    }
    this.#minSetUpOpenS = setUpOpenS;
    this.#minRunOpenS = runOpenS;
    this.earliestStart = hours.startAt(Math.max(setUpOpenS, runOpenS - this.fullSetUpS));
  }

  /** Whether like work before it shortens its set-up. */
  get canShareSetUp(): boolean {
    return this.sharedSetUpS < this.fullSetUpS;
  }

  /** The earliest run on an idle unit with the whole crew free. */
  get readyOpenS(): number {
    return Math.max(this.#minRunOpenS, this.#minSetUpOpenS + this.sharedSetUpS);
  }

  /** The earliest run on an idle unit. */
  get idleRunOpenS(): number {
    this.#idleRunOpenS ??= Math.min(
      this.firstCrewFit(this.minRunIn(0, this.sharedSetUpS), this.sharedSetUpS),
      this.firstCrewFit(this.minRunIn(0, this.fullSetUpS), this.fullSetUpS),
    );
    return this.#idleRunOpenS;
  }

  /** The earliest run in a gap that begins at `gapOpenS`, with a set-up of `setUpS`, if the whole crew were free. */
  minRunIn(gapOpenS: number, setUpS: number): number {
    return Math.max(this.#minRunOpenS, Math.max(this.#minSetUpOpenS, gapOpenS) + setUpS);
  }

  /** The earliest run at or after `min` for which the crew suffices; past the total of the hours when there is none. */
  firstCrewFit(min: number, setUpS: number): number {
    for (const known of this.#crewFits) {
      if (known.setUpS === setUpS && known.min <= min && min <= known.fit) return known.fit;
    }
    let run = min;
    while (run + this.runS <= this.hours.totalS) {
      const afterSetUp = this.#firstFit(run - setUpS, setUpS, this.#setUpParts) + setUpS;
      const fit = this.#firstFit(Math.max(run, afterSetUp), this.runS, this.#runParts);
      if (fit === run) break;
      run = fit;
    }
    this.#crewFits.push({ setUpS, min, fit: run });
    return run;
  }

  /** The first start, at or after `fromOpenS`, of `lengthS` open seconds in which `parts` of the crew are free. */
  #firstFit(fromOpenS: number, lengthS: number, parts: number): number {
    if (parts === 0 || lengthS === 0) return fromOpenS;
    const { crew, overlay, shop } = this.#plan;
    const limit = shop.crewParts - parts;
    return overlay === undefined
      ? crew.firstFit(this.hours, fromOpenS, lengthS, limit)
      : overlay.firstFit(crew, this.hours, fromOpenS, lengthS, limit);
  }
}

/** The hours in which a step can be done on a unit. */
export function hoursOfStep(unit: Unit, step: WorkStep): OpenHours {
  const parts = crewPartsOf(step);
  return parts.setUp > 0 || parts.run > 0 ? unit.crewedHours : unit.hours;
}

/** Crew that a step needs, in CREW_PARTS. */
function crewPartsOf(step: WorkStep): { setUp: number; run: number } {
  return {
    setUp: step.setUpS > 0 ? crewParts(step.setUpCrewShare) : 0,
    run: runSeconds(step) > 0 ? crewParts(step.crewShare) : 0,
  };
}
