/**
 * Undo and redo over immutable values. Changes that share a `group` (a drag, typing in one field) become one step.
 */
export class History<T> {
  #past: T[] = [];
  #future: T[] = [];
  #group: string | null = null;
  #present: T;
  readonly #limit: number;

  /** @param limit most steps kept, default 200. */
  constructor(present: T, limit = 200) {
    this.#present = present;
    this.#limit = limit;
  }

  get present(): T {
    return this.#present;
  }
  get canUndo(): boolean {
    return this.#past.length > 0;
  }
  get canRedo(): boolean {
    return this.#future.length > 0;
  }

  push(next: T, group: string | null = null): void {
    if (group === null || group !== this.#group) {
      this.#past.push(this.#present);
      if (this.#past.length > this.#limit) this.#past.shift();
    }
    this.#group = group;
    this.#present = next;
    this.#future = [];
  }

  /** Ends the group: the next change is a step of its own. A group that ended where it began is no step. */
  endGroup(): void {
    if (this.#group !== null && JSON.stringify(this.#past.at(-1)) === JSON.stringify(this.#present))
      this.#past.pop();
    this.#group = null;
  }

  /** Applies a change to the present, past and future values without making a step. */
  rewrite(change: (value: T) => T): void {
    this.#past = this.#past.map(change);
    this.#present = change(this.#present);
    this.#future = this.#future.map(change);
  }

  undo(): T {
    const previous = this.#past.pop();
    if (previous !== undefined) {
      this.#future.push(this.#present);
      this.#present = previous;
    }
    this.#group = null;
    return this.#present;
  }

  redo(): T {
    const next = this.#future.pop();
    if (next !== undefined) {
      this.#past.push(this.#present);
      this.#present = next;
    }
    this.#group = null;
    return this.#present;
  }

  reset(present: T): void {
    this.#past = [];
    this.#future = [];
    this.#group = null;
    this.#present = present;
  }
}
