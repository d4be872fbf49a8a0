import { type ChildProcess, spawn } from 'node:child_process';
import { createRequire } from 'node:module';
import { setPriority } from 'node:os';
import type { Duplex } from 'node:stream';
import { fileURLToPath, pathToFileURL } from 'node:url';
import type { JobRequest } from '../jobs.ts';
import { onMessages, sendMessage } from './frames.ts';
import { cpuS, residentMiB } from './process-usage.ts';
import { type FromChild, MAX_MESSAGE_BYTES } from './protocol.ts';

/** Bounds on a job. */
export type JobBounds = {
  /** CPU time; see `WALL_FACTOR` for wall time. */
  readonly timeS: number;
  readonly memoryMiB: number;
};

/** How a job ended. */
export type JobResult =
  | { readonly end: 'done'; readonly answer: unknown; readonly blobs: readonly Uint8Array[] }
  | { readonly end: 'fault'; readonly message: string }
  | { readonly end: 'exited'; readonly stderr: string }
  | { readonly end: 'took-too-long' | 'too-much-memory'; readonly bounds: JobBounds };

/** How often time and memory are checked while a job runs. */
const WATCH_MS = 10;
/**
 * A job's wall time may be this many times its CPU time bound. A good file must not be refused because the machine is busy,
 * but a process that only sleeps must be stopped, too.
 */
const WALL_FACTOR = 6;
/** How much of a process's last error output is kept for the log. */
const MAX_STDERR_CHARS = 2000;
/** Heap for our own code in the process; pixels are outside it. */
const HEAP_MIB = 384;

/** A process that does one job at a time, and is killed if a job exceeds its bounds. */
export class WorkerProcess {
  readonly #child: ChildProcess;
  readonly #pipe: Duplex;
  #ready: { readonly promise: Promise<boolean>; readonly resolve: (alive: boolean) => void };
  #job: RunningJob | null = null;
  #alive = true;
  #killed = false;
  #stderr = '';

  /** @param fontsFile a fontconfig file with only the fonts to use */
  constructor(fontsFile: string) {
    const here = fileURLToPath(import.meta.url);
    const asSource = here.endsWith('.ts');
    const entry = fileURLToPath(new URL(asSource ? './child.ts' : './child.js', import.meta.url));
    const loader = asSource
      ? ['--import', pathToFileURL(createRequire(import.meta.url).resolve('tsx')).href]
      : [];
    this.#ready = deferred();
    this.#child = spawn(
      process.execPath,
      [`--max-old-space-size=${HEAP_MIB}`, '--expose-gc', ...loader, entry],
      {
        stdio: ['ignore', 'ignore', 'pipe', 'pipe'],
        env: childEnvironment(fontsFile),
      },
    );
    lowerPriority(this.#child.pid);
    this.#pipe = this.#child.stdio[3] as Duplex;
    this.#pipe.on('error', () => this.kill());
    this.#child.stderr?.on('data', (part: Buffer) => {
      this.#stderr = (this.#stderr + part.toString('utf8')).slice(-MAX_STDERR_CHARS);
    });
    this.#child.on('error', () => this.#onExit(null));
    this.#child.on('exit', (_, signal) => this.#onExit(signal));
    onMessages(this.#pipe, MAX_MESSAGE_BYTES, ({ value, blobs }) =>
      this.#onMessage(value as FromChild, blobs),
    );
  }

  /** True once it can take a job; false if it exits before that. */
  get ready(): Promise<boolean> {
    return this.#ready.promise;
  }

  get alive(): boolean {
    return this.#alive;
  }

  get pid(): number | undefined {
    return this.#child.pid;
  }

  /** Resident memory, MiB; null if the system does not say. */
  get memoryMiB(): number | null {
    return residentMiB(this.#child.pid);
  }

  /**
   * Does one job.
   * @param bounds until the number of pixels is known
   * @param boundsFor bounds from then on, with time counted anew
   */
  run(
    request: JobRequest,
    blobs: readonly Uint8Array[],
    bounds: JobBounds,
    boundsFor: (pixels: number) => JobBounds,
  ): Promise<JobResult> {
    return new Promise((resolve) => {
      const job: RunningJob = {
        bounds,
        boundsFor,
        startMs: performance.now(),
        startS: cpuS(this.pid),
        startMiB: this.memoryMiB,
        watch: setInterval(() => this.#checkBounds(job), WATCH_MS),
        resolve,
      };
      this.#job = job;
      // A process that dies while we write to it is noticed by its exit.
      sendMessage(this.#pipe, request, blobs).catch(() => this.kill());
    });
  }

  kill(): void {
    this.#killed = true;
    this.#child.kill('SIGKILL');
  }

  /** Kills the process and resolves once it has exited. */
  async end(): Promise<void> {
    if (!this.#alive) return;
    const gone = new Promise((resolve) => this.#child.once('exit', resolve));
    this.kill();
    await gone;
  }

  #onMessage(message: FromChild, blobs: readonly Uint8Array[]): void {
    if (message.type === 'ready') {
      this.#ready.resolve(true);
      return;
    }
    const job = this.#job;
    if (job === null) return;
    if (message.type === 'pixels') {
      job.bounds = job.boundsFor(message.pixels);
      job.startMs = performance.now();
      job.startS = cpuS(this.pid);
    } else if (message.type === 'done') this.#finish({ end: 'done', answer: message.answer, blobs });
    else this.#finish({ end: 'fault', message: message.message });
  }

  #checkBounds({ bounds, startMs, startS, startMiB }: RunningJob): void {
    const { timeS, memoryMiB } = bounds;
    const nowS = cpuS(this.pid);
    const wallS = (performance.now() - startMs) / 1000;
    const usedS = nowS === null || startS === null ? wallS : Math.max(nowS - startS, wallS / WALL_FACTOR);
    const nowMiB = this.memoryMiB;
    if (usedS > timeS) this.#stop('took-too-long');
    else if (nowMiB !== null && startMiB !== null && nowMiB - startMiB > memoryMiB)
      this.#stop('too-much-memory');
  }

  #stop(end: 'took-too-long' | 'too-much-memory'): void {
    const bounds = this.#job?.bounds;
    this.kill();
    this.#alive = false;
    if (bounds !== undefined) this.#finish({ end, bounds });
  }

  #onExit(signal: NodeJS.Signals | null): void {
    this.#alive = false;
    this.#ready.resolve(false);
    const bounds = this.#job?.bounds;
    // We did not send this signal: the system was out of memory.
    if (signal === 'SIGKILL' && !this.#killed && bounds !== undefined)
      this.#finish({ end: 'too-much-memory', bounds });
    else this.#finish({ end: 'exited', stderr: this.#stderr });
  }

  #finish(end: JobResult): void {
    const job = this.#job;
    if (job === null) return;
    this.#job = null;
    clearInterval(job.watch);
    job.resolve(end);
  }
}

type RunningJob = {
  bounds: JobBounds;
  readonly boundsFor: (pixels: number) => JobBounds;
  startMs: number;
  startS: number | null;
  readonly startMiB: number | null;
  readonly watch: NodeJS.Timeout;
  readonly resolve: (end: JobResult) => void;
};

/** Reading files uses whole cores; answering requests has priority. */
const NICENESS = 10;

function lowerPriority(pid: number | undefined): void {
  if (pid === undefined) return;
  try {
    setPriority(pid, NICENESS);
  } catch {
    // It has exited already, or the system has no priorities.
  }
}

/** A process that reads untrusted files gets none of the server's keys or addresses. */
function childEnvironment(fontsFile: string): NodeJS.ProcessEnv {
  const kept = ['PATH', 'HOME', 'TMPDIR', 'TEMP', 'SystemRoot', 'NODE_ENV'].flatMap((name) => {
    const value = process.env[name];
    return value === undefined ? [] : [[name, value] as const];
  });
  return {
    ...Object.fromEntries(kept),
    FONTCONFIG_FILE: fontsFile,
    UV_THREADPOOL_SIZE: '2',
    // Return memory to the system between jobs instead of keeping it in arenas.
    MALLOC_ARENA_MAX: '2',
    MALLOC_TRIM_THRESHOLD_: '1048576',
    MALLOC_MMAP_THRESHOLD_: '262144',
  };
}

function deferred(): { promise: Promise<boolean>; resolve: (alive: boolean) => void } {
  let resolve: (alive: boolean) => void = () => {};
  const promise = new Promise<boolean>((settle) => {
    resolve = settle;
  });
  return { promise, resolve };
}
