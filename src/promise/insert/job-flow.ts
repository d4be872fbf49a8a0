import type { ShopHours } from '../calendar/shop-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { hoursOfBooking } from '../plan/booked-work.ts';
import type { Booking } from '../plan/booking.ts';
import type { Job, Step, WorkStep } from '../plan/job.ts';

import { type BatchFlow, flowAt, runSeconds } from './batch-flow.ts';
import type { PlacedStep } from './insertion.ts';
import type { Placing } from './place-step.ts';

/** What the steps of a job hand over to each other, chain by chain, as they are placed one after another. */
export class JobFlow {
  readonly #job: Job;
  readonly #notBefore: EpochS;
  /** the output of each step placed so far, by chain. */
  readonly #outputs: (readonly BatchFlow[])[][];

  constructor(job: Job, notBefore: EpochS) {
    this.#job = job;
    this.#notBefore = notBefore;
    this.#outputs = job.chains.map(() => []);
  }

  /** How many steps of a chain are placed. */
  placedCount(chain: number): number {
    return this.#outputs[chain]!.length;
  }

  /** The first step of a chain that is not placed. */
  nextStep(chain: number): Step | undefined {
    return this.#job.chains[chain]!.steps[this.placedCount(chain)];
  }

  /** The input of the next step of a chain; undefined while a predecessor of the chain is not placed. */
  inputOf(chain: number): readonly BatchFlow[] | undefined {
    const previous = this.#outputs[chain]!.at(-1);
    if (previous) return previous;
    const predecessors: BatchFlow[] = [];
    for (const ref of this.#job.chains[chain]!.after ?? []) {
      const step = ref.step ?? this.#job.chains[ref.chain]!.steps.length - 1;
      // an empty chain is done when its own predecessors are
      const flows = step < 0 ? this.inputOf(ref.chain) : this.#outputs[ref.chain]![step];
      if (!flows) return undefined;
      for (const flow of flows) predecessors.push(ref.flow === 'on' ? flow : { ...flow, whole: true });
    }
    return initialFlows(this.#notBefore, predecessors);
  }

  /** The output of the last placed step of a chain. */
  outputOf(chain: number): readonly BatchFlow[] {
    return this.#outputs[chain]!.at(-1) ?? [];
  }

  /** Records the output of the next step of a chain. */
  record(chain: number, flows: readonly BatchFlow[]): void {
    this.#outputs[chain]!.push(flows);
  }
}

/** The input of a chain's first step: that of its predecessors, or its release time. */
export function initialFlows(notBefore: EpochS, predecessors: readonly BatchFlow[]): readonly BatchFlow[] {
  return predecessors.length > 0 ? predecessors : [flowAt(notBefore, notBefore)];
}

/** When all of it is ready. */
export function endOfFlows(flows: readonly BatchFlow[], notBefore: EpochS): EpochS {
  return Math.max(notBefore, ...flows.map((flow) => flow.end));
}

/** The output of a wait, or of a step without work, and the step as placed. */
export function passThrough(
  step: { readonly key: string; readonly waitS?: number },
  input: readonly BatchFlow[],
  notBefore: EpochS,
): { flows: readonly BatchFlow[]; placed(chain: number, index: number): PlacedStep } {
  const waitS = Math.ceil(step.waitS ?? 0);
  const start = Math.max(notBefore, ...input.map((flow) => flow.runStart));
  const flows = input.map((flow) => ({ ...flow, waitS: flow.waitS + waitS, end: flow.end + waitS }));
  return {
    flows,
    placed: (chain, index) => ({
      chain,
      step: index,
      key: step.key,
      station: undefined,
      unit: 0,
      readyAt: start,
      start,
      runStart: start,
      end: endOfFlows(flows, notBefore),
    }),
  };
}

/** The output of a placed step. */
export function flowOf(step: WorkStep, placing: Placing): BatchFlow {
  const { hours, runOpenS, runS, runStart, end } = placing;
  return {
    hours,
    runOpenS,
    runS,
    batches: step.batches,
    batchS: step.batchS,
    batchPieces: step.batchPieces,
    waitS: 0,
    whole: step.flow === 'whole',
    runStart,
    end,
  };
}

/** The output of a step that is already booked. If the floor changed how long it takes, its batches are spread evenly. */
export function flowOfBooking(shop: ShopHours, step: WorkStep, booking: Booking): BatchFlow {
  const hours = hoursOfBooking(shop, booking);
  const runOpenS = hours.openSecondsAt(booking.runStart);
  const runS = hours.openSecondsAt(booking.end) - runOpenS;
  return {
    hours,
    runOpenS,
    runS,
    batches: step.batches,
    batchS: runS === runSeconds(step) || step.batches === 0 ? step.batchS : runS / step.batches,
    batchPieces: step.batchPieces,
    waitS: 0,
    whole: step.flow === 'whole',
    runStart: booking.runStart,
    end: booking.end,
  };
}
