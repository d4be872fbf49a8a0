import type { OpenHours } from '../calendar/open-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { FreeIntervals, type OpenInterval } from './free-intervals.ts';
import {
  CHUNK_SEGMENTS,
  type LevelChunk,
  levelChunk,
  segmentAt,
  sumOfLoads,
  withLoad,
} from './level-chunks.ts';

/**
 * The crew load over time (a resource profile): a step function in CREW_PARTS. Immutable; `with` returns a changed
 * copy that shares the chunks it did not touch. Chunks know their extremes, so that a search skips those that cannot
 * matter; a load that covers a whole chunk only changes the chunk's offset.
 */
export class CrewProfile {
  readonly #chunks: readonly LevelChunk[];
  /** start of each chunk; the first is -Infinity. */
  readonly #starts: Float64Array;
  /** added to all levels of each chunk. */
  readonly #offsets: Int32Array;
  /** free intervals by hours and limit, as far as they were needed: searches on a profile repeat. */
  readonly #free = new Map<OpenHours, Map<number, FreeIntervals>>();

  private constructor(chunks: readonly LevelChunk[], starts: Float64Array, offsets: Int32Array) {
    this.#chunks = chunks;
    this.#starts = starts;
    this.#offsets = offsets;
  }

  /**
   * Adds up loads.
   *
   * @param from load i lasts from from[i] to to[i] and takes parts[i]
   */
  static of(from: ArrayLike<EpochS>, to: ArrayLike<EpochS>, parts: ArrayLike<number>): CrewProfile {
    const chunks = sumOfLoads(from, to, parts);
    const starts = Float64Array.from(chunks, (chunk) => chunk.times[0]!);
    return new CrewProfile(chunks, starts, new Int32Array(chunks.length));
  }

  /** Number of segments held, which memory grows with. */
  get size(): number {
    return this.#chunks.reduce((sum, chunk) => sum + chunk.times.length, 0);
  }

  /** The same profile with `parts` (may be negative) added in [from, to). */
  with(from: EpochS, to: EpochS, parts: number): CrewProfile {
    if (to <= from || parts === 0) return this;
    const first = this.#chunkAt(from);
    const last = this.#chunkAt(to);
    const offsets = this.#offsets.slice();
    for (let c = first + 1; c < last; c++) offsets[c]! += parts;
    const chunks = this.#chunks.slice();
    chunks[first] = withLoad(chunks[first]!, this.#endOfChunk(first), from, to, parts);
    if (last > first) chunks[last] = withLoad(chunks[last]!, this.#endOfChunk(last), from, to, parts);
    const changed = new CrewProfile(chunks, this.#starts, offsets);
    return (last > first ? changed.#splitIfLarge(last) : changed).#splitIfLarge(first);
  }

  #splitIfLarge(c: number): CrewProfile {
    const { times, levels } = this.#chunks[c]!;
    if (times.length <= 2 * CHUNK_SEGMENTS) return this;
    const half = times.length >> 1;
    const chunks = this.#chunks.toSpliced(
      c,
      1,
      levelChunk(times.slice(0, half), levels.slice(0, half)),
      levelChunk(times.slice(half), levels.slice(half)),
    );
    const offsets = new Int32Array(chunks.length);
    offsets.set(this.#offsets.subarray(0, c + 1));
    offsets.set(this.#offsets.subarray(c), c + 1);
    const starts = new Float64Array(chunks.length);
    starts.set(this.#starts.subarray(0, c + 1));
    starts.set(this.#starts.subarray(c), c + 1);
    starts[c + 1] = times[half]!;
    return new CrewProfile(chunks, starts, offsets);
  }

  /** The load at an instant. */
  levelAt(at: EpochS): number {
    const c = this.#chunkAt(at);
    const chunk = this.#chunks[c]!;
    return chunk.levels[segmentAt(chunk.times, at)]! + this.#offsets[c]!;
  }

  /** When the last overload (load above `limit`) in [from, to) ends, maybe after `to`; -Infinity when there is none. */
  endOfLastOverload(from: EpochS, to: EpochS, limit: number): EpochS {
    if (to <= from) return Number.NEGATIVE_INFINITY;
    for (let c = this.#chunkAt(to); c >= 0; c--) {
      const chunk = this.#chunks[c]!;
      const chunkLimit = limit - this.#offsets[c]!;
      if (chunk.max > chunkLimit) {
        let i = segmentAt(chunk.times, to);
        if (chunk.times[i]! >= to) i--;
        for (; i >= 0; i--) {
          if (chunk.levels[i]! > chunkLimit) {
            return this.#endOfSegment(c, i) > from
              ? this.#endOfOverload(c, i, limit)
              : Number.NEGATIVE_INFINITY;
          }
          if (chunk.times[i]! <= from) return Number.NEGATIVE_INFINITY;
        }
      }
      if (this.#starts[c]! <= from) return Number.NEGATIVE_INFINITY;
    }
    return Number.NEGATIVE_INFINITY;
  }

  /**
   * The first start at or after `fromOpenS` of `lengthS` open seconds in a row in which the load never exceeds `limit`;
   * past the total of the hours when there is none.
   */
  firstFit(hours: OpenHours, fromOpenS: number, lengthS: number, limit: number): number {
    if (fromOpenS >= hours.totalS) return fromOpenS;
    let byLimit = this.#free.get(hours);
    if (byLimit === undefined) {
      byLimit = new Map();
      this.#free.set(hours, byLimit);
    }
    let free = byLimit.get(limit);
    if (free === undefined || !free.covers(fromOpenS)) {
      free = new FreeIntervals(hours, fromOpenS, this.#freeIntervals(hours, fromOpenS, limit));
      byLimit.set(limit, free);
    }
    return free.firstFit(fromOpenS, lengthS);
  }

  /** The intervals from `fromOpenS` on in which the load does not exceed `limit`, ascending. */
  *#freeIntervals(hours: OpenHours, fromOpenS: number, limit: number): Generator<OpenInterval> {
    const from = hours.startAt(fromOpenS);
    let freeFrom = fromOpenS;
    let overloadFrom: EpochS | undefined;
    let c = this.#chunkAt(from);
    let i = segmentAt(this.#chunks[c]!.times, from);
    for (; c < this.#chunks.length; c++, i = 0) {
      const { times, levels, max } = this.#chunks[c]!;
      const chunkLimit = limit - this.#offsets[c]!;
      if (max <= chunkLimit && overloadFrom === undefined) continue;
      for (; i < times.length; i++) {
        if (levels[i]! > chunkLimit) {
          overloadFrom ??= Math.max(times[i]!, from);
        } else if (overloadFrom !== undefined) {
          const overloadOpenS = hours.openSecondsAt(overloadFrom);
          const endOpenS = hours.openSecondsAt(times[i]!);
          overloadFrom = undefined;
          // an overload that lies in closed hours does not matter
          if (endOpenS === overloadOpenS) continue;
          if (overloadOpenS > freeFrom) yield [freeFrom, overloadOpenS];
          freeFrom = endOpenS;
        }
      }
    }
    yield [
      freeFrom,
      overloadFrom === undefined ? Number.POSITIVE_INFINITY : hours.openSecondsAt(overloadFrom),
    ];
  }

  /** All segments with a load, ascending. */
  *segments(): Generator<{ from: EpochS; to: EpochS; parts: number }> {
    for (let c = 0; c < this.#chunks.length; c++) {
      const chunk = this.#chunks[c]!;
      for (let i = 0; i < chunk.times.length; i++) {
        const parts = chunk.levels[i]! + this.#offsets[c]!;
        if (parts !== 0) yield { from: chunk.times[i]!, to: this.#endOfSegment(c, i), parts };
      }
    }
  }

  #endOfSegment(c: number, i: number): EpochS {
    const { times } = this.#chunks[c]!;
    return i + 1 < times.length ? times[i + 1]! : this.#endOfChunk(c);
  }

  #endOfChunk(c: number): EpochS {
    return c + 1 < this.#chunks.length ? this.#starts[c + 1]! : Number.POSITIVE_INFINITY;
  }

  /** When the overload that segment i of chunk c is part of ends. */
  #endOfOverload(c: number, i: number, limit: number): EpochS {
    let first = i;
    for (let at = c; at < this.#chunks.length; at++, first = 0) {
      const { times, levels, min } = this.#chunks[at]!;
      const chunkLimit = limit - this.#offsets[at]!;
      if (min > chunkLimit) continue;
      for (let k = first; k < times.length; k++) {
        if (levels[k]! <= chunkLimit) return times[k]!;
      }
    }
    return Number.POSITIVE_INFINITY;
  }

  #chunkAt(at: EpochS): number {
    return segmentAt(this.#starts, at);
  }
}
