import { availableParallelism } from 'node:os';
import type { Remedy } from '../../src/contract/index.ts';
import type { JobRequest, ReadFacts } from './jobs.ts';
import { DEFAULT_READ_LIMITS, type ReadLimits } from './limits.ts';
import { bundleFonts } from './pool/bundled-fonts.ts';
import { type JobBounds, type JobResult, WorkerProcess } from './pool/worker-process.ts';
import type { ProofRequest } from './proof.ts';
import { type FileRefusal, isRefusal } from './refusal.ts';

export type FilePoolOptions = {
  /** processes; default one for each core, at least 2, so that one hostile file never stops all reading. */
  readonly size?: number;
  /** jobs that may wait; default 8 for each process. */
  readonly queue?: number;
  /** bounds on files; those not given are the defaults. */
  readonly limits?: Partial<ReadLimits>;
  /** processor time for a file until its pixels are counted: for a drawing, until it is drawn. Default 1.5 s. */
  readonly drawS?: number;
  /** told of what should not happen: a process that ended by itself, a fault in our own code. */
  readonly onWarning?: (what: string) => void;
};

/** A file read and mended, with its pictures. */
export type ReadArtwork = ReadFacts & {
  /** production raster: PNG, RGBA, 8 bits, sRGB, upright, no metadata. */
  readonly raster: Uint8Array;
  /** PNG, longer side at most 1600 px. */
  readonly preview: Uint8Array;
};

/** Reads, measures and draws in processes that can be killed. The event loop of the caller only passes bytes on. */
export type FilePool = {
  /** Reads a file, applies mends to it, measures it. `limits` narrows those of the pool for this file. */
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
  /** The proof of one face, from the production rasters of what is placed on it, in order. */
  proof(
    request: ProofRequest,
    rasters: readonly Uint8Array[],
  ): Promise<{ readonly png: Uint8Array } | FileRefusal>;
  /** Jobs under way and waiting. */
  load(): { readonly running: number; readonly waiting: number; readonly size: number };
  /** Resolves once every process can take a job. */
  ready(): Promise<void>;
  /** Ends every process; jobs under way and waiting are answered `busy`. */
  close(): Promise<void>;
};

const WAITING_PER_PROCESS = 8;
const DRAW_S = 1.5;
/** Extra memory while a file is read whose size is not known yet, and for drawings. */
const DRAW_MEMORY_MIB = 280;
/** Time and memory beyond that for each million pixels, once they are counted. Measured at a third of this. */
const S_PER_MEGAPIXEL = 0.6;
const MIB_PER_MEGAPIXEL = 14;
/** A job of our own on our own files: nobody else's bytes, only many of them. */
const OWN_JOB: JobBounds = { timeS: 20, memoryMiB: 1500 };
/** A process that still holds this much, once it has had time to let go of a job's memory, is replaced. */
const KEPT_MEMORY_MIB = 500;
const SETTLE_MS = 500;
/** After so many starts in a row that came to nothing, jobs are no longer kept waiting. */
const MAX_FAILED_STARTS = 3;
const RESTART_PAUSE_MS = 200;
/** A guess for the first answers; after that the mean of what was seen. */
const USUAL_JOB_S = 1;
const LONGEST_WAIT_S = 60;

/** Starts a pool. Close it, or the process will not end. */
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
      // Known here, so it need not take a process's time.
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

/** Allowed on top of what reading took, for decoding, measuring and writing so many pixels. */
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
    // The worker is put back first: whoever gets the answer may ask again at once.
    if (worker.alive) {
      this.#idle.push(worker);
      setTimeout(() => this.#replaceIfSwollen(worker), SETTLE_MS).unref();
    } else this.#replace(worker);
    resolve(this.#answerOf(end));
    this.#next();
  }

  #answerOf(end: JobResult): Done | FileRefusal {
    switch (end.end) {
      case 'done':
        return end;
      case 'took-too-long':
        return { refused: 'took-too-long', params: { limitS: end.bounds.timeS } };
      case 'too-much-memory':
        return { refused: 'too-much-memory', params: { limitMiB: end.bounds.memoryMiB } };
      case 'fault':
        this.#onTrouble(`a fault while reading a file: ${end.message}`);
        return { refused: 'reader-failed', params: {} };
      case 'died':
        if (this.#closed) return this.#busy();
        this.#onTrouble(`a process that read a file ended by itself: ${end.words}`);
        return { refused: 'reader-failed', params: {} };
    }
  }

  #replaceIfSwollen(worker: WorkerProcess): void {
    const at = this.#idle.indexOf(worker);
    if (at < 0 || (worker.memoryMiB ?? 0) < KEPT_MEMORY_MIB) return;
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
