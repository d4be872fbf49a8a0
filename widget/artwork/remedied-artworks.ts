import type { Remedy } from '../../src/contract/index.ts';
import { UNSENT } from '../draft/draft.ts';
import type { ShopApi } from '../shop/shop-api.ts';
import { type LibrarySource, type RemediedArtwork, remedyKey } from './local-reader.ts';

/** Facts and pictures of artworks with remedies applied, by the page where it can, then by the shop. */
export class RemediedArtworks {
  readonly #source: LibrarySource;
  readonly #api: () => ShopApi | null;
  readonly #ownUrl: (url: string) => void;
  readonly #known = new Map<string, RemediedArtwork | 'loading' | 'failed'>();

  /** @param ownUrl takes each object URL made, to be revoked later */
  constructor(source: LibrarySource, api: () => ShopApi | null, ownUrl: (url: string) => void) {
    this.#source = source;
    this.#api = api;
    this.#ownUrl = ownUrl;
  }

  /** Null until it is known, and for a file the shop does not have yet. The first call loads it. */
  get(id: string, remedies: readonly Remedy[]): RemediedArtwork | null {
    if (id.startsWith(UNSENT)) return null;
    const key = remedyKey(id, remedies);
    const known = this.#known.get(key);
    if (known !== undefined) return typeof known === 'string' ? null : known;
    const api = this.#api();
    if (!api) return null;
    this.#known.set(key, 'loading');
    void this.#load(api, key, id, remedies);
    return null;
  }

  /** The page's result is shown at once; the shop's replaces it. */
  async #load(api: ShopApi, key: string, id: string, remedies: readonly Remedy[]): Promise<void> {
    const signal = this.#source.signal();
    const file = this.#source.file(id);
    let settled = false;
    if (file)
      void this.#source
        .localReader()
        ?.read(file, remedies, signal)
        .then((local) => {
          if (!local) return;
          this.#ownUrl(local.preview);
          if (settled) return;
          this.#known.set(key, local);
          this.#source.changed();
        })
        .catch(() => {});
    try {
      const answer = await api.applyRemedies(id, remedies, signal);
      this.#known.set(key, { facts: answer.facts, preview: api.resolve(answer.preview) });
    } catch {
      if (signal.aborted) this.#known.delete(key);
      else if (typeof this.#known.get(key) === 'string') this.#known.set(key, 'failed');
    }
    settled = true;
    this.#source.changed();
  }
}
