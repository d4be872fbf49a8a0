/** Code that is fetched when it is first needed. While it is on its way `value` is null; then the page is told. */
export class Lazy<T> {
  readonly #load: () => Promise<T>;
  readonly #changed: () => void;
  #value: T | null = null;
  #asked: Promise<T> | null = null;

  constructor(load: () => Promise<T>, changed: () => void) {
    this.#load = load;
    this.#changed = changed;
  }

  /** Is it there? Asks for nothing. */
  get here(): boolean {
    return this.#value !== null;
  }

  /** The code, or null until it is there; asking for it fetches it. */
  get value(): T | null {
    if (!this.#value) void this.fetch().catch(() => {});
    return this.#value;
  }

  /** Fetches it now. Rejects when it does not arrive; the next call tries again. */
  fetch(): Promise<T> {
    this.#asked ??= this.#load().then(
      (value) => {
        this.#value = value;
        this.#changed();
        return value;
      },
      (error: unknown) => {
        this.#asked = null;
        throw error;
      },
    );
    return this.#asked;
  }
}
