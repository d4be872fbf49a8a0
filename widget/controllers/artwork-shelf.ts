import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { ArtworkAnswer, ArtworkFacts, PixelBox, Remedy, SourceInfo } from '../../src/contract/index.ts';
import { UNSENT } from './draft.ts';
import { type ShopApi, ShopProblem } from './shop-api.ts';

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

/** Looks at a file in the page, before it is sent: what a worker found. Null when it cannot be read there. */
export type LocalReader = (
  file: File,
  signal: AbortSignal,
) => Promise<{ facts: ArtworkFacts; preview: string } | null>;

const mendKey = (id: string, remedies: readonly Remedy[]): string => `${id} ${JSON.stringify(remedies)}`;
const RETRY_MS = [500, 2_000, 5_000, 10_000];

/**
 * The customer's files: reads each in the page at once, sends it, and knows its facts and preview, plain and mended.
 * A cut connection is tried again by itself; nothing is lost by it.
 */
export class ArtworkShelf implements ReactiveController {
  #host: ReactiveControllerHost;
  #api: () => ShopApi | null;
  #items = new Map<string, ShelfItem>();
  #files = new Map<string, File>();
  #mended = new Map<string, Mended | 'asked' | 'failed'>();
  #leaving = new AbortController();
  #made: string[] = [];
  #next = 1;
  readLocally: LocalReader | null = null;
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
      api
        .mend(id, remedies, this.#leaving.signal)
        .then((answer) => {
          this.#mended.set(key, { facts: answer.facts, preview: api.resolve(answer.preview) });
          this.#host.requestUpdate();
        })
        .catch(() => {
          if (this.#leaving.signal.aborted) this.#mended.delete(key);
          else this.#mended.set(key, 'failed');
          this.#host.requestUpdate();
        });
      return null;
    }
    return typeof known === 'string' ? null : known;
  }

  #change(item: ShelfItem, change: Partial<ShelfItem>): void {
    Object.assign(item, change);
    this.#host.requestUpdate();
  }

  /** Takes a file in; returns the id to place it by. */
  add(file: File): ShelfItem {
    const item: ShelfItem = {
      id: `${UNSENT}${this.#next++}`,
      name: file.name,
      sent: 0,
      state: 'reading',
      problem: null,
      facts: null,
      source: null,
      preview: null,
    };
    this.#items.set(item.id, item);
    this.#files.set(item.id, file);
    this.#host.requestUpdate();
    void this.#readHere(item, file);
    void this.#send(item, file);
    return item;
  }

  async #readHere(item: ShelfItem, file: File): Promise<void> {
    const read = await this.readLocally?.(file, this.#leaving.signal).catch(() => null);
    if (!read || item.state === 'ready') return;
    this.#made.push(read.preview);
    this.#change(item, { facts: item.facts ?? read.facts, preview: item.preview ?? read.preview });
  }

  async #send(item: ShelfItem, file: File): Promise<void> {
    this.#change(item, { state: 'sending', problem: null, sent: 0 });
    for (let attempt = 0; ; attempt++) {
      const api = this.#api();
      if (!api) return;
      try {
        const answer = await api.upload(file, (sent) => this.#change(item, { sent }), this.#leaving.signal);
        this.#sentAs(item, answer, api);
        return;
      } catch (error) {
        if (this.#leaving.signal.aborted) return;
        const problem = error instanceof ShopProblem ? error : new ShopProblem('server-fault', String(error));
        const wait = RETRY_MS[attempt];
        const passing =
          problem.code === 'offline' || problem.code === 'busy' || problem.code === 'too-many-requests';
        this.#change(item, { problem });
        if (!passing || wait === undefined) {
          this.#change(item, { state: 'failed' });
          return;
        }
        await new Promise((resolve) =>
          setTimeout(resolve, problem.retryAfterS ? problem.retryAfterS * 1000 : wait),
        );
      }
    }
  }

  #sentAs(item: ShelfItem, answer: ArtworkAnswer, api: ShopApi): void {
    const oldId = item.id;
    this.#items.delete(oldId);
    this.#files.delete(oldId);
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

  drop(id: string): void {
    this.#items.delete(id);
    this.#files.delete(id);
    this.#host.requestUpdate();
  }

  /** Asks the shop about artworks a restored slip names. */
  async recall(ids: readonly string[]): Promise<void> {
    const api = this.#api();
    if (!api) return;
    await Promise.all(
      ids
        .filter((id) => !this.#items.has(id) && !id.startsWith(UNSENT))
        .map(async (id) => {
          const item: ShelfItem = {
            id,
            name: '',
            sent: 1,
            state: 'reading',
            problem: null,
            facts: null,
            source: null,
            preview: null,
          };
          this.#items.set(id, item);
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
            this.#items.delete(id);
            if (error instanceof ShopProblem && error.code === 'offline')
              setTimeout(() => void this.recall([id]), 3_000);
            this.#host.requestUpdate();
          }
        }),
    );
  }
}
