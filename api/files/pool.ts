import { availableParallelism } from 'node:os';
import type { Remedy } from '../../src/contract/index.ts';
import type { JobRequest, ReadFacts } from './jobs.ts';
import { DEFAULT_READ_LIMITS, type ReadLimits } from './limits.ts';
import { bundleFonts } from './pool/bundled-fonts.ts';
import { type JobBounds, type JobResult, WorkerProcess } from './pool/worker-process.ts';
import type { ProofRequest } from './proof.ts';
import { type FileRefusal, isRefusal } from './refusal.ts';

export type FilePoolOptions = {
  /** number of processes; default one per core, at least 2, so that one hostile file never stops all reading. */
  readonly size?: number;
  /** jobs that may wait; default 8 per process. */
  readonly queue?: number;
  /** limits on files; the rest are the defaults. */
  readonly limits?: Partial<ReadLimits>;
  /** CPU time for a file until its pixels are known; for a drawing, until it is drawn. Default 1.5 s. */
  readonly drawS?: number;
  /** called for what should not happen: a process that exited by itself, a fault in our own code. */
  readonly onWarning?: (what: string) => void;
};

/** A file that was read, with its remedies applied. */
export type ReadArtwork = ReadFacts & {
  /** production raster: PNG, RGBA, 8 bits, sRGB, upright, without metadata. */
  readonly raster: Uint8Array;
  /** PNG, longer side at most 1600 px. */
  readonly preview: Uint8Array;
};

/** Reads, measures and draws files in processes that can be killed; the caller's event loop only passes bytes on. */
export type FilePool = {
  /** Reads a file, applies remedies and measures it. `limits` overrides those of the pool for this file. */
  read(
    bytes: Uint8Array,
    options?: {
      readonly name?: string | undefined;
      readonly remedies?: readonly Remedy[] | undefined;
      readonly limits?: Partial<ReadLimits> | undefined;
    },
  ): Promise<ReadArtwork | FileRefusal>;
  /** A smaller PNG of a production raster. `longSidePx` from 1. */
  preview(raster: Uint8Array, longSidePx: number): Promise<{ readonly png: Uint8Array } | FileRefusal>;
  /** Draws the proof of one view, from the production rasters of its artworks, in order. */
  proof(
    request: ProofRequest,
    rasters: readonly Uint8Array[],
  ): Promise<{ readonly png: Uint8Array } | FileRefusal>;
  /** Number of jobs running and waiting. */
  load(): { readonly running: number; readonly waiting: number; readonly size: number };
  /** Resolves once every process can take a job. */
  ready(): Promise<void>;
  /** Ends every process; running and waiting jobs are answered `busy`. */
  close(): Promise<void>;
};

const WAITING_PER_PROCESS = 8;
const DRAW_S = 1.5;
/** Extra memory for a file whose pixels are not known yet, and for drawings. */
const DRAW_MEMORY_MIB = 280;
/** Further time and memory per million pixels, once they are known; three times what was measured. */
const S_PER_MEGAPIXEL = 0.6;
const MIB_PER_MEGAPIXEL = 14;
/** Bounds for jobs on our own files: trusted, but large. */
const OWN_JOB: JobBounds = { timeS: 20, memoryMiB: 1500 };
/** A process that still holds this much after `SETTLE_MS` is replaced. */
const MAX_IDLE_MEMORY_MIB = 500;
const SETTLE_MS = 500;
/** After this many failed starts in a row, waiting jobs are refused. */
const MAX_FAILED_STARTS = 3;
const RESTART_PAUSE_MS = 200;
/** First estimate of a job's duration; later a running mean is used. */
const USUAL_JOB_S = 1;
const LONGEST_WAIT_S = 60;

/** Starts a pool. Close it, or this process will not end. */
export async function openFilePool(options: FilePoolOptions = {}): Promise<FilePool> {
  const fonts = await bundleFonts();
  const pool = new ProcessPool(options, fonts.configFile);
  const ask = async <T>(
    request: JobRequest,
    blobs: readonly Uint8Array[],
    bounds: JobBounds,
    shape: (answer: unknown, blobs: readonly Uint8Array[]) => T,
  ): Promise<T | FileRefusal> => {
    const end = await pool.run(request, blobs, bounds);
    if (isRefusal(end)) return end;
    if (typeof end.answer === 'object' && end.answer !== null && isRefusal(end.answer)) return end.answer;
    return shape(end.answer, end.blobs);
  };
  const drawBounds: JobBounds = { timeS: options.drawS ?? DRAW_S, memoryMiB: DRAW_MEMORY_MIB };

  return {
    async read(bytes, { name, remedies = [], limits: own } = {}) {
      const limits = { ...DEFAULT_READ_LIMITS, ...options.limits, ...own };
      // No need to occupy a process.
      if (bytes.length === 0) return { refused: 'empty-file', params: {} };
      if (bytes.length > limits.bytes)
        return { refused: 'too-large', params: { bytes: bytes.length, limitBytes: limits.bytes } };
      return ask(
        { job: 'read', name, limits, remedies },
        [bytes],
        drawBounds,
        (answer, [raster, preview]) => ({
          ...(answer as ReadFacts),
          raster: raster!,
          preview: preview!,
        }),
      );
    },
    preview: (raster, longSidePx) =>
      ask({ job: 'preview', longSidePx }, [raster], OWN_JOB, (_, [png]) => ({ png: png! })),
    proof: (proof, rasters) => ask({ job: 'proof', proof }, rasters, OWN_JOB, (_, [png]) => ({ png: png! })),
    load: () => pool.load(),
    ready: () => pool.ready(),
    async close() {
      await pool.close();
      await fonts.remove();
    },
  };
}

/** Bounds for decoding, measuring and writing this many pixels, on top of what reading took. */
function boundsFor(pixels: number): JobBounds {
  const megapixels = pixels / 1_000_000;
  return {
    timeS: DRAW_S + S_PER_MEGAPIXEL * megapixels,
    memoryMiB: DRAW_MEMORY_MIB + MIB_PER_MEGAPIXEL * Math.max(0, megapixels - 12),
  };
}

type Done = Extract<JobResult, { end: 'done' }>;

type Waiting = {
  readonly request: JobRequest;
  readonly blobs: readonly Uint8Array[];
  readonly bounds: JobBounds;
  readonly resolve: (answer: Done | FileRefusal) => void;
};

class ProcessPool {
  readonly #size: number;
  readonly #queueMost: number;
  readonly #fontsFile: string;
  readonly #onTrouble: (what: string) => void;
  readonly #workers = new Set<WorkerProcess>();
  readonly #idle: WorkerProcess[] = [];
  readonly #waiting: Waiting[] = [];
  #running = 0;
  #failedStarts = 0;
  #closed = false;
  #meanJobS = USUAL_JOB_S;

  constructor(options: FilePoolOptions, fontsFile: string) {
    this.#size = options.size ?? Math.max(2, availableParallelism());
    this.#queueMost = options.queue ?? WAITING_PER_PROCESS * this.#size;
    this.#fontsFile = fontsFile;
    this.#onTrouble = options.onWarning ?? (() => {});
    for (let index = 0; index < this.#size; index++) this.#start();
  }

  run(request: JobRequest, blobs: readonly Uint8Array[], bounds: JobBounds): Promise<Done | FileRefusal> {
    if (this.#closed || this.#failedStarts >= MAX_FAILED_STARTS) return Promise.resolve(this.#busy());
    if (this.#idle.length === 0 && this.#waiting.length >= this.#queueMost)
      return Promise.resolve(this.#busy());
    return new Promise((resolve) => {
      this.#waiting.push({ request, blobs, bounds, resolve });
      this.#next();
    });
  }

  load(): { running: number; waiting: number; size: number } {
    return { running: this.#running, waiting: this.#waiting.length, size: this.#size };
  }

  async ready(): Promise<void> {
    await Promise.all([...this.#workers].map((worker) => worker.ready));
  }

  async close(): Promise<void> {
    this.#closed = true;
    for (const { resolve } of this.#waiting.splice(0)) resolve(this.#busy());
    await Promise.all([...this.#workers].map((worker) => worker.end()));
  }

  #start(): void {
    if (this.#closed) return;
    const worker = new WorkerProcess(this.#fontsFile);
    this.#workers.add(worker);
    void worker.ready.then((alive) => {
      if (alive) {
        this.#failedStarts = 0;
        this.#idle.push(worker);
        this.#next();
        return;
      }
      this.#workers.delete(worker);
      if (this.#closed) return;
      this.#failedStarts++;
      this.#onTrouble(`a process to read files did not start (${this.#failedStarts} in a row)`);
      if (this.#failedStarts >= MAX_FAILED_STARTS)
        for (const { resolve } of this.#waiting.splice(0)) resolve(this.#busy());
      setTimeout(() => this.#start(), RESTART_PAUSE_MS * 2 ** Math.min(this.#failedStarts, 7)).unref();
    });
  }

  #next(): void {
    while (this.#waiting.length > 0) {
      const worker = this.#idle.pop();
      if (worker === undefined) return;
      if (!worker.alive) {
        this.#replace(worker);
        continue;
      }
      void this.#do(worker, this.#waiting.shift()!);
    }
  }

  async #do(worker: WorkerProcess, { request, blobs, bounds, resolve }: Waiting): Promise<void> {
    this.#running++;
    const startMs = performance.now();
    const end = await worker.run(request, blobs, bounds, boundsFor);
    this.#running--;
    this.#meanJobS = 0.9 * this.#meanJobS + 0.1 * ((performance.now() - startMs) / 1000);
    // Free the worker first: whoever gets the answer may send the next job at once.
    if (worker.alive) {
      this.#idle.push(worker);
      setTimeout(() => this.#replaceIfTooBig(worker), SETTLE_MS).unref();
    } else this.#replace(worker);
    resolve(this.#answerOf(end));
    this.#next();
  }

  #answerOf(result: JobResult): Done | FileRefusal {
    switch (result.end) {
      case 'done':
        return result;
      case 'took-too-long':
        return { refused: 'took-too-long', params: { limitS: result.bounds.timeS } };
      case 'too-much-memory':
        return { refused: 'too-much-memory', params: { limitMiB: result.bounds.memoryMiB } };
      case 'fault':
        this.#onTrouble(`a fault while reading a file: ${result.message}`);
        return { refused: 'reader-failed', params: {} };
      case 'exited':
        if (this.#closed) return this.#busy();
        this.#onTrouble(`a process that read a file exited by itself: ${result.stderr}`);
        return { refused: 'reader-failed', params: {} };
    }
  }

  #replaceIfTooBig(worker: WorkerProcess): void {
    const at = this.#idle.indexOf(worker);
    if (at < 0 || (worker.memoryMiB ?? 0) < MAX_IDLE_MEMORY_MIB) return;
    this.#idle.splice(at, 1);
    this.#replace(worker);
  }

  #replace(worker: WorkerProcess): void {
    worker.kill();
    this.#workers.delete(worker);
    this.#start();
  }

  #busy(): FileRefusal {
    const seconds = Math.ceil(((this.#waiting.length + 1) * this.#meanJobS) / this.#size);
    return { refused: 'busy', params: { retryAfterS: Math.min(LONGEST_WAIT_S, Math.max(1, seconds)) } };
  }
}
