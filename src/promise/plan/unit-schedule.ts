import type { OpenHours } from '../calendar/open-time.ts';
import type { Booking, EpochS } from '../types.ts';
import { upperBound } from './upper-bound.ts';

/** Bookings kept in one chunk; see `CrewProfile`. */
const CHUNK_BOOKINGS = 128;

/** Bookings of one unit in order; occupied from[i] to to[i]. */
type Chunk = {
  readonly from: Float64Array;
  readonly to: Float64Array;
  readonly bookings: readonly Booking[];
  /** by hours: the widest gap between two neighbors of this chunk, open seconds. */
  readonly widest: Map<OpenHours, number>;
};

/** A stretch in which nothing is booked: after `before` (null: from the beginning) up to `to` (Infinity: no end). */
export type Gap = {
  from: EpochS;
  to: EpochS;
  /** the booking it follows. */
  before: Booking | null;
  /** where it is: chunk and place of the booking it precedes. */
  chunk: number;
  place: number;
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
   * @param bookings of one unit, in any order. Where the floor made two overlap, the later one is taken to occupy the
   * unit only from the end of the earlier on.
   */
  static of(bookings: readonly Booking[]): UnitSchedule {
    const sorted = [...bookings].sort((a, b) => a.heldFrom - b.heldFrom || a.end - b.end);
    const chunks: Chunk[] = [];
    let end = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < sorted.length; i += CHUNK_BOOKINGS) {
      const chunk = chunkOf(sorted.slice(i, i + CHUNK_BOOKINGS), end);
      end = chunk.to[chunk.to.length - 1]!;
      chunks.push(chunk);
    }
    return new UnitSchedule(chunks, sorted.length);
  }

  /** The bookings in order of time. */
  *bookings(): Generator<Booking> {
    for (const chunk of this.#chunks) yield* chunk.bookings;
  }

  /** The same track with one more booking, which must lie in a gap. */
  with(booking: Booking): UnitSchedule {
    const c = this.#chunkAfter(booking.heldFrom, Math.max(0, this.#chunks.length - 1));
    const chunk = this.#chunks[c];
    if (!chunk) return new UnitSchedule([chunkOf([booking], Number.NEGATIVE_INFINITY)], 1);
    const place = upperBound(chunk.to, booking.heldFrom);
    const bookings = chunk.bookings.toSpliced(place, 0, booking);
    const chunks = [...this.#chunks];
    if (bookings.length > 2 * CHUNK_BOOKINGS) {
      const half = bookings.length >> 1;
      const head = chunkOf(bookings.slice(0, half), this.#endBefore(c));
      chunks.splice(c, 1, head, chunkOf(bookings.slice(half), head.to[head.to.length - 1]!));
    } else {
      // It lies in a gap, so it occupies just what it says, and the others what they did.
      chunks[c] = {
        from: withEntry(chunk.from, place, booking.heldFrom),
        to: withEntry(chunk.to, place, booking.end),
        bookings,
        widest: new Map(),
      };
    }
    return new UnitSchedule(chunks, this.size + 1);
  }

  /** The same track without a booking, found by what it is for; itself when it is not there. */
  without(booking: Booking): UnitSchedule {
    for (let c = 0; c < this.#chunks.length; c++) {
      const chunk = this.#chunks[c]!;
      if (chunk.to[chunk.to.length - 1]! < booking.end) continue;
      const place = chunk.bookings.findIndex((other) => isSame(other, booking));
      if (place < 0) continue;
      const bookings = chunk.bookings.toSpliced(place, 1);
      const chunks = [...this.#chunks];
      if (bookings.length === 0) chunks.splice(c, 1);
      else chunks[c] = chunkOf(bookings, this.#endBefore(c));
      return new UnitSchedule(chunks, this.size - 1);
    }
    return this;
  }

  /** The gap before the first booking that ends after an instant. */
  gapAt(at: EpochS): Gap {
    const chunk = this.#chunkAfter(at, this.#chunks.length);
    const place = chunk < this.#chunks.length ? upperBound(this.#chunks[chunk]!.to, at) : 0;
    return this.#gapBefore(chunk, place);
  }

  /** The booking a gap ends at; null at the last. */
  after(gap: Gap): Booking | null {
    return this.#chunks[gap.chunk]?.bookings[gap.place] ?? null;
  }

  /**
   * The next gap after `gap` that is at least `needS` open seconds wide; the last never ends. Null when it would begin
   * after `latest`.
   */
  nextGap(gap: Gap, hours: OpenHours, needS: number, latest: EpochS): Gap | null {
    let place = gap.place + 1;
    for (let c = gap.chunk; c < this.#chunks.length; c++, place = 0) {
      const chunk = this.#chunks[c]!;
      if (place === 0) {
        const end = this.#endBefore(c);
        if (end > latest) return null;
        if (isWide(hours, end, chunk.from[0]!, needS)) return this.#gapBefore(c, 0);
        place = 1;
      }
      if (place >= chunk.bookings.length || widestGap(chunk, hours) < needS) continue;
      for (; place < chunk.bookings.length; place++) {
        const end = chunk.to[place - 1]!;
        if (end > latest) return null;
        if (isWide(hours, end, chunk.from[place]!, needS)) return this.#gapBefore(c, place);
      }
    }
    return this.#endBefore(this.#chunks.length) > latest ? null : this.#gapBefore(this.#chunks.length, 0);
  }

  #gapBefore(c: number, place: number): Gap {
    const chunk = this.#chunks[c];
    const to = chunk ? chunk.from[place]! : Number.POSITIVE_INFINITY;
    const inside = chunk && place > 0 ? chunk : this.#chunks[c - 1];
    const last = chunk && place > 0 ? place - 1 : inside ? inside.bookings.length - 1 : 0;
    return {
      from: inside ? inside.to[last]! : Number.NEGATIVE_INFINITY,
      to,
      before: inside ? inside.bookings[last]! : null,
      chunk: c,
      place,
    };
  }

  #endBefore(c: number): EpochS {
    const chunk = this.#chunks[c - 1];
    return chunk ? chunk.to[chunk.to.length - 1]! : Number.NEGATIVE_INFINITY;
  }

  /** The first chunk that ends after an instant, at most `most`. */
  #chunkAfter(at: EpochS, most: number): number {
    let low = 0;
    let high = most;
    while (low < high) {
      const middle = (low + high) >> 1;
      const to = this.#chunks[middle]!.to;
      if (to[to.length - 1]! > at) high = middle;
      else low = middle + 1;
    }
    return low;
  }
}

/** Whether two bookings are for the same part of the same step. */
export function isSame(a: Booking, b: Booking): boolean {
  return (
    a.job === b.job && a.chain === b.chain && a.step === b.step && a.part === b.part && a.start === b.start
  );
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
  return { from, to, bookings, widest: new Map() };
}

function withEntry(entries: Float64Array, place: number, entry: number): Float64Array {
  const more = new Float64Array(entries.length + 1);
  more.set(entries.subarray(0, place));
  more[place] = entry;
  more.set(entries.subarray(place), place + 1);
  return more;
}

/** Whether there are at least `needS` open seconds between two instants. */
function isWide(hours: OpenHours, from: EpochS, to: EpochS, needS: number): boolean {
  // open time is never longer than time
  return to - from >= needS && hours.workAt(to) - hours.workAt(from) >= needS;
}

function widestGap(chunk: Chunk, hours: OpenHours): number {
  let widest = chunk.widest.get(hours);
  if (widest === undefined) {
    widest = 0;
    for (let i = 1; i < chunk.from.length; i++) {
      if (chunk.from[i]! - chunk.to[i - 1]! > widest) {
        widest = Math.max(widest, hours.workAt(chunk.from[i]!) - hours.workAt(chunk.to[i - 1]!));
      }
    }
    chunk.widest.set(hours, widest);
  }
  return widest;
}
