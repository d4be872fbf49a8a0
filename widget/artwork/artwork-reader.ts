import type { FindingInput } from '../../src/artwork/index.ts';
import type { Finding, Remedy } from '../../src/contract/index.ts';
import workerUrl from './artwork-worker.ts?worker&url';
import type { LocalArtwork, WorkerAnswer, WorkerRequest } from './artwork-worker-protocol.ts';

export type { LocalArtwork } from './artwork-worker-protocol.ts';

/** Longest side of the picture made of an artwork, px, as the shop's own previews have it. */
const PICTURE_SIDE_PX = 1600;
/** A worker that answers nothing for so long is given up. */
const SILENCE_MS = 60_000;
/** Without work for so long the worker and the pixels it holds are let go. */
const IDLE_MS = 30_000;

type Waiting = {
  readonly request: WorkerRequest;
  readonly settle: (answer: WorkerAnswer | null) => void;
};

/**
 * Reads artwork in the page, beside its main thread. Every answer may be null: the file is of a kind only the shop reads
 * (SVG, PDF, TIFF), is very large, or the page allows no worker (a policy forbids it). The shop's answer is then waited
 * for; nothing else changes.
 */
export class ArtworkReader {
  readonly #make: () => Worker;
  #worker: Worker | null = null;
  #refused = false;
  #answered = false;
  #running: Waiting | null = null;
  readonly #queue: Waiting[] = [];
  readonly #keys = new WeakMap<Blob, string>();
  #next = 1;
  #silence: ReturnType<typeof setTimeout> | undefined;
  #idle: ReturnType<typeof setTimeout> | undefined;

  /** @param make makes the worker; for a page that has its script elsewhere. */
  constructor(
    make: () => Worker = () => new Worker(scriptUrl(atHome(workerUrl)), { type: 'module', name: 'artwork' }),
  ) {
    this.#make = make;
  }

  /** Facts and a picture of a file as mended. */
  async read(
    file: Blob,
    remedies: readonly Remedy[] = [],
    options: { readonly signal?: AbortSignal; readonly pictureSidePx?: number } = {},
  ): Promise<LocalArtwork | null> {
    const answer = await this.#ask(
      { kind: 'read', pictureSidePx: options.pictureSidePx ?? PICTURE_SIDE_PX, ...this.#job(file, remedies) },
      options.signal,
    );
    return answer?.kind === 'read' ? answer.artwork : null;
  }

  /** What the check notices about a file as mended, at a size, on a cloth, for some methods. */
  async find(
    file: Blob,
    remedies: readonly Remedy[],
    input: Omit<FindingInput, 'facts'>,
    signal?: AbortSignal,
  ): Promise<readonly Finding[] | null> {
    const answer = await this.#ask({ kind: 'find', input, ...this.#job(file, remedies) }, signal);
    return answer?.kind === 'found' ? answer.findings : null;
  }

  /** Ends the worker; what is waiting is answered with null. A later question starts a new one. */
  close(): void {
    this.#stop();
    const waiting = [...(this.#running ? [this.#running] : []), ...this.#queue.splice(0)];
    this.#running = null;
    for (const one of waiting) one.settle(null);
  }

  #job(file: Blob, remedies: readonly Remedy[]) {
    let key = this.#keys.get(file);
    if (key === undefined) {
      key = `file-${this.#next}`;
      this.#keys.set(file, key);
    }
    return { job: this.#next++, key, file, remedies };
  }

  #ask(request: WorkerRequest, signal: AbortSignal | undefined): Promise<WorkerAnswer | null> {
    if (this.#refused) return Promise.resolve(null);
    return new Promise((resolve, reject) => {
      const leave = () => {
        this.#drop(waiting);
        reject(signal?.reason);
      };
      const waiting: Waiting = {
        request,
        settle: (answer) => {
          signal?.removeEventListener('abort', leave);
          resolve(answer);
        },
      };
      if (signal?.aborted) {
        reject(signal.reason);
        return;
      }
      signal?.addEventListener('abort', leave, { once: true });
      this.#queue.push(waiting);
      this.#step();
    });
  }

  #step(): void {
    if (this.#running) return;
    const next = this.#queue.shift();
    clearTimeout(this.#idle);
    if (!next) {
      if (this.#worker) this.#idle = setTimeout(() => this.#stop(), IDLE_MS);
      return;
    }
    const worker = this.#start();
    if (!worker) {
      next.settle(null);
      this.#step();
      return;
    }
    this.#running = next;
    this.#silence = setTimeout(() => this.#fail(), SILENCE_MS);
    worker.postMessage(next.request);
  }

  #start(): Worker | null {
    if (this.#worker || this.#refused) return this.#worker;
    try {
      this.#worker = this.#make();
    } catch {
      this.#refused = true; // by a policy: it will not be otherwise on this page
      return null;
    }
    this.#worker.addEventListener('message', (event: MessageEvent<WorkerAnswer>) => this.#take(event.data));
    this.#worker.addEventListener('error', () => {
      // a policy that will not have it brought in says so only now, and would the next time
      this.#refused ||= brought !== undefined && !this.#answered;
      this.#fail();
    });
    return this.#worker;
  }

  #take(answer: WorkerAnswer): void {
    const { request, settle } = this.#running ?? {};
    this.#answered = true;
    if (!request || !settle || request.job !== answer.job) return;
    clearTimeout(this.#silence);
    this.#running = null;
    settle(answer);
    this.#step();
  }

  /** The worker died or never came: the shop reads this file. */
  #fail(): void {
    const { settle } = this.#running ?? {};
    this.#stop();
    this.#running = null;
    settle?.(null);
    this.#step();
  }

  /** Nobody waits for this any more. What runs cannot be told to stop, so its worker ends. */
  #drop(waiting: Waiting): void {
    const at = this.#queue.indexOf(waiting);
    if (at >= 0) this.#queue.splice(at, 1);
    else if (this.#running === waiting) {
      this.#stop();
      this.#running = null;
      this.#step();
    }
  }

  #stop(): void {
    clearTimeout(this.#silence);
    clearTimeout(this.#idle);
    this.#worker?.terminate();
    this.#worker = null;
  }
}

/**
 * A worker's script has to be of the page's own origin: where the slip comes from another, a line made here brings it in.
 */
function atHome(url: string): string {
  if (new URL(url).origin === location.origin) return url;
  brought ??= URL.createObjectURL(new Blob([`import ${JSON.stringify(url)}`], { type: 'text/javascript' }));
  return brought;
}
let brought: string | undefined;

type ScriptUrlPolicy = { createScriptURL(url: string): string };
type PolicyFactory = {
  createPolicy(name: string, rules: { createScriptURL(url: string): string }): ScriptUrlPolicy;
};

/**
 * The worker's address as a page with Trusted Types takes it: by the policy `platen-worker`, which such a page has to
 * name beside `lit-html`; without it there is no worker.
 */
function scriptUrl(url: string): string {
  const factory = (globalThis as { trustedTypes?: PolicyFactory }).trustedTypes;
  policy ??= factory?.createPolicy('platen-worker', { createScriptURL: (own) => own });
  return policy ? policy.createScriptURL(url) : url;
}
let policy: ScriptUrlPolicy | undefined;
