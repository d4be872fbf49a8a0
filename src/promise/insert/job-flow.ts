import { hoursOfBooking, type Plan, unitOf } from '../plan/plan.ts';
import type { Booking, EpochS, Job, PlacedStep, Step, WorkStep } from '../types.ts';
import { type BatchFlow, flowAt, runSecondsOf } from './batch-flow.ts';
import type { Placing } from './place-step.ts';

/** What the steps of a job hand over to each other, chain by chain, as they are placed one after another. */
export class JobFlow {
  readonly #job: Job;
  readonly #notBefore: EpochS;
  /** by chain: what each step placed so far hands over. */
  readonly #placed: (readonly BatchFlow[])[][];

  constructor(job: Job, notBefore: EpochS) {
    this.#job = job;
    this.#notBefore = notBefore;
    this.#placed = job.chains.map(() => []);
  }

  /** How many steps of a chain are placed. */
  placedIn(chain: number): number {
    return this.#placed[chain]!.length;
  }

  /** The first step of a chain that is not placed. */
  nextStep(chain: number): Step | undefined {
    return this.#job.chains[chain]!.steps[this.placedIn(chain)];
  }

  /** What the next step of a chain takes in; null while a chain it waits for is not that far. */
  inputOf(chain: number): readonly BatchFlow[] | null {
    const before = this.#placed[chain]!.at(-1);
    if (before) return before;
    const waits: BatchFlow[] = [];
    for (const ref of this.#job.chains[chain]!.after ?? []) {
      const step = ref.step ?? this.#job.chains[ref.chain]!.steps.length - 1;
      // an empty chain is done when what it waits for is
      const given = step < 0 ? this.inputOf(ref.chain) : this.#placed[ref.chain]![step];
      if (!given) return null;
      for (const feed of given) waits.push(ref.flow === 'on' ? feed : { ...feed, whole: true });
    }
    return startFlows(this.#notBefore, waits);
  }

  /** What the last placed step of a chain hands over. */
  lastOf(chain: number): readonly BatchFlow[] {
    return this.#placed[chain]!.at(-1) ?? [];
  }

  /** Records what the next step of a chain hands over. */
  put(chain: number, feeds: readonly BatchFlow[]): void {
    this.#placed[chain]!.push(feeds);
  }
}

/** The input of a first step: what its chain waits for, or simply the instant from which it may be worked on. */
export function startFlows(notBefore: EpochS, waits: readonly BatchFlow[]): readonly BatchFlow[] {
  return waits.length > 0 ? waits : [flowAt(notBefore, notBefore)];
}

/** When all of it is there. */
export function endOf(feeds: readonly BatchFlow[], notBefore: EpochS): EpochS {
  return Math.max(notBefore, ...feeds.map((feed) => feed.end));
}

/** What a wait (or a step without work) makes of its input. */
export function passThrough(
  step: { readonly key: string; readonly waitS?: number },
  feeds: readonly BatchFlow[],
  notBefore: EpochS,
): { feeds: readonly BatchFlow[]; placed(chain: number, index: number): PlacedStep } {
  const waitS = Math.ceil(step.waitS ?? 0);
  const start = Math.max(notBefore, ...feeds.map((feed) => feed.runStart));
  const passed = feeds.map((feed) => ({ ...feed, waitS: feed.waitS + waitS, end: feed.end + waitS }));
  return {
    feeds: passed,
    placed: (chain, index) => ({
      chain,
      step: index,
      key: step.key,
      station: null,
      unit: 0,
      readyAt: start,
      start,
      runStart: start,
      end: endOf(passed, notBefore),
    }),
  };
}

/** What a placed step hands over. */
export function flowOf(step: WorkStep, placing: Placing): BatchFlow {
  return {
    hours: placing.hours,
    runWork: placing.runWork,
    runS: placing.runS,
    batches: step.batches,
    batchS: step.batchS,
    batchPieces: step.batchPieces,
    waitS: 0,
    whole: step.flow === 'whole',
    runStart: placing.runStart,
    end: placing.end,
  };
}

/** What a step handed over by the floor or fixed before hands over: its batches evenly over the time it has. */
export function flowOfBooking(plan: Plan, step: WorkStep, booking: Booking): BatchFlow {
  const hours = hoursOfBooking(plan.shop.units[unitOf(plan.shop, booking)]!, booking);
  const runWork = hours.workAt(booking.runStart);
  const runS = hours.workAt(booking.end) - runWork;
  return {
    hours,
    runWork,
    runS,
    batches: step.batches,
    batchS: runS === runSecondsOf(step) || step.batches === 0 ? step.batchS : runS / step.batches,
    batchPieces: step.batchPieces,
    waitS: 0,
    whole: step.flow === 'whole',
    runStart: booking.runStart,
    end: booking.end,
  };
}
