import type { OpenHours } from '../calendar/open-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import type { WorkStep } from '../plan/job.ts';

/** Tolerance for fractions of a second that cancel out on paper, s. */
const ROUNDING_S = 1e-6;

/** When the output of a placed step becomes ready, batch by batch. */
export type BatchFlow = {
  /** the producing step's hours; undefined when all is ready at `end`. */
  readonly hours: OpenHours | undefined;
  /** its first batch begins, in open seconds of `hours`. */
  readonly runOpenS: number;
  readonly runS: number;
  readonly batches: number;
  readonly batchS: number;
  readonly batchPieces: number | undefined;
  /** drying and cooling since. */
  readonly waitS: number;
  /** nothing is handed over before all is done. */
  readonly whole: boolean;
  /** the producing step's first batch begins; no set-up of the next step begins earlier. */
  readonly runStart: EpochS;
  /** all is done, dry and cool. */
  readonly end: EpochS;
};

/** A flow that is ready all at once, at `end`. */
export function flowAt(runStart: EpochS, end: EpochS): BatchFlow {
  return {
    hours: undefined,
    runOpenS: 0,
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

/** Open seconds that a step's batches take. */
export function runSeconds(step: WorkStep): number {
  return Math.ceil(step.batches * step.batchS - ROUNDING_S);
}

/** A step without any work needs no station. */
export function hasNoWork(step: WorkStep): boolean {
  return Math.ceil(step.setUpS) + runSeconds(step) === 0;
}

/** When the first batch of `step` has its input. */
export function firstReadyAt(flow: BatchFlow, step: WorkStep): EpochS {
  if (flow.whole || !flow.hours) return flow.end;
  return readyAt(flow, neededBatches(flow, step, 0));
}

/**
 * The earliest start of the first batch of `step`, in open seconds of `hours`, such that no batch starts before its
 * input is ready. Batches follow each other without a break, so batch k (from 0) starts k × batchS later.
 */
export function minRunOpenS(flow: BatchFlow, step: WorkStep, hours: OpenHours): number {
  if (flow.whole || !flow.hours || step.batches === 0) return hours.openSecondsAt(flow.end);
  let min = 0;
  let previous = 0;
  for (let k = 0; k < step.batches; k++) {
    const needed = neededBatches(flow, step, k);
    // of batches that need the same input, the first decides
    if (needed === previous) continue;
    previous = needed;
    const openS = hours.openSecondsAt(readyAt(flow, needed)) - k * step.batchS;
    if (openS > min) min = openS;
  }
  return Math.ceil(min - ROUNDING_S);
}

/** How many batches of the flow must be ready before batch k (from 0) of `step` starts; for the last one, all. */
function neededBatches(flow: BatchFlow, step: WorkStep, k: number): number {
  if (k === step.batches - 1) return flow.batches;
  const needed =
    flow.batchPieces !== undefined && step.batchPieces !== undefined
      ? Math.ceil(((k + 1) * step.batchPieces) / flow.batchPieces - ROUNDING_S)
      : Math.ceil(((k + 1) * flow.batches) / step.batches - ROUNDING_S);
  return Math.min(flow.batches, needed);
}

/** When the first `count` batches of the flow are ready. */
function readyAt(flow: BatchFlow, count: number): EpochS {
  // a step that runs late on the floor may end in closed hours
  if (count >= flow.batches) return flow.end;
  const ready = flow.hours!.endAt(flow.runOpenS + Math.min(flow.runS, count * flow.batchS)) + flow.waitS;
  return Math.min(ready, flow.end);
}
