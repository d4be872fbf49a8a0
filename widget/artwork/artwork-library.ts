import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { FindingInput } from '../../src/artwork/index.ts';
import type {
  ArtworkAnswer,
  ArtworkFacts,
  Finding,
  PixelBox,
  Remedy,
  SourceInfo,
} from '../../src/contract/index.ts';
import { UNSENT } from '../draft/draft.ts';
import { asProblem, type ShopApi, ShopProblem } from '../shop/shop-api.ts';
import type { KeptFile } from './file-storage.ts';

/** What is known of one file the customer brought, or that came back with a saved slip. */
export type ShelfItem = {
  /** `unsent-…` until the shop has it, then the content hash. */
  id: string;
  name: string;
  /** share sent, 0 to 1; 1 when the shop has it. */
  sent: number;
  state: 'reading' | 'sending' | 'ready' | 'failed';
  problem: ShopProblem | null;
  facts: ArtworkFacts | null;
  source: SourceInfo | null;
  /** something an <img> or the drawing can show: address of the preview. */
  preview: string | null;
};

/** One artwork as mended: facts and preview for a list of remedies. */
export type Mended = { facts: ArtworkFacts; preview: string };

/** What can be found out about a file in the page, before it is sent. Answers are null where only the shop can say. */
export type LocalReader = {
  read(file: File, remedies: readonly Remedy[], signal: AbortSignal): Promise<Mended | null>;
  find(
    file: File,
    remedies: readonly Remedy[],
    input: Omit<FindingInput, 'facts'>,
    signal: AbortSignal,
  ): Promise<readonly Finding[] | null>;
};

const mendKey = (id: string, remedies: readonly Remedy[]): string => `${id} ${JSON.stringify(remedies)}`;
/** Waits between attempts to send; after the last one the customer is asked. */
const RETRY_MS = [500, 2_000, 5_000, 10_000, 20_000];
/** How long after an artwork that could not be asked for it is asked for again. */
const RECALL_MS = 3_000;
/** Problems that pass by themselves. */
const PASSING = new Set(['offline', 'busy', 'too-many-requests', 'upload-offset']);

/** Code and storage that are fetched with the first file. */
export type Sending = {
  readonly sendFile: typeof import('./upload-file.ts').sendFile;
  /** where files wait for the shop through a reload; null: nowhere. */
  readonly keeper: typeof import('./file-storage.ts') | null;
};

/**
 * The customer's files: reads each in the page at once, sends it, and knows its facts and preview, plain and mended.
 * A cut connection is tried again by itself; nothing is lost by it.
 */
export class ArtworkLibrary implements ReactiveController {
  #host: ReactiveControllerHost;
  #api: () => ShopApi | null;
  #items = new Map<string, ShelfItem>();
  #files = new Map<string, File>();
  #mended = new Map<string, Mended | 'asked' | 'failed'>();
  #found = new Map<string, readonly Finding[] | null>();
  #leaving = new AbortController();
  #made: string[] = [];
  /** asked to go on at once: the line is back. */
  #online = new EventTarget();
  /** how files are sent. */
  sending: (() => Promise<Sending>) | null = null;
  /** called when a file a restored slip names is nowhere to be had. */
  onLost: ((id: string) => void) | null = null;
  local: LocalReader | null = null;
  /** called when the shop has taken a file: its old id gives way to the new. */
  onSent: ((oldId: string, item: ShelfItem) => void) | null = null;

  constructor(host: ReactiveControllerHost, api: () => ShopApi | null) {
    this.#host = host;
    this.#api = api;
    host.addController(this);
  }

  hostConnected(): void {
    if (this.#leaving.signal.aborted) this.#leaving = new AbortController();
  }

  hostDisconnected(): void {
    this.#leaving.abort();
    for (const address of this.#made.splice(0)) URL.revokeObjectURL(address);
  }

  get items(): readonly ShelfItem[] {
    return [...this.#items.values()];
  }

  item(id: string): ShelfItem | undefined {
    return this.#items.get(id);
  }

  /** Facts of an artwork as mended; undefined while not known. Asks the shop when needed. */
  factsOf(id: string, remedies: readonly Remedy[]): ArtworkFacts | undefined {
    const item = this.#items.get(id);
    if (remedies.length === 0) return item?.facts ?? undefined;
    return this.#mend(id, remedies)?.facts ?? item?.facts ?? undefined;
  }

  /** Facts of an artwork exactly as mended; null until they are known. */
  knownFacts(id: string, remedies: readonly Remedy[]): ArtworkFacts | null {
    if (remedies.length === 0) return this.#items.get(id)?.facts ?? null;
    return this.#mend(id, remedies)?.facts ?? null;
  }

  /** Address of a picture of an artwork as mended; while that is being made, of the plain one. */
  previewOf(id: string, remedies: readonly Remedy[]): string | null {
    const item = this.#items.get(id);
    if (remedies.length === 0) return item?.preview ?? null;
    return this.#mend(id, remedies)?.preview ?? item?.preview ?? null;
  }

  /** Box of the ink in the picture of `previewOf`. */
  inkBoxOf(id: string, remedies: readonly Remedy[]): PixelBox | null {
    return this.factsOf(id, remedies)?.inkBox ?? null;
  }

  #mend(id: string, remedies: readonly Remedy[]): Mended | null {
    if (id.startsWith(UNSENT)) return null;
    const key = mendKey(id, remedies);
    const known = this.#mended.get(key);
    if (known === undefined) {
      const api = this.#api();
      if (!api) return null;
      this.#mended.set(key, 'asked');
      void this.#mendBoth(api, key, id, remedies);
      return null;
    }
    return typeof known === 'string' ? null : known;
  }

  /** Mended in the page, where that can be done, to be seen at once; then by the shop, whose word counts. */
  async #mendBoth(api: ShopApi, key: string, id: string, remedies: readonly Remedy[]): Promise<void> {
    const { signal } = this.#leaving;
    const file = this.#files.get(id);
    let settled = false;
    if (file && this.local)
      void this.local
        .read(file, remedies, signal)
        .then((local) => {
          if (!local) return;
          this.#made.push(local.preview);
          if (settled) return;
          this.#mended.set(key, local);
          this.#host.requestUpdate();
        })
        .catch(() => {});
    try {
      const answer = await api.mend(id, remedies, signal);
      this.#mended.set(key, { facts: answer.facts, preview: api.resolve(answer.preview) });
    } catch {
      if (signal.aborted) this.#mended.delete(key);
      else if (typeof this.#mended.get(key) === 'string') this.#mended.set(key, 'failed');
    }
    settled = true;
    this.#host.requestUpdate();
  }

  /**
   * What the page itself notices about a file the customer brought here, before the shop has said so; null while not
   * known. Asked once per artwork, size (to the millimeter), cloth, methods and mends.
   */
  findingsHere(
    id: string,
    remedies: readonly Remedy[],
    input: Omit<FindingInput, 'facts'>,
  ): readonly Finding[] | null {
    const file = this.#files.get(id);
    if (!file || !this.local || !this.#items.get(id)?.facts) return null;
    const rough = { ...input, placedWidthMm: Math.max(1, Math.round(input.placedWidthMm)) };
    const methods = rough.methods.map((method) => method.id);
    const key = `${mendKey(id, remedies)} ${rough.clothHex} ${rough.placedWidthMm} ${methods}`;
    const known = this.#found.get(key);
    if (known !== undefined) return known;
    this.#found.set(key, null);
    void this.local
      .find(file, remedies, rough, this.#leaving.signal)
      .then((findings) => {
        if (!findings) return;
        this.#found.set(key, findings);
        this.#host.requestUpdate();
      })
      .catch(() => this.#found.delete(key));
    return null;
  }

  #change(item: ShelfItem, change: Partial<ShelfItem>): void {
    Object.assign(item, change);
    this.#host.requestUpdate();
  }

  /** Takes a file in; returns the id to place it by. */
  add(file: File): ShelfItem {
    // unlike any other page's, since pages share what they keep
    const item = this.#shelve(
      `${UNSENT}${Date.now().toString(36)}-${Math.random().toString(36).slice(2, 8)}`,
    );
    this.#begin(item, file);
    return item;
  }

  #shelve(id: string): ShelfItem {
    const item: ShelfItem = {
      id,
      name: '',
      sent: 0,
      state: 'reading',
      problem: null,
      facts: null,
      source: null,
      preview: null,
    };
    this.#items.set(id, item);
    return item;
  }

  #begin(item: ShelfItem, file: File): void {
    this.#files.set(item.id, file);
    this.#change(item, { name: file.name });
    void this.#readHere(item, file);
    void this.#send(item, file);
  }

  async #readHere(item: ShelfItem, file: File): Promise<void> {
    const read = await this.local?.read(file, [], this.#leaving.signal).catch(() => null);
    if (!read || item.state === 'ready') return;
    this.#made.push(read.preview);
    this.#change(item, { facts: item.facts ?? read.facts, preview: item.preview ?? read.preview });
  }

  async #send(item: ShelfItem, file: File): Promise<void> {
    this.#change(item, { state: 'sending', problem: null });
    const { signal } = this.#leaving;
    const { id } = item;
    let upload: string | null = null;
    for (let attempt = 0; ; ) {
      const api = this.#api();
      if (!api) return;
      const before = item.sent;
      try {
        const { sendFile, keeper } = await this.#code();
        const keep = (artwork: string | null): Promise<void> | undefined =>
          keeper?.keepFile({ id, file: artwork ? null : file, upload, artwork, at: Date.now() });
        const answer = await alone(id, signal, async () => {
          // a page beside this one may have been at it, or this one before a reload
          const kept = await keeper?.keptFile(id);
          if (kept?.artwork) return api.artwork(kept.artwork, signal);
          upload = kept?.upload ?? upload;
          if (!kept?.file) void keep(null);
          const way = {
            upload,
            begun: (begun: string) => {
              upload = begun;
              void keep(null);
            },
          };
          const done = await sendFile(
            api,
            file,
            way,
            (sent) => this.#change(item, { sent, problem: null }),
            signal,
          );
          await keep(done.id);
          return done;
        });
        this.#sentAs(item, answer, api);
        return;
      } catch (error) {
        if (signal.aborted) return;
        const problem = asProblem(error);
        attempt = item.sent > before ? 0 : attempt + 1;
        const wait = RETRY_MS[attempt - 1] ?? RETRY_MS[0]!;
        const again = PASSING.has(problem.code) && attempt <= RETRY_MS.length;
        this.#change(item, { problem, state: again ? 'sending' : 'failed' });
        if (!again) return;
        await this.#pause(problem.retryAfterS ? problem.retryAfterS * 1000 : wait);
      }
    }
  }

  /** The code that sends, which is itself fetched over a line that may be cut. */
  async #code(): Promise<Sending> {
    if (!this.sending) throw new ShopProblem('server-fault', 'nothing here sends files');
    return this.sending().catch((error: unknown) => {
      throw new ShopProblem('offline', String(error));
    });
  }

  #pause(ms: number): Promise<void> {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, ms);
      this.#online.addEventListener(
        'online',
        () => {
          clearTimeout(timer);
          resolve();
        },
        { once: true },
      );
    });
  }

  /** The line is back: what waited goes on, and what was given up for want of it is sent again. */
  online(): void {
    this.#online.dispatchEvent(new Event('online'));
    for (const { id, state, problem } of this.items)
      if (state === 'failed' && problem?.code === 'offline') this.retry(id);
  }

  #sentAs(item: ShelfItem, answer: ArtworkAnswer, api: ShopApi): void {
    const oldId = item.id;
    this.#items.delete(oldId);
    const file = this.#files.get(oldId);
    this.#files.delete(oldId);
    if (file) this.#files.set(answer.id, file);
    for (const [key, found] of [...this.#found])
      if (key.startsWith(`${oldId} `)) this.#found.set(answer.id + key.slice(oldId.length), found);
    this.#change(item, {
      id: answer.id,
      sent: 1,
      state: 'ready',
      problem: null,
      facts: answer.facts,
      source: answer.source,
      preview: api.resolve(answer.preview),
    });
    this.#items.set(answer.id, item);
    this.onSent?.(oldId, item);
  }

  /** Sends a file again that the shop has not got. */
  retry(id: string): void {
    const item = this.#items.get(id);
    const file = this.#files.get(id);
    if (item && file) void this.#send(item, file);
  }

  /** Asks the shop about artworks a restored slip names. */
  async recall(ids: readonly string[]): Promise<void> {
    await Promise.all(
      ids
        .filter((id) => !this.#items.has(id))
        .map((id) => (id.startsWith(UNSENT) ? this.#recallFile(id) : this.#recallArtwork(id))),
    );
  }

  async #recallFile(id: string): Promise<void> {
    const item = this.#shelve(id);
    let kept: KeptFile | null | undefined;
    try {
      kept = await (await this.#code()).keeper?.keptFile(id);
    } catch {
      this.#askAgain(id);
      return;
    }
    const api = this.#api();
    if (kept?.file) this.#begin(item, kept.file);
    else if (kept?.artwork && api)
      await api.artwork(kept.artwork, this.#leaving.signal).then(
        (answer) => this.#sentAs(item, answer, api),
        () => this.#askAgain(id),
      );
    else {
      this.#items.delete(id);
      this.onLost?.(id);
    }
  }

  async #recallArtwork(id: string): Promise<void> {
    const api = this.#api();
    if (!api) return;
    const item = this.#shelve(id);
    item.sent = 1;
    try {
      const answer = await api.artwork(id, this.#leaving.signal);
      this.#change(item, {
        name: answer.name,
        state: 'ready',
        facts: answer.facts,
        source: answer.source,
        preview: api.resolve(answer.preview),
      });
    } catch (error) {
      if (asProblem(error).code === 'not-found') this.#items.delete(id);
      else this.#askAgain(id);
      this.#host.requestUpdate();
    }
  }

  #askAgain(id: string): void {
    this.#items.delete(id);
    if (!this.#leaving.signal.aborted) setTimeout(() => void this.recall([id]), RECALL_MS);
  }
}

/** Runs while no other page sends the same file, where the browser can tell. */
function alone<T>(id: string, signal: AbortSignal, work: () => Promise<T>): Promise<T> {
  return navigator.locks ? navigator.locks.request(`platen-order ${id}`, { signal }, work) : work();
}
