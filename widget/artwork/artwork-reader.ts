import type { FindingInput } from '../../src/artwork/index.ts';
import type { Finding, Remedy } from '../../src/contract/index.ts';
import type { LocalArtwork, WorkerAnswer, WorkerRequest } from './artwork-worker-protocol.ts';

export type { LocalArtwork } from './artwork-worker-protocol.ts';

/** Longest side of an artwork's picture, px, as in the shop's previews. */
const PICTURE_SIDE_PX = 1600;
/** A worker that does not answer for so long is terminated. */
const TIMEOUT_MS = 60_000;
/** A worker without work for so long is terminated, to free its pixels. */
const IDLE_MS = 30_000;

type Job = {
  readonly request: WorkerRequest;
  readonly settle: (answer: WorkerAnswer | null) => void;
};

/**
 * Reads artwork in a worker. Every answer may be null: only the shop reads the file's kind (SVG, PDF, TIFF), the file is
 * very large, or the page's policy allows no worker. The slip then waits for the shop's answer.
 */
export class ArtworkReader {
  readonly #make: () => Worker;
  readonly #retry: boolean;
  #worker: Worker | null = null;
  #unavailable = false;
  #hasAnswered = false;
  #running: Job | null = null;
  readonly #queue: Job[] = [];
  readonly #keys = new WeakMap<Blob, string>();
  #next = 1;
  #timeout: ReturnType<typeof setTimeout> | undefined;
  #idle: ReturnType<typeof setTimeout> | undefined;

  /**
   * @param make creates the worker; throws where a policy of the page forbids it
   * @param retry whether a script that did not load may load the next time
   */
  constructor(make: () => Worker, retry = true) {
    this.#make = make;
    this.#retry = retry;
  }

  /** Whether the worker's script has loaded and answered. */
  get hasStarted(): boolean {
    return this.#hasAnswered;
  }

  /** Facts and a picture of a file with remedies applied. */
  async read(
    file: Blob,
    remedies: readonly Remedy[] = [],
    options: { readonly signal?: AbortSignal; readonly pictureSidePx?: number } = {},
  ): Promise<LocalArtwork | null> {
    const answer = await this.#request(
      {
        kind: 'read',
        pictureSidePx: options.pictureSidePx ?? PICTURE_SIDE_PX,
        ...this.#jobOf(file, remedies),
      },
      options.signal,
    );
    return answer?.kind === 'read' ? answer.artwork : null;
  }

  /** What the artwork check finds in a file with remedies applied, at a size, on a cloth, for some methods. */
  async find(
    file: Blob,
    remedies: readonly Remedy[],
    input: Omit<FindingInput, 'facts'>,
    signal?: AbortSignal,
  ): Promise<readonly Finding[] | null> {
    const answer = await this.#request({ kind: 'find', input, ...this.#jobOf(file, remedies) }, signal);
    return answer?.kind === 'found' ? answer.findings : null;
  }

  /** Terminates the worker; pending requests resolve with null. A later request starts a new worker. */
  close(): void {
    this.#stopWorker();
    const waiting = [...(this.#running ? [this.#running] : []), ...this.#queue.splice(0)];
    this.#running = null;
    for (const one of waiting) one.settle(null);
  }

  #jobOf(file: Blob, remedies: readonly Remedy[]) {
    let key = this.#keys.get(file);
    if (key === undefined) {
      key = `file-${this.#next}`;
      this.#keys.set(file, key);
    }
    return { job: this.#next++, key, file, remedies };
  }

  #request(request: WorkerRequest, signal: AbortSignal | undefined): Promise<WorkerAnswer | null> {
    if (this.#unavailable) return Promise.resolve(null);
    return new Promise((resolve, reject) => {
      const abort = () => {
        this.#cancel(job);
        reject(signal?.reason);
      };
      const job: Job = {
        request,
        settle: (answer) => {
          signal?.removeEventListener('abort', abort);
          resolve(answer);
        },
      };
      if (signal?.aborted) {
        reject(signal.reason);
        return;
      }
      signal?.addEventListener('abort', abort, { once: true });
      this.#queue.push(job);
      this.#runNext();
    });
  }

  #runNext(): void {
    if (this.#running) return;
    const next = this.#queue.shift();
    clearTimeout(this.#idle);
    if (!next) {
      if (this.#worker) this.#idle = setTimeout(() => this.#stopWorker(), IDLE_MS);
      return;
    }
    const worker = this.#startWorker();
    if (!worker) {
      next.settle(null);
      this.#runNext();
      return;
    }
    this.#running = next;
    this.#timeout = setTimeout(() => this.#fail(), TIMEOUT_MS);
    worker.postMessage(next.request);
  }

  #startWorker(): Worker | null {
    if (this.#worker || this.#unavailable) return this.#worker;
    try {
      this.#worker = this.#make();
    } catch {
      this.#unavailable = true; // by a policy, which does not change while the page is open
      return null;
    }
    this.#worker.addEventListener('message', (event: MessageEvent<WorkerAnswer>) => this.#settle(event.data));
    this.#worker.addEventListener('error', () => {
      this.#unavailable ||= !this.#retry && !this.#hasAnswered;
      this.#fail();
    });
    return this.#worker;
  }

  #settle(answer: WorkerAnswer): void {
    const { request, settle } = this.#running ?? {};
    this.#hasAnswered = true;
    if (!request || !settle || request.job !== answer.job) return;
    clearTimeout(this.#timeout);
    this.#running = null;
    settle(answer);
    this.#runNext();
  }

  /** The worker failed or did not load: the shop reads this file. */
  #fail(): void {
    const { settle } = this.#running ?? {};
    this.#stopWorker();
    this.#running = null;
    settle?.(null);
    this.#runNext();
  }

  /** Cancels a job. A running one can only be stopped by terminating its worker. */
  #cancel(job: Job): void {
    const at = this.#queue.indexOf(job);
    if (at >= 0) this.#queue.splice(at, 1);
    else if (this.#running === job) {
      this.#stopWorker();
      this.#running = null;
      this.#runNext();
    }
  }

  #stopWorker(): void {
    clearTimeout(this.#timeout);
    clearTimeout(this.#idle);
    this.#worker?.terminate();
    this.#worker = null;
  }
}
