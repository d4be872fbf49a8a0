import { type Draft, readDraft, withoutUnsent } from './draft.ts';

/** Keeps the slip in the browser's local storage, by shop, so that a reload or crash loses nothing. */
export class Keeper {
  readonly #key: string;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #waiting: Draft | null = null;

  /** @param scope what tells one slip from another: API, shop and the element's own id. */
  constructor(scope: string) {
    this.#key = `platen-order:${scope}`;
  }

  load(): Draft | null {
    try {
      const text = localStorage.getItem(this.#key);
      return text ? withoutUnsent(readDraft(JSON.parse(text))) : null;
    } catch {
      // storage may be forbidden, or hold something else: then there is nothing to restore
      return null;
    }
  }

  /** Writes soon; a burst of changes is one write. */
  save(draft: Draft): void {
    this.#waiting = draft;
    this.#timer ??= setTimeout(() => this.flush(), 150);
  }

  /** Writes what waits, now. */
  flush(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    if (!this.#waiting) return;
    try {
      localStorage.setItem(this.#key, JSON.stringify(this.#waiting));
    } catch {
      // full or forbidden: the slip still lives in the page
    }
    this.#waiting = null;
  }

  clear(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
    this.#waiting = null;
    try {
      localStorage.removeItem(this.#key);
    } catch {
      // forbidden storage has nothing to clear
    }
  }
}
