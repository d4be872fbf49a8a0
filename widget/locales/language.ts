import type { ReactiveControllerHost } from 'lit';
import type { PublicCatalog } from '../../src/catalog/index.ts';
import type { Units } from '../format/index.ts';
import { type LoadedWords, loadWords } from './load-words.ts';

/** How long after a language that did not arrive it is asked for again. */
const RETRY_MS = 3_000;

/** The language spoken now. While another is on its way the last one stays. */
export class Language {
  #host: ReactiveControllerHost & { readonly isConnected: boolean };
  #asked = '';
  words: LoadedWords | null = null;

  constructor(host: ReactiveControllerHost & { readonly isConnected: boolean }) {
    this.#host = host;
  }

  /** Sees to it that this language speaks, of this catalog and in these units. */
  load(language: string, units: Units, catalog: PublicCatalog | null): void {
    const asked = `${language} ${units} ${catalog?.version ?? 0}`;
    if (this.#asked === asked) return;
    this.#asked = asked;
    loadWords(language, units, catalog, () => this.#host.requestUpdate(), this.words).then(
      (words) => {
        if (this.#asked !== asked) return;
        this.words = words;
        this.#host.requestUpdate();
      },
      () => {
        // no language arrived: the line is cut; asked again while there is nothing to say it with
        if (this.#asked !== asked) return;
        this.#asked = '';
        setTimeout(() => this.#host.isConnected && this.#host.requestUpdate(), RETRY_MS);
      },
    );
  }
}
