/** Values by text, each computed when first asked for. At `maxEntries` the oldest one makes room for the next. */
export class TextCache<V> {
  readonly #values = new Map<string, V>();
  readonly #maxEntries: number;

  constructor(maxEntries: number) {
    this.#maxEntries = maxEntries;
  }

  get(text: string, compute: (text: string) => V): V {
    let value = this.#values.get(text);
    if (value === undefined) {
      value = compute(text);
      if (this.#values.size >= this.#maxEntries) this.#values.delete(this.#values.keys().next().value!);
      this.#values.set(text, value);
    }
    return value;
  }
}
