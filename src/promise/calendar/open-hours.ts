import type { Interval } from './intervals.ts';
import type { EpochS } from './time.ts';

const DAY_S = 86_400;

/**
 * Open hours laid end to end. `openSecondsAt` maps an instant to the number of open seconds before it, and `startAt`
 * and `endAt` map back. On this scale there are no closed hours, so a step that pauses overnight is one interval.
 */
export class OpenHours {
  /** number of open intervals. */
  readonly count: number;
  /** interval i is open from `opens[i]` to `closes[i]`. */
  readonly opens: Float64Array;
  readonly closes: Float64Array;
  /** all open seconds. */
  readonly totalS: number;
  /** open seconds before `opens[i]`. */
  readonly #openBefore: Float64Array;
  readonly #origin: EpochS;
  /** for each whole day after the first opening, the last interval that opens by the start of that day. */
  readonly #indexOfDay: Int32Array;

  /** @param intervals merged */
  constructor(intervals: readonly Interval[]) {
    this.count = intervals.length;
    this.opens = new Float64Array(intervals.length);
    this.closes = new Float64Array(intervals.length);
    this.#openBefore = new Float64Array(intervals.length);
    let totalS = 0;
    intervals.forEach(({ from, to }, i) => {
      this.opens[i] = from;
      this.closes[i] = to;
      this.#openBefore[i] = totalS;
      totalS += to - from;
    });
    this.totalS = totalS;
    this.#origin = intervals[0]?.from ?? 0;
    const lastOpen = intervals.at(-1)?.from ?? 0;
    this.#indexOfDay = new Int32Array(
      intervals.length === 0 ? 0 : Math.floor((lastOpen - this.#origin) / DAY_S) + 1,
    );
    for (let day = 0, i = 0; day < this.#indexOfDay.length; day++) {
      while (i + 1 < intervals.length && intervals[i + 1]!.from <= this.#origin + day * DAY_S) i++;
      this.#indexOfDay[day] = i;
    }
  }

  /** Open seconds before an instant. */
  openSecondsAt(at: EpochS): number {
    if (this.count === 0 || at <= this.#origin) return 0;
    const i = this.#indexAt(at);
    const close = this.closes[i]!;
    return this.#openBefore[i]! + (at < close ? at : close) - this.opens[i]!;
  }

  /** The instant at which work starts that has `openS` open seconds before it; Infinity past the last closing. */
  startAt(openS: number): EpochS {
    if (openS >= this.totalS) return Number.POSITIVE_INFINITY;
    const i = this.#indexOfOpenSecond(openS);
    return this.opens[i]! + openS - this.#openBefore[i]!;
  }

  /**
   * The instant at which work ends that has `openS` open seconds before its end; Infinity past the last closing.
   * Differs from `startAt` at a closing time, where work ends but the next work starts only at the next opening.
   */
  endAt(openS: number): EpochS {
    if (openS > this.totalS || this.count === 0) return Number.POSITIVE_INFINITY;
    let i = this.#indexOfOpenSecond(openS);
    if (i > 0 && this.#openBefore[i] === openS) i--;
    return this.opens[i]! + openS - this.#openBefore[i]!;
  }

  /** The open intervals between two instants. */
  between(from: EpochS, to: EpochS): Interval[] {
    const intervals: Interval[] = [];
    if (this.count === 0) return intervals;
    for (let i = this.#indexAt(from); i < this.count && this.opens[i]! < to; i++) {
      const start = Math.max(from, this.opens[i]!);
      const end = Math.min(to, this.closes[i]!);
      if (end > start) intervals.push({ from: start, to: end });
    }
    return intervals;
  }

  /** Index of the last interval that opens at or before an instant (at least 0). */
  #indexAt(at: EpochS): number {
    const day = Math.floor((at - this.#origin) / DAY_S);
    if (day < 0) return 0;
    let i = day < this.#indexOfDay.length ? this.#indexOfDay[day]! : this.#indexOfDay.at(-1)!;
    while (i + 1 < this.count && this.opens[i + 1]! <= at) i++;
    return i;
  }

  /** Index of the last interval with at most `openS` open seconds before it. */
  #indexOfOpenSecond(openS: number): number {
    const openBefore = this.#openBefore;
    let low = 0;
    let high = this.count - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (openBefore[middle]! <= openS) low = middle;
      else high = middle - 1;
    }
    return low;
  }
}
