import { type Draft, readDraft } from './draft.ts';

/**
 * Keeps the slip in the browser, by shop, so that a reload or crash loses nothing: in the tab's own storage, so that
 * two tabs do not take each other's slip away, and for the next visit in the storage all tabs share.
 */
export class DraftStorage {
  readonly #key: string;
  readonly #changed: () => void;
  #timer: ReturnType<typeof setTimeout> | undefined;
  #waiting: Draft | null = null;
  #full = false;

  /**
   * @param scope what tells one slip from another: API, shop and the element's own id.
   * @param changed called when `full` has changed.
   */
  constructor(scope: string, changed: () => void = () => {}) {
    this.#key = `platen-order:${scope}`;
    this.#changed = changed;
  }

  /** The slip could not be kept: storage is full or forbidden. It lives in the page alone. */
  get full(): boolean {
    return this.#full;
  }

  load(): Draft | null {
    return this.#each((storage) => readDraft(JSON.parse(storage.getItem(this.#key) ?? 'null')))[0] ?? null;
  }

  /** Writes soon; a burst of changes is one write. */
  save(draft: Draft): void {
    this.#waiting = draft;
    this.#timer ??= setTimeout(() => this.flush(), 150);
  }

  /** Writes what waits, now. */
  flush(): void {
    this.#rest();
    const draft = this.#waiting;
    if (!draft) return;
    this.#waiting = null;
    const text = JSON.stringify(draft);
    const kept = this.#each((storage) => {
      storage.setItem(this.#key, text);
      return true;
    });
    // where the newest could not be written an older one must not come back before it
    if (kept.length > 0)
      this.#each((storage) => storage.getItem(this.#key) !== text && storage.removeItem(this.#key));
    if (this.#full === kept.length > 0) {
      this.#full = !this.#full;
      this.#changed();
    }
  }

  /** What goes with the slip until the shop has answered: an order on its way. Null: nothing, or nothing legible. */
  get sent(): unknown {
    return this.#each((storage) => JSON.parse(storage.getItem(`${this.#key} sent`) ?? 'null'))[0] ?? null;
  }
  set sent(order: object | null) {
    this.#each((storage) => {
      storage.removeItem(`${this.#key} sent`);
      if (order) storage.setItem(`${this.#key} sent`, JSON.stringify(order));
    });
  }

  clear(): void {
    this.#rest();
    this.#waiting = null;
    this.#each((storage) => storage.removeItem(this.#key));
  }

  #rest(): void {
    clearTimeout(this.#timer);
    this.#timer = undefined;
  }

  /** What each storage gave, the tab's own first; one that is full, forbidden or holds something else gives nothing. */
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
