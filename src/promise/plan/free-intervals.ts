import type { OpenHours } from '../calendar/open-time.ts';
import { upperBound } from './upper-bound.ts';

/** Stretches of open seconds, ascending and apart, taken from a source as far as they are asked for, and kept. */
export class FreeIntervals {
  readonly #hours: OpenHours;
  readonly #fromWork: number;
  readonly #source: Iterator<readonly [from: number, to: number]>;
  readonly #from: number[] = [];
  readonly #to: number[] = [];
  #done = false;

  /** @param source stretches from `fromWork` on; the last may be endless */
  constructor(hours: OpenHours, fromWork: number, source: Iterator<readonly [from: number, to: number]>) {
    this.#hours = hours;
    this.#fromWork = fromWork;
    this.#source = source;
  }

  /** Whether what is free from here on is known. */
  reachesBackTo(work: number): boolean {
    return work >= this.#fromWork;
  }

  /** The first start, from `fromWork` on, of so many seconds in one stretch; over the total of hours: none. */
  first(fromWork: number, lengthS: number): number {
    for (let i = upperBound(this.#to, fromWork); i < this.#from.length || this.#more(); i++) {
      const start = Math.max(fromWork, this.#from[i]!);
      if (this.#to[i]! - start >= lengthS) return start;
    }
    return this.#hours.totalS + 1;
  }

  #more(): boolean {
    if (this.#done) return false;
    const next = this.#source.next();
    if (next.done === true) {
      this.#done = true;
      return false;
    }
    this.#from.push(next.value[0]);
    this.#to.push(next.value[1]);
    return true;
  }
}
