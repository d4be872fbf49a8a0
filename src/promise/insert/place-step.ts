import type { OpenHours } from '../calendar/open-time.ts';
import type { Unit } from '../calendar/shop-hours.ts';
import { crewParts, type Plan } from '../plan/plan.ts';
import type { Gap } from '../plan/unit-schedule.ts';
import type { EpochS, WorkStep } from '../types.ts';
import { type BatchFlow, leastRunWork, runSecondsOf } from './batch-flow.ts';

/** Where a step would go on one unit; `Work` members are open seconds on the scale of `hours`. */
export type Placing = {
  readonly unit: number;
  readonly hours: OpenHours;
  readonly runWork: number;
  readonly setUpS: number;
  readonly runS: number;
  readonly joined: boolean;
  readonly heldFrom: EpochS;
  readonly start: EpochS;
  readonly runStart: EpochS;
  readonly end: EpochS;
  /** the first batch could have started here on an idle unit with the whole crew free. */
  readonly readyAt: EpochS;
};

/** What a step asks for, on one scale of open seconds. Serves all units with the same hours. */
export class StepRequest {
  readonly hours: OpenHours;
  readonly step: WorkStep;
  readonly runS: number;
  readonly fullSetUpS: number;
  /** the set-up when it can be shared; `fullSetUpS` when that saves nothing. */
  readonly sharedSetUpS: number;
  /** no set-up begins before. */
  readonly firstWork: number;
  /** no run begins before. */
  readonly inputWork: number;
  /** no place before this instant need be looked at. */
  readonly earliestStart: EpochS;
  readonly #plan: Plan;
  readonly #setUpParts: number;
  readonly #runParts: number;
  #idleWork: number | undefined;
  /** crew searches done: for runs from `least` on the first that the crew suffices for is `fit`. */
  readonly #known: { setUpS: number; least: number; fit: number }[] = [];

  constructor(plan: Plan, step: WorkStep, hours: OpenHours, feeds: readonly BatchFlow[], notBefore: EpochS) {
    this.#plan = plan;
    this.hours = hours;
    this.step = step;
    this.runS = runSecondsOf(step);
    this.fullSetUpS = Math.ceil(step.setUpS);
    this.sharedSetUpS = step.like
      ? Math.min(this.fullSetUpS, Math.ceil(step.like.sharedSetUpS))
      : this.fullSetUpS;
    const parts = partsOf(step);
    this.#setUpParts = parts.setUp;
    this.#runParts = parts.run;
    let firstWork = hours.workAt(notBefore);
    let inputWork = Math.max(firstWork, hours.workAt(step.notBefore ?? Number.NEGATIVE_INFINITY));
    for (const feed of feeds) {
      firstWork = Math.max(firstWork, hours.workAt(feed.runStart));
      inputWork = Math.max(inputWork, leastRunWork(feed, step, hours));
    }
    this.firstWork = firstWork;
    this.inputWork = inputWork;
    this.earliestStart = hours.startAt(Math.max(firstWork, inputWork - this.fullSetUpS));
  }

  get sharesSetUp(): boolean {
    return this.sharedSetUpS < this.fullSetUpS;
  }

  /** The first run on an idle unit with the whole crew free. */
  get readyWork(): number {
    return Math.max(this.inputWork, this.firstWork + this.sharedSetUpS);
  }

  /** The first run on an idle unit. */
  get idleWork(): number {
    this.#idleWork ??= Math.min(
      this.crewFit(this.leastRun(0, this.sharedSetUpS), this.sharedSetUpS),
      this.crewFit(this.leastRun(0, this.fullSetUpS), this.fullSetUpS),
    );
    return this.#idleWork;
  }

  /** The least start of the run in a gap that begins at `gapWork`, with a set-up of `setUpS`. */
  leastRun(gapWork: number, setUpS: number): number {
    return Math.max(this.inputWork, Math.max(this.firstWork, gapWork) + setUpS);
  }

  /** The first start of the run from `least` on for which the crew suffices; over the total of hours: none. */
  crewFit(least: number, setUpS: number): number {
    for (const known of this.#known) {
      if (known.setUpS === setUpS && known.least <= least && least <= known.fit) return known.fit;
    }
    let run = least;
    while (run + this.runS <= this.hours.totalS) {
      const setUpFits = this.#firstUnder(run - setUpS, setUpS, this.#setUpParts) + setUpS;
      const runFits = this.#firstUnder(Math.max(run, setUpFits), this.runS, this.#runParts);
      if (runFits === run) break;
      run = runFits;
    }
    this.#known.push({ setUpS, least, fit: run });
    return run;
  }

  /** The first start, from `fromWork` on, of so many open seconds in which `parts` of the crew are free. */
  #firstUnder(fromWork: number, lengthS: number, parts: number): number {
    if (parts === 0 || lengthS === 0) return fromWork;
    const { crew, ahead, shop } = this.#plan;
    const limit = shop.crewParts - parts;
    return ahead === undefined
      ? crew.firstUnder(this.hours, fromWork, lengthS, limit)
      : ahead.firstUnder(crew, this.hours, fromWork, lengthS, limit);
  }
}

/** Crew needed by a step, in CREW_PARTS. */
function partsOf(step: WorkStep): { setUp: number; run: number } {
  return {
    setUp: step.setUpS > 0 ? crewParts(step.setUpCrewShare) : 0,
    run: runSecondsOf(step) > 0 ? crewParts(step.crewShare) : 0,
  };
}

/** The hours a step works in on a unit. */
export function hoursOfStep(unit: Unit, step: WorkStep): OpenHours {
  const parts = partsOf(step);
  return parts.setUp > 0 || parts.run > 0 ? unit.crewedHours : unit.hours;
}

/**
 * The earliest placing of a step on one unit: set-up and batches without interruption but closed hours, inside one gap
 * of the unit, with enough of the crew at every moment, and no batch before its input. Null: none within the horizon,
 * or none with a run that starts by `latestRun`.
 *
 * It is the earliest because candidates are met in order of time and only impossible ones are passed over: gaps
 * narrower than the work, and, when the crew is short at some moment, every start that would still run into the end of
 * the last such stretch.
 */
export function placeOnUnit(
  plan: Plan,
  unit: number,
  demand: StepRequest,
  latestRun = Number.POSITIVE_INFINITY,
): Placing | null {
  const { hours, runS, fullSetUpS, sharedSetUpS, step } = demand;
  const track = plan.tracks[unit]!;
  const latest = Math.min(latestRun, hours.totalS - runS);
  const latestAt = hours.endAt(latest);
  let gap = track.gapAt(demand.earliestStart);
  for (;;) {
    const gapWork = gap.before ? hours.workAt(gap.from) : 0;
    if (demand.leastRun(gapWork, sharedSetUpS) > latest) return null;
    const most = gap.to === Number.POSITIVE_INFINITY ? latest : Math.min(latest, hours.workAt(gap.to) - runS);
    let joined = Number.POSITIVE_INFINITY;
    if (demand.sharesSetUp && gap.before?.likeKey === step.like?.key) {
      const least = demand.leastRun(gapWork, sharedSetUpS);
      // the unit is held from the like booking on; never longer than the set-up that this saves
      const mostHeld = Math.min(most, gapWork + fullSetUpS);
      if (least <= mostHeld) {
        const fit = demand.crewFit(least, sharedSetUpS);
        if (fit <= mostHeld) joined = fit;
      }
    }
    const least = demand.leastRun(gapWork, fullSetUpS);
    const alone = least <= most ? demand.crewFit(least, fullSetUpS) : Number.POSITIVE_INFINITY;
    if (alone <= most && alone < joined) return placingOf(demand, unit, gap, alone, false);
    if (joined <= most) return placingOf(demand, unit, gap, joined, true);
    if (gap.to === Number.POSITIVE_INFINITY) return null;
    const next = track.nextGap(gap, hours, sharedSetUpS + runS, latestAt);
    if (!next) return null;
    // the crew suffices for nothing before `alone`: go straight to the gap it lies in
    const skips = !demand.sharesSetUp && alone < Number.POSITIVE_INFINITY;
    gap = skips ? laterGap(next, track.gapAt(hours.startAt(alone - fullSetUpS))) : next;
  }
}

function laterGap(a: Gap, b: Gap): Gap {
  return b.chunk > a.chunk || (b.chunk === a.chunk && b.place > a.place) ? b : a;
}

function placingOf(demand: StepRequest, unit: number, gap: Gap, runWork: number, joined: boolean): Placing {
  const { hours, runS } = demand;
  const setUpS = joined ? demand.sharedSetUpS : demand.fullSetUpS;
  const start = hours.startAt(runWork - setUpS);
  return {
    unit,
    hours,
    runWork,
    setUpS,
    runS,
    joined,
    heldFrom: joined ? Math.min(start, gap.from) : start,
    start,
    runStart: runS === 0 ? hours.endAt(runWork) : hours.startAt(runWork),
    end: hours.endAt(runWork + runS),
    readyAt: hours.startAt(demand.readyWork),
  };
}
