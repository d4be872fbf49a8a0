import type { ReactiveControllerHost } from 'lit';
import type { PublicCatalog } from '../../src/catalog/index.ts';
import type { Units } from '../format/index.ts';
import { type LoadedWords, loadWords } from './load-words.ts';

/** How long after a language did not load it is requested again. */
const RETRY_MS = 3_000;

type Host = ReactiveControllerHost & { readonly isConnected: boolean };

/** Loads the language of the slip. Until another one has loaded, the last one stays. */
export class Language {
  readonly #host: Host;
  #requested = '';
  words: LoadedWords | null = null;

  constructor(host: Host) {
    this.#host = host;
  }

  /** Loads a language for a catalog and units, unless it was the last one requested. */
  load(language: string, units: Units, catalog: PublicCatalog | null): void {
    const request = `${language} ${units} ${catalog?.version ?? 0}`;
    if (this.#requested === request) return;
    this.#requested = request;
    loadWords(language, units, catalog, () => this.#host.requestUpdate(), this.words).then(
      (words) => {
        if (this.#requested !== request) return;
        this.words = words;
        this.#host.requestUpdate();
      },
      () => {
        // No language loaded, English included: there is no connection.
        if (this.#requested !== request) return;
        this.#requested = '';
        setTimeout(() => this.#host.isConnected && this.#host.requestUpdate(), RETRY_MS);
      },
    );
  }
}
