import type { FindingInput } from '../../src/artwork/index.ts';
import type { Finding, Remedy } from '../../src/contract/index.ts';
import { type LibrarySource, remedyKey } from './local-reader.ts';

/** What the page's own run of the artwork check finds, before the shop has answered. */
export class LocalFindings {
  readonly #source: LibrarySource;
  /** null while the check is running. */
  readonly #found = new Map<string, readonly Finding[] | null>();

  constructor(source: LibrarySource) {
    this.#source = source;
  }

  /** Null until the findings are known. Checks once for each artwork, remedies, size (to the mm), cloth and methods. */
  get(
    id: string,
    remedies: readonly Remedy[],
    input: Omit<FindingInput, 'facts'>,
  ): readonly Finding[] | null {
    const file = this.#source.file(id);
    const reader = this.#source.localReader();
    if (!file || !reader) return null;
    const rounded = { ...input, placedWidthMm: Math.max(1, Math.round(input.placedWidthMm)) };
    const methods = rounded.methods.map((method) => method.id);
    const key = `${remedyKey(id, remedies)} ${rounded.clothHex} ${rounded.placedWidthMm} ${methods}`;
    const known = this.#found.get(key);
    if (known !== undefined) return known;
    this.#found.set(key, null);
    void reader
      .findings(file, remedies, rounded, this.#source.signal())
      .then((findings) => {
        if (!findings) return;
        this.#found.set(key, findings);
        this.#source.changed();
      })
      .catch(() => this.#found.delete(key));
    return null;
  }

  /** Keeps what was found for a file that now has another id. */
  renameArtwork(oldId: string, newId: string): void {
    for (const [key, findings] of [...this.#found])
      if (key.startsWith(`${oldId} `)) this.#found.set(newId + key.slice(oldId.length), findings);
  }
}
