import type { Draft } from './draft.ts';
import { readDraft } from './read-draft.ts';

const SAVE_DELAY_MS = 150;

/**
 * Saves the draft in the browser, so that a reload or crash loses nothing: in session storage, so that two tabs do not
 * overwrite each other's draft, and in local storage for the next visit.
 */
export class DraftStorage {
  readonly #key: string;
  readonly #changed: () => void;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #unsaved: Draft | null = null;
  #isFull = false;

  /**
   * @param scope tells one slip from another: API, shop and the element's id
   * @param changed called when `isFull` has changed
   */
  constructor(scope: string, changed: () => void = () => {}) {
    this.#key = `platen-order:${scope}`;
    this.#changed = changed;
  }

  /** Whether the last draft could not be saved: storage is full or forbidden. */
  get isFull(): boolean {
    return this.#isFull;
  }

  load(): Draft | null {
    return this.#each((storage) => readDraft(JSON.parse(storage.getItem(this.#key) ?? 'null')))[0] ?? null;
  }

  /** Saves the draft soon; a burst of changes is one write. */
  save(draft: Draft): void {
    this.#unsaved = draft;
    this.#timer ??= setTimeout(() => this.flush(), SAVE_DELAY_MS);
  }

  /** Saves now what is still to be saved. */
  flush(): void {
    this.#cancelTimer();
    const draft = this.#unsaved;
    if (!draft) return;
    this.#unsaved = null;
    const text = JSON.stringify(draft);
    const saved = this.#each((storage) => {
      storage.setItem(this.#key, text);
      return true;
    });
    // an older draft must not come back from a storage that has no room for this one
    if (saved.length > 0)
      this.#each((storage) => storage.getItem(this.#key) !== text && storage.removeItem(this.#key));
    if (this.#isFull === saved.length > 0) {
      this.#isFull = !this.#isFull;
      this.#changed();
    }
  }

  /** An order sent but not answered yet, saved beside the draft; null when there is none that can be read. */
  get pendingOrder(): unknown {
    return this.#each((storage) => JSON.parse(storage.getItem(`${this.#key} sent`) ?? 'null'))[0] ?? null;
  }
  set pendingOrder(order: object | null) {
    this.#each((storage) => {
      storage.removeItem(`${this.#key} sent`);
      if (order) storage.setItem(`${this.#key} sent`, JSON.stringify(order));
    });
  }

  clear(): void {
    this.#cancelTimer();
    this.#unsaved = null;
    this.#each((storage) => storage.removeItem(this.#key));
  }

  #cancelTimer(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }

  /** What `work` returns for each storage, session storage first; nothing for one where it throws. */
  #each<T>(work: (storage: Storage) => T): NonNullable<T>[] {
    return (['sessionStorage', 'localStorage'] as const).flatMap((name) => {
      try {
        return work(globalThis[name]) ?? [];
      } catch {
        return [];
      }
    }) as NonNullable<T>[];
  }
}
