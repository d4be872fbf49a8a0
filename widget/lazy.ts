/** Code or data that is loaded when it is first needed. */
export class Lazy<T> {
  readonly #load: () => Promise<T>;
  readonly #changed: () => void;
  #value: T | null = null;
  #loading: Promise<T> | null = null;

  /** @param changed called once the value has arrived */
  constructor(load: () => Promise<T>, changed: () => void) {
    this.#load = load;
    this.#changed = changed;
  }

  /** Whether the value has arrived; does not load it. */
  get isLoaded(): boolean {
    return this.#value !== null;
  }

  /** The value, or null until it has arrived; reading it starts loading it. */
  get value(): T | null {
    if (!this.#value) void this.fetch().catch(() => {});
    return this.#value;
  }

  /** Loads the value. Rejects when it does not arrive; the next call tries again. */
  fetch(): Promise<T> {
    this.#loading ??= this.#load().then(
      (value) => {
        this.#value = value;
        this.#changed();
        return value;
      },
      (error: unknown) => {
        this.#loading = null;
        throw error;
      },
    );
    return this.#loading;
  }
}
