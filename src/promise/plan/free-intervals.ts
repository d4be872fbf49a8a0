import type { OpenHours } from '../calendar/open-hours.ts';
import { upperBound } from './upper-bound.ts';

/** An interval on a scale of open seconds (see `OpenHours`): [from, to). */
export type OpenInterval = readonly [fromOpenS: number, toOpenS: number];

/** Free intervals, ascending and disjoint. Read from the source only as far as they are needed, and cached. */
export class FreeIntervals {
  readonly #hours: OpenHours;
  readonly #fromOpenS: number;
  readonly #source: Iterator<OpenInterval>;
  readonly #from: number[] = [];
  readonly #to: number[] = [];
  #done = false;

  /** @param source the free intervals from `fromOpenS` on; the last may be endless */
  constructor(hours: OpenHours, fromOpenS: number, source: Iterator<OpenInterval>) {
    this.#hours = hours;
    this.#fromOpenS = fromOpenS;
    this.#source = source;
  }

  /** Whether the free intervals from a position on are known. */
  covers(openS: number): boolean {
    return openS >= this.#fromOpenS;
  }

  /** The first start at or after `fromOpenS` with `lengthS` free seconds in a row; past the total of the hours if none. */
  firstFit(fromOpenS: number, lengthS: number): number {
    for (let i = upperBound(this.#to, fromOpenS); i < this.#from.length || this.#readNext(); i++) {
      const start = Math.max(fromOpenS, this.#from[i]!);
      if (this.#to[i]! - start >= lengthS) return start;
    }
    return this.#hours.totalS + 1;
  }

  #readNext(): boolean {
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
