import { type Feed, leastRunWork, runSecondsOf } from './hand-over.ts';
import type { OpenHours } from './open-hours.ts';
import { crewParts, type Plan } from './plan.ts';
import type { EpochS, WorkStep } from './types.ts';
import type { Gap } from './unit-track.ts';

/** Where a step would go on one unit; `Work` members are open seconds on the scale of `hours`. */
export interface Placing {
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
}

/**
 * The earliest placing of a step on one unit: set-up and batches without interruption but closed hours, inside one gap
 * of the unit, with enough of the crew at every moment, and no batch before its input. Null: none within the horizon.
 *
 * It is the earliest because candidates are met in order of time and only impossible ones are passed over: gaps
 * narrower than the work, and, when the crew is short at some moment, every start that would still run into the end of
 * the last such stretch.
 */
export function placeOnUnit(
  plan: Plan,
  unitIndex: number,
  step: WorkStep,
  feeds: readonly Feed[],
  notBefore: EpochS,
): Placing | null {
  const unit = plan.shop.units[unitIndex]!;
  const track = plan.tracks[unitIndex]!;
  const runS = runSecondsOf(step);
  const fullSetUpS = Math.ceil(step.setUpS);
  const setUpParts = fullSetUpS > 0 ? crewParts(step.setUpCrewShare) : 0;
  const runParts = runS > 0 ? crewParts(step.crewShare) : 0;
  const hours = setUpParts > 0 || runParts > 0 ? unit.crewedHours : unit.hours;
  const sharedSetUpS = step.like ? Math.min(fullSetUpS, Math.ceil(step.like.sharedSetUpS)) : fullSetUpS;

  let firstWork = hours.workAt(notBefore);
  let inputWork = Math.max(firstWork, hours.workAt(step.notBefore ?? Number.NEGATIVE_INFINITY));
  for (const feed of feeds) {
    firstWork = Math.max(firstWork, hours.workAt(feed.runStart));
    inputWork = Math.max(inputWork, leastRunWork(feed, step, hours));
  }
  const readyWork = Math.max(inputWork, firstWork + sharedSetUpS);
  const readyAt = hours.startAt(readyWork);
  if (readyWork + runS > hours.totalS) return null;

  /** The least open seconds before the run, from `least` to `most`, for which the crew suffices; -1: none. */
  const crewFit = (least: number, most: number, setUpS: number): number => {
    let run = least;
    while (run <= most) {
      const afterRun = lastCrewShort(plan, hours, run, run + runS, runParts);
      if (afterRun > run) {
        run = afterRun;
        continue;
      }
      const afterSetUp = lastCrewShort(plan, hours, run - setUpS, run, setUpParts);
      if (afterSetUp <= run - setUpS) return run;
      run = afterSetUp + setUpS;
    }
    return -1;
  };

  const placing = (gap: Gap, runWork: number, setUpS: number, joined: boolean): Placing => {
    const start = hours.startAt(runWork - setUpS);
    return {
      unit: unitIndex,
      hours,
      runWork,
      setUpS,
      runS,
      joined,
      heldFrom: joined ? Math.min(start, gap.from) : start,
      start,
      runStart: runS === 0 ? hours.endAt(runWork) : hours.startAt(runWork),
      end: hours.endAt(runWork + runS),
      readyAt,
    };
  };

  const needS = sharedSetUpS + runS;
  let gap = track.gapAt(hours.startAt(Math.max(firstWork, inputWork - fullSetUpS)));
  for (;;) {
    const gapFrom = gap.before ? hours.workAt(gap.from) : 0;
    const most = (gap.to === Number.POSITIVE_INFINITY ? hours.totalS : hours.workAt(gap.to)) - runS;
    let best = -1;
    let joined = false;
    if (step.like && sharedSetUpS < fullSetUpS && gap.before?.likeKey === step.like.key) {
      // the unit is held from the like booking on; never longer than the set-up that this saves
      const least = Math.max(inputWork, Math.max(firstWork, gapFrom) + sharedSetUpS);
      best = crewFit(least, Math.min(most, gapFrom + fullSetUpS), sharedSetUpS);
      joined = best >= 0;
    }
    const full = crewFit(
      Math.max(inputWork, Math.max(firstWork, gapFrom) + fullSetUpS),
      joined ? Math.min(most, best - 1) : most,
      fullSetUpS,
    );
    if (full >= 0) return placing(gap, full, fullSetUpS, false);
    if (joined) return placing(gap, best, sharedSetUpS, true);
    if (gap.to === Number.POSITIVE_INFINITY) return null;
    gap = track.nextGap(gap, hours, needS);
  }
}

/**
 * Of the open seconds from `fromWork` to `toWork`, the end of the last stretch in which less than `parts` of the crew
 * is free; `fromWork` or less when there is none.
 */
function lastCrewShort(
  plan: Plan,
  hours: OpenHours,
  fromWork: number,
  toWork: number,
  parts: number,
): number {
  if (parts === 0 || toWork <= fromWork) return fromWork;
  const limit = plan.shop.crewParts - parts;
  const from = hours.startAt(fromWork);
  let to = hours.endAt(toWork);
  for (let i = hours.spanAt(to - 1); i >= 0; i -= 1) {
    const opens = hours.opens[i]!;
    const over = plan.crew.lastOver(Math.max(from, opens), Math.min(to, hours.closes[i]!), limit);
    if (over > from) return over === Number.POSITIVE_INFINITY ? hours.totalS + 1 : hours.workAt(over);
    if (opens <= from) break;
    to = opens;
  }
  return fromWork;
}
