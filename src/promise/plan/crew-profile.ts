import type { OpenHours } from '../calendar/open-time.ts';
import type { EpochS } from '../types.ts';
import { FreeIntervals } from './free-intervals.ts';

/** Segments kept in one chunk: big enough that few chunks are skipped over, small enough to copy cheaply. */
const CHUNK_SEGMENTS = 256;

/** Segment i runs from times[i] to times[i + 1] (the last: to the next chunk) at levels[i] plus the chunk's lift. */
type Chunk = {
  readonly times: Float64Array;
  readonly levels: Int32Array;
  readonly most: number;
  readonly least: number;
};

/**
 * How much of the crew is taken at any moment: a step function of time. Immutable; `with` returns a changed copy that
 * shares all chunks it did not touch. Chunks know their extremes, so that a search skips what cannot matter, and a
 * change across many chunks only lifts them.
 */
export class CrewProfile {
  readonly #chunks: readonly Chunk[];
  /** start of each chunk; the first is -Infinity. */
  readonly #starts: Float64Array;
  readonly #lifts: Int32Array;
  /** by hours and limit, as far as asked: a profile is asked again and again while it lasts. */
  readonly #free = new Map<OpenHours, Map<number, FreeIntervals>>();

  private constructor(chunks: readonly Chunk[], starts: Float64Array, lifts: Int32Array) {
    this.#chunks = chunks;
    this.#starts = starts;
    this.#lifts = lifts;
  }

  /**
   * Adds up loads.
   *
   * @param from starts, epoch s; `to` ends; `parts` what each takes
   */
  static of(from: ArrayLike<EpochS>, to: ArrayLike<EpochS>, parts: ArrayLike<number>): CrewProfile {
    const edges = changesInOrder(from, to, parts);
    const times = [Number.NEGATIVE_INFINITY];
    const levels = [0];
    let level = 0;
    for (const [at, change] of edges) {
      level += change;
      if (times[times.length - 1] === at) levels[levels.length - 1] = level;
      else if (levels[levels.length - 1] !== level) {
        times.push(at);
        levels.push(level);
      }
    }
    const chunks: Chunk[] = [];
    for (let i = 0; i < times.length; i += CHUNK_SEGMENTS) {
      chunks.push(
        chunkOf(
          Float64Array.from(times.slice(i, i + CHUNK_SEGMENTS)),
          Int32Array.from(levels.slice(i, i + CHUNK_SEGMENTS)),
        ),
      );
    }
    return new CrewProfile(
      chunks,
      Float64Array.from(chunks, (chunk) => chunk.times[0]!),
      new Int32Array(chunks.length),
    );
  }

  /** Number of segments held: what memory grows with. */
  get size(): number {
    return this.#chunks.reduce((sum, chunk) => sum + chunk.times.length, 0);
  }

  /** The same profile with `parts` (may be negative) more taken in [from, to). */
  with(from: EpochS, to: EpochS, parts: number): CrewProfile {
    if (to <= from || parts === 0) return this;
    const first = this.#chunkAt(from);
    const last = this.#chunkAt(to);
    const lifts = this.#lifts.slice();
    for (let c = first + 1; c < last; c++) lifts[c]! += parts;
    const chunks = this.#chunks.slice();
    chunks[first] = changed(chunks[first]!, this.#endOfChunk(first), from, to, parts);
    if (last > first) chunks[last] = changed(chunks[last]!, this.#endOfChunk(last), from, to, parts);
    // a change keeps the start of every chunk, so the starts are shared until one is split
    const same = new CrewProfile(chunks, this.#starts, lifts);
    return (last > first ? same.#split(last) : same).#split(first);
  }

  /** The same profile with a chunk that grew too big in two. */
  #split(c: number): CrewProfile {
    const { times, levels } = this.#chunks[c]!;
    if (times.length <= 2 * CHUNK_SEGMENTS) return this;
    const half = times.length >> 1;
    const chunks = this.#chunks.toSpliced(
      c,
      1,
      chunkOf(times.slice(0, half), levels.slice(0, half)),
      chunkOf(times.slice(half), levels.slice(half)),
    );
    const lifts = new Int32Array(chunks.length);
    lifts.set(this.#lifts.subarray(0, c + 1));
    lifts.set(this.#lifts.subarray(c), c + 1);
    const starts = new Float64Array(chunks.length);
    starts.set(this.#starts.subarray(0, c + 1));
    starts.set(this.#starts.subarray(c), c + 1);
    starts[c + 1] = times[half]!;
    return new CrewProfile(chunks, starts, lifts);
  }

  /** What is taken at an instant. */
  levelAt(at: EpochS): number {
    const c = this.#chunkAt(at);
    const chunk = this.#chunks[c]!;
    return chunk.levels[segmentAt(chunk.times, at)]! + this.#lifts[c]!;
  }

  /**
   * Finds the last moment in [from, to) at which more than `limit` is taken, and returns when that stretch is over
   * (which may be after `to`); -Infinity when there is none.
   */
  lastOver(from: EpochS, to: EpochS, limit: number): EpochS {
    if (to <= from) return Number.NEGATIVE_INFINITY;
    let c = this.#chunkAt(to);
    for (; c >= 0; c--) {
      const chunk = this.#chunks[c]!;
      const bound = limit - this.#lifts[c]!;
      if (chunk.most > bound) {
        let i = segmentAt(chunk.times, to);
        if (chunk.times[i]! >= to) i--;
        for (; i >= 0; i--) {
          if (chunk.levels[i]! > bound) {
            return this.#endOf(c, i) > from ? this.#underFrom(c, i, limit) : Number.NEGATIVE_INFINITY;
          }
          if (chunk.times[i]! <= from) return Number.NEGATIVE_INFINITY;
        }
      }
      if (this.#starts[c]! <= from) return Number.NEGATIVE_INFINITY;
    }
    return Number.NEGATIVE_INFINITY;
  }

  /**
   * The first start, from `fromWork` on, of `lengthS` open seconds in a row in which never more than `limit` is taken;
   * over the total of hours: none.
   */
  firstUnder(hours: OpenHours, fromWork: number, lengthS: number, limit: number): number {
    if (fromWork >= hours.totalS) return fromWork;
    let byLimit = this.#free.get(hours);
    if (byLimit === undefined) {
      byLimit = new Map();
      this.#free.set(hours, byLimit);
    }
    let free = byLimit.get(limit);
    if (free === undefined || !free.reachesBackTo(fromWork)) {
      free = new FreeIntervals(hours, fromWork, this.#stretchesUnder(hours, fromWork, limit));
      byLimit.set(limit, free);
    }
    return free.first(fromWork, lengthS);
  }

  /** Stretches of open seconds from `fromWork` on in which no more than `limit` is taken, one after another. */
  *#stretchesUnder(hours: OpenHours, fromWork: number, limit: number): Generator<readonly [number, number]> {
    const from = hours.startAt(fromWork);
    let free = fromWork;
    /** where the stretch that is over the limit began; Infinity: it is not over. */
    let over = Number.POSITIVE_INFINITY;
    let c = this.#chunkAt(from);
    let i = segmentAt(this.#chunks[c]!.times, from);
    for (; c < this.#chunks.length; c++, i = 0) {
      const { times, levels, most } = this.#chunks[c]!;
      const bound = limit - this.#lifts[c]!;
      if (most <= bound && over === Number.POSITIVE_INFINITY) continue;
      for (; i < times.length; i++) {
        if (levels[i]! > bound) {
          if (over === Number.POSITIVE_INFINITY) over = Math.max(times[i]!, from);
        } else if (over < Number.POSITIVE_INFINITY) {
          const overWork = hours.workAt(over);
          const end = hours.workAt(times[i]!);
          over = Number.POSITIVE_INFINITY;
          // closed hours may cover all of it
          if (end === overWork) continue;
          if (overWork > free) yield [free, overWork];
          free = end;
        }
      }
    }
    if (over === Number.POSITIVE_INFINITY) yield [free, Number.POSITIVE_INFINITY];
    else yield [free, hours.workAt(over)];
  }

  /** All segments with something taken, ascending. */
  *segments(): Generator<{ from: EpochS; to: EpochS; parts: number }> {
    for (let c = 0; c < this.#chunks.length; c++) {
      const chunk = this.#chunks[c]!;
      for (let i = 0; i < chunk.times.length; i++) {
        const parts = chunk.levels[i]! + this.#lifts[c]!;
        if (parts !== 0) yield { from: chunk.times[i]!, to: this.#endOf(c, i), parts };
      }
    }
  }

  #endOf(c: number, i: number): EpochS {
    const chunk = this.#chunks[c]!;
    return i + 1 < chunk.times.length ? chunk.times[i + 1]! : this.#endOfChunk(c);
  }

  #endOfChunk(c: number): EpochS {
    return c + 1 < this.#chunks.length ? this.#starts[c + 1]! : Number.POSITIVE_INFINITY;
  }

  /** The start of the first segment from (c, i) on with no more than `limit` taken. */
  #underFrom(c: number, i: number, limit: number): EpochS {
    let from = i;
    for (let at = c; at < this.#chunks.length; at++, from = 0) {
      const chunk = this.#chunks[at]!;
      const bound = limit - this.#lifts[at]!;
      if (chunk.least > bound) continue;
      for (let k = from; k < chunk.times.length; k++) {
        if (chunk.levels[k]! <= bound) return chunk.times[k]!;
      }
    }
    return Number.POSITIVE_INFINITY;
  }

  #chunkAt(at: EpochS): number {
    return segmentAt(this.#starts, at);
  }
}

/** Index of the last entry at or before `at`; the first is taken to be. */
function segmentAt(times: Float64Array, at: EpochS): number {
  let low = 0;
  let high = times.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (times[middle]! <= at) low = middle;
    else high = middle - 1;
  }
  return low;
}

/** The chunk with `parts` more in the part of [from, to) that is in it; `from` and `to` may lie in other chunks. */
function changed(chunk: Chunk, chunkEnd: EpochS, from: EpochS, to: EpochS, parts: number): Chunk {
  const count = chunk.times.length;
  const first = from <= chunk.times[0]! ? 0 : segmentAt(chunk.times, from);
  let last = to >= chunkEnd ? count - 1 : segmentAt(chunk.times, to);
  if (chunk.times[last] === to) last--;
  // at most two new edges
  const times = new Float64Array(count + 2);
  const levels = new Int32Array(count + 2);
  let size = 0;
  const push = (at: number, level: number): void => {
    // the first segment always stays: it is where the chunk starts
    if (size > 0 && levels[size - 1] === level) return;
    times[size] = at;
    levels[size] = level;
    size++;
  };
  const copy = (start: number, end: number): void => {
    times.set(chunk.times.subarray(start, end), size);
    levels.set(chunk.levels.subarray(start, end), size);
    size += Math.max(0, end - start);
  };
  copy(0, first);
  const head = chunk.times[first]!;
  if (head < from) push(head, chunk.levels[first]!);
  push(Math.max(head, from), chunk.levels[first]! + parts);
  // within the change all levels differ from their neighbors as before
  const raised = size;
  copy(first + 1, last + 1);
  for (let i = raised; i < size; i++) levels[i]! += parts;
  if (to < (last + 1 < count ? chunk.times[last + 1]! : chunkEnd)) push(to, chunk.levels[last]!);
  if (last + 1 < count) push(chunk.times[last + 1]!, chunk.levels[last + 1]!);
  copy(last + 2, count);
  return chunkOf(times.slice(0, size), levels.slice(0, size));
}

function chunkOf(times: Float64Array, levels: Int32Array): Chunk {
  let most = levels[0]!;
  let least = levels[0]!;
  for (let i = 1; i < levels.length; i++) {
    if (levels[i]! > most) most = levels[i]!;
    if (levels[i]! < least) least = levels[i]!;
  }
  return { times, levels, most, least };
}

/** Rises and falls by time. Sorts numbers that hold both the second and the place, which is much faster than objects. */
function* changesInOrder(
  from: ArrayLike<EpochS>,
  to: ArrayLike<EpochS>,
  parts: ArrayLike<number>,
): Generator<[EpochS, number]> {
  const count = from.length;
  let origin = Number.POSITIVE_INFINITY;
  for (let i = 0; i < count; i++) origin = Math.min(origin, from[i]!);
  // 2^53 holds 2^30 seconds (34 years) times 2^22 edges and more
  const slots = 2 * count;
  const keys = new Float64Array(slots);
  for (let i = 0; i < count; i++) {
    keys[2 * i] = (from[i]! - origin) * slots + 2 * i;
    keys[2 * i + 1] = (to[i]! - origin) * slots + 2 * i + 1;
  }
  keys.sort();
  for (let k = 0; k < slots; k++) {
    const slot = keys[k]! % slots;
    const i = slot >> 1;
    const falls = slot % 2 === 1;
    yield [falls ? to[i]! : from[i]!, falls ? -parts[i]! : parts[i]!];
  }
}
