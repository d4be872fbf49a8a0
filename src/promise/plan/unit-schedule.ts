import type { OpenHours } from '../calendar/open-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import { type Booking, isSameBooking } from './booking.ts';
import { upperBound } from './upper-bound.ts';

/** Bookings in one chunk: enough that few chunks need to be skipped, few enough to copy cheaply. */
const CHUNK_BOOKINGS = 128;

/** Bookings of one unit in order; booking i occupies it from from[i] to to[i]. */
type Chunk = {
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly bookings: readonly Booking[];
  /** the widest gap between two neighbors of this chunk in open seconds, by hours. */
  readonly widestGap: Map<OpenHours, number>;
};

/** A time in which nothing is booked. */
export type Gap = {
  /** -Infinity before the first booking. */
  from: EpochS;
  /** Infinity after the last booking. */
  to: EpochS;
  /** the booking it follows. */
  before: Booking | undefined;
  /** chunk and index of the booking it precedes. */
  chunk: number;
  index: number;
};

/** The bookings of one unit, which never overlap. Immutable; `with` and `without` share untouched chunks. */
export class UnitSchedule {
  static readonly empty = new UnitSchedule([], 0);
  readonly #chunks: readonly Chunk[];
  readonly size: number;

  private constructor(chunks: readonly Chunk[], size: number) {
    this.#chunks = chunks;
    this.size = size;
  }

  /**
   * @param bookings of one unit, in any order. Where the floor made two overlap, the later one counts as occupying the
   * unit only from the end of the earlier one.
   */
  static of(bookings: readonly Booking[]): UnitSchedule {
    const sorted = [...bookings].sort((a, b) => a.heldFrom - b.heldFrom || a.end - b.end);
    const chunks: Chunk[] = [];
    let end = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < sorted.length; i += CHUNK_BOOKINGS) {
      const chunk = chunkOf(sorted.slice(i, i + CHUNK_BOOKINGS), end);
      end = endOf(chunk);
      chunks.push(chunk);
    }
    return new UnitSchedule(chunks, sorted.length);
  }

  /** The bookings in order of time. */
  *bookings(): Generator<Booking> {
    for (const chunk of this.#chunks) yield* chunk.bookings;
  }

  /** The same schedule with one more booking, which must lie in a gap. */
  with(booking: Booking): UnitSchedule {
    const c = this.#chunkEndingAfter(booking.heldFrom, Math.max(0, this.#chunks.length - 1));
    const chunk = this.#chunks[c];
    if (!chunk) return new UnitSchedule([chunkOf([booking], Number.NEGATIVE_INFINITY)], 1);
    const index = upperBound(chunk.to, booking.heldFrom);
    const bookings = chunk.bookings.toSpliced(index, 0, booking);
    const chunks = [...this.#chunks];
    if (bookings.length > 2 * CHUNK_BOOKINGS) {
      const half = bookings.length >> 1;
      const head = chunkOf(bookings.slice(0, half), this.#endBeforeChunk(c));
      chunks.splice(c, 1, head, chunkOf(bookings.slice(half), endOf(head)));
    } else {
      chunks[c] = {
        from: withEntry(chunk.from, index, booking.heldFrom),
        to: withEntry(chunk.to, index, booking.end),
        bookings,
        widestGap: new Map(),
      };
    }
    return new UnitSchedule(chunks, this.size + 1);
  }

  /** The same schedule without a booking (see `isSameBooking`); itself when the booking is not in it. */
  without(booking: Booking): UnitSchedule {
    for (let c = 0; c < this.#chunks.length; c++) {
      const chunk = this.#chunks[c]!;
      if (endOf(chunk) < booking.end) continue;
      const index = chunk.bookings.findIndex((other) => isSameBooking(other, booking));
      if (index < 0) continue;
      const bookings = chunk.bookings.toSpliced(index, 1);
      const chunks = [...this.#chunks];
      if (bookings.length === 0) chunks.splice(c, 1);
      else chunks[c] = chunkOf(bookings, this.#endBeforeChunk(c));
      return new UnitSchedule(chunks, this.size - 1);
    }
    return this;
  }

  /** The gap before the first booking that ends after an instant. */
  gapAt(at: EpochS): Gap {
    const c = this.#chunkEndingAfter(at, this.#chunks.length);
    const index = c < this.#chunks.length ? upperBound(this.#chunks[c]!.to, at) : 0;
    return this.#gapBefore(c, index);
  }

  /** The booking at the end of a gap; undefined for the last gap. */
  bookingAfter(gap: Gap): Booking | undefined {
    return this.#chunks[gap.chunk]?.bookings[gap.index];
  }

  /**
   * The next gap after `gap` that is at least `minS` open seconds wide; the last gap never ends. Undefined when it
   * would begin after `latest`.
   */
  nextGap(gap: Gap, hours: OpenHours, minS: number, latest: EpochS): Gap | undefined {
    let index = gap.index + 1;
    for (let c = gap.chunk; c < this.#chunks.length; c++, index = 0) {
      const chunk = this.#chunks[c]!;
      if (index === 0) {
        const end = this.#endBeforeChunk(c);
        if (end > latest) return undefined;
        if (isWideEnough(hours, end, chunk.from[0]!, minS)) return this.#gapBefore(c, 0);
        index = 1;
      }
      if (index >= chunk.bookings.length || widestGapIn(chunk, hours) < minS) continue;
      for (; index < chunk.bookings.length; index++) {
        const end = chunk.to[index - 1]!;
        if (end > latest) return undefined;
        if (isWideEnough(hours, end, chunk.from[index]!, minS)) return this.#gapBefore(c, index);
      }
    }
    return this.#endBeforeChunk(this.#chunks.length) > latest
      ? undefined
      : this.#gapBefore(this.#chunks.length, 0);
  }

  #gapBefore(c: number, index: number): Gap {
    const chunk = this.#chunks[c];
    const isInside = chunk !== undefined && index > 0;
    const previous = isInside ? chunk : this.#chunks[c - 1];
    const last = isInside ? index - 1 : previous ? previous.bookings.length - 1 : 0;
    return {
      from: previous ? previous.to[last]! : Number.NEGATIVE_INFINITY,
      to: chunk ? chunk.from[index]! : Number.POSITIVE_INFINITY,
      before: previous?.bookings[last],
      chunk: c,
      index,
    };
  }

  #endBeforeChunk(c: number): EpochS {
    const chunk = this.#chunks[c - 1];
    return chunk ? endOf(chunk) : Number.NEGATIVE_INFINITY;
  }

  /** Index of the first chunk that ends after an instant, at most `max`. */
  #chunkEndingAfter(at: EpochS, max: number): number {
    let low = 0;
    let high = max;
    while (low < high) {
      const middle = (low + high) >> 1;
      if (endOf(this.#chunks[middle]!) > at) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}

function chunkOf(bookings: readonly Booking[], endBefore: EpochS): Chunk {
  const from = new Float64Array(bookings.length);
  const to = new Float64Array(bookings.length);
  let end = endBefore;
  for (let i = 0; i < bookings.length; i++) {
    const booking = bookings[i]!;
    from[i] = Math.max(booking.heldFrom, end);
    end = Math.max(booking.end, end);
    to[i] = end;
  }
  return { from, to, bookings, widestGap: new Map() };
}

function endOf(chunk: Chunk): EpochS {
  return chunk.to[chunk.to.length - 1]!;
}

function withEntry(entries: Float64Array, index: number, entry: number): Float64Array {
  const longer = new Float64Array(entries.length + 1);
  longer.set(entries.subarray(0, index));
  longer[index] = entry;
  longer.set(entries.subarray(index), index + 1);
  return longer;
}

function isWideEnough(hours: OpenHours, from: EpochS, to: EpochS, minS: number): boolean {
  // the first comparison is cheap, and open time is never longer than elapsed time
  return to - from >= minS && hours.openSecondsAt(to) - hours.openSecondsAt(from) >= minS;
}

function widestGapIn(chunk: Chunk, hours: OpenHours): number {
  let widest = chunk.widestGap.get(hours);
  if (widest === undefined) {
    widest = 0;
    for (let i = 1; i < chunk.from.length; i++) {
      if (chunk.from[i]! - chunk.to[i - 1]! > widest) {
        widest = Math.max(
          widest,
          hours.openSecondsAt(chunk.from[i]!) - hours.openSecondsAt(chunk.to[i - 1]!),
        );
      }
    }
    chunk.widestGap.set(hours, widest);
  }
  return widest;
}
