import type { OpenHours } from '../calendar/open-time.ts';
import type { EpochS, WorkStep } from '../types.ts';

/** Slack for fractions of a second that cancel out on paper, s. */
const ROUNDING_S = 1e-6;

/** When the output of a placed step gets ready, batch by batch, as the step after it sees it. */
export type BatchFlow = {
  /** the producing step's hours; null: a plain instant, `end`. */
  readonly hours: OpenHours | null;
  /** its first batch begins, in open seconds of `hours`. */
  readonly runWork: number;
  readonly runS: number;
  readonly batches: number;
  readonly batchS: number;
  readonly batchPieces: number | undefined;
  /** drying and cooling since. */
  readonly waitS: number;
  /** nothing is handed over before all is done. */
  readonly whole: boolean;
  /** the producing step's first batch begins; no set-up of the step after begins earlier. */
  readonly runStart: EpochS;
  /** all is done, dry and cool. */
  readonly end: EpochS;
};

/** A feed that is all there at one instant. */
export function flowAt(runStart: EpochS, end: EpochS): BatchFlow {
  return {
    hours: null,
    runWork: 0,
    runS: 0,
    batches: 1,
    batchS: 0,
    batchPieces: undefined,
    waitS: 0,
    whole: true,
    runStart,
    end,
  };
}

/** Seconds of open time that a step's batches take. */
export function runSecondsOf(step: WorkStep): number {
  return Math.ceil(step.batches * step.batchS - ROUNDING_S);
}

/** A step without any work needs no station. */
export function hasNoWork(step: WorkStep): boolean {
  return Math.ceil(step.setUpS) + runSecondsOf(step) === 0;
}

/** When the first batch of `step` has its input. */
export function firstReadyAt(feed: BatchFlow, step: WorkStep): EpochS {
  if (feed.whole || !feed.hours) return feed.end;
  return readyAt(feed, neededBatches(feed, step, 0));
}

/**
 * The least open seconds, on the scale of `hours`, before the first batch of `step` such that no batch starts before
 * its input is ready. Batches follow each other without a break, so batch k (from 0) starts k × batchS later.
 */
export function leastRunWork(feed: BatchFlow, step: WorkStep, hours: OpenHours): number {
  if (feed.whole || !feed.hours || step.batches === 0) return hours.workAt(feed.end);
  let least = 0;
  let last = 0;
  for (let k = 0; k < step.batches; k++) {
    const needed = neededBatches(feed, step, k);
    // of batches that need the same input the first binds
    if (needed === last) continue;
    last = needed;
    const work = hours.workAt(readyAt(feed, needed)) - k * step.batchS;
    if (work > least) least = work;
  }
  return Math.ceil(least - ROUNDING_S);
}

/** How many batches of the feed must be ready before batch k (from 0) of `step` starts; for the last one, all. */
function neededBatches(feed: BatchFlow, step: WorkStep, k: number): number {
  if (k === step.batches - 1) return feed.batches;
  const needed =
    feed.batchPieces !== undefined && step.batchPieces !== undefined
      ? Math.ceil(((k + 1) * step.batchPieces) / feed.batchPieces - ROUNDING_S)
      : Math.ceil(((k + 1) * feed.batches) / step.batches - ROUNDING_S);
  return Math.min(feed.batches, needed);
}

/** When the first `count` batches of the feed are ready. */
function readyAt(feed: BatchFlow, count: number): EpochS {
  // a step the floor has drawn out may end in closed hours
  if (count >= feed.batches) return feed.end;
  const hours = feed.hours!;
  const ready = hours.endAt(feed.runWork + Math.min(feed.runS, count * feed.batchS)) + feed.waitS;
  return Math.min(ready, feed.end);
}
