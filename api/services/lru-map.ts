/** A map that forgets what was not asked for longest. */
export class BoundedMap<K, V> {
  readonly #most: number;
  readonly #entries = new Map<K, V>();

  /** @param most entries kept, at least 1 */
  constructor(most: number) {
    this.#most = most;
  }

  get(key: K): V | undefined {
    const value = this.#entries.get(key);
    if (value !== undefined) {
      this.#entries.delete(key);
      this.#entries.set(key, value);
    }
    return value;
  }

  set(key: K, value: V): void {
    this.#entries.delete(key);
    this.#entries.set(key, value);
    if (this.#entries.size > this.#most) {
      const oldest = this.#entries.keys().next();
      if (!oldest.done) this.#entries.delete(oldest.value);
    }
  }

  delete(key: K): void {
    this.#entries.delete(key);
  }
}
