import type { OpenHours } from '../calendar/open-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import type { Plan } from '../plan/plan.ts';
import type { Gap } from '../plan/unit-schedule.ts';
import type { StepRequest } from './step-request.ts';

/** Where a step would go on one unit. */
export type Placing = {
  /** index in `ShopHours.units`. */
  readonly unit: number;
  readonly hours: OpenHours;
  /** start of the run, in open seconds of `hours`. */
  readonly runOpenS: number;
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

/**
 * The earliest placing of a step on one unit: set-up and batches interrupted only by closed hours, inside one gap of
 * the unit, with enough of the crew at every moment, and no batch before its input. Undefined when there is none within
 * the horizon, or none with a run that starts by `latestRunOpenS`.
 *
 * It is the earliest because candidates are visited in order of time and only impossible ones are skipped: gaps
 * narrower than the work and, where the crew is overloaded, every start whose work would reach into the last overload.
 */
export function placeOnUnit(
  plan: Plan,
  unit: number,
  request: StepRequest,
  latestRunOpenS = Number.POSITIVE_INFINITY,
): Placing | undefined {
  const { hours, runS, fullSetUpS, sharedSetUpS, step } = request;
  const schedule = plan.schedules[unit]!;
  const latest = Math.min(latestRunOpenS, hours.totalS - runS);
  const latestAt = hours.endAt(latest);
  let gap = schedule.gapAt(request.earliestStart);
  for (;;) {
    const gapOpenS = gap.before ? hours.openSecondsAt(gap.from) : 0;
    if (request.minRunIn(gapOpenS, sharedSetUpS) > latest) return undefined;
    const maxRun =
      gap.to === Number.POSITIVE_INFINITY ? latest : Math.min(latest, hours.openSecondsAt(gap.to) - runS);
    let joined = Number.POSITIVE_INFINITY;
    if (request.canShareSetUp && gap.before?.likeKey === step.like?.key) {
      const min = request.minRunIn(gapOpenS, sharedSetUpS);
      // the unit is held for like work only while its run starts no later than after a full set-up
      const maxJoined = Math.min(maxRun, gapOpenS + fullSetUpS);
      if (min <= maxJoined) {
        const fit = request.firstCrewFit(min, sharedSetUpS);
        if (fit <= maxJoined) joined = fit;
      }
    }
    const min = request.minRunIn(gapOpenS, fullSetUpS);
    const alone = min <= maxRun ? request.firstCrewFit(min, fullSetUpS) : Number.POSITIVE_INFINITY;
    if (alone <= maxRun && alone < joined) return placingOf(request, unit, gap, alone, false);
    if (joined <= maxRun) return placingOf(request, unit, gap, joined, true);
    if (gap.to === Number.POSITIVE_INFINITY) return undefined;
    const next = schedule.nextGap(gap, hours, sharedSetUpS + runS, latestAt);
    if (!next) return undefined;
    // the crew suffices for nothing before `alone`, so skip to the gap it lies in
    const canSkip = !request.canShareSetUp && alone < Number.POSITIVE_INFINITY;
    gap = canSkip ? laterGap(next, schedule.gapAt(hours.startAt(alone - fullSetUpS))) : next;
  }
}

function laterGap(a: Gap, b: Gap): Gap {
  return b.chunk > a.chunk || (b.chunk === a.chunk && b.index > a.index) ? b : a;
}

function placingOf(request: StepRequest, unit: number, gap: Gap, runOpenS: number, joined: boolean): Placing {
  const { hours, runS } = request;
  const setUpS = joined ? request.sharedSetUpS : request.fullSetUpS;
  const start = hours.startAt(runOpenS - setUpS);
  return {
    unit,
    hours,
    runOpenS,
    setUpS,
    runS,
    joined,
    heldFrom: joined ? Math.min(start, gap.from) : start,
    start,
    runStart: runS === 0 ? hours.endAt(runOpenS) : hours.startAt(runOpenS),
    end: hours.endAt(runOpenS + runS),
    readyAt: hours.startAt(request.readyOpenS),
  };
}
