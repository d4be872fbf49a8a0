import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { PublicCatalog } from '../../src/catalog/index.ts';
import type { EarlyAnswer } from './prefetched-catalog.ts';
import { asProblem, type ShopApi, type ShopProblem } from './shop-api.ts';

/** How long after the shop could not be reached the catalog is requested again. */
const RETRY_MS = 2_000;

/** Loads the shop's catalog, again and again while there is no connection. */
export class CatalogController implements ReactiveController {
  /** why there is no catalog. */
  problem: ShopProblem | null = null;
  readonly #host: ReactiveControllerHost;
  readonly #loaded: (catalog: PublicCatalog) => void;
  readonly #failed: (problem: ShopProblem) => void;
  #running: AbortController | null = null;
  #retry: ReturnType<typeof setTimeout> | undefined;

  constructor(
    host: ReactiveControllerHost,
    loaded: (catalog: PublicCatalog) => void,
    failed: (problem: ShopProblem) => void,
  ) {
    this.#host = host;
    this.#loaded = loaded;
    this.#failed = failed;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#cancel();
  }

  /** @param early the request the script for pages has made, used if it was for the same catalog */
  async load(api: ShopApi, early?: EarlyAnswer): Promise<void> {
    this.#cancel();
    this.#running = new AbortController();
    const { signal } = this.#running;
    this.problem = null;
    try {
      const catalog = await api.catalog(signal, early);
      // an early request cannot be aborted
      if (!signal.aborted) this.#loaded(catalog);
    } catch (error) {
      if (signal.aborted) return;
      this.problem = asProblem(error);
      this.#failed(this.problem);
      if (this.problem.code === 'offline') this.#retry = setTimeout(() => void this.load(api), RETRY_MS);
    }
    this.#host.requestUpdate();
  }

  #cancel(): void {
    this.#running?.abort();
    clearTimeout(this.#retry);
  }
}
