import type { PixelBox } from '../../contract/facts.ts';
import type { InkPlane } from './plane.ts';
import { TILE_OPAQUE, TILE_SHIFT } from './tiles.ts';

/** Distance from which a clear pixel's means: no ink on that side within the box. */
export const UNBOUNDED = 16_384;

/** Longest distance a cell can hold. */
const MAX_DISTANCE = 0x7fff;
/** Boxes higher than this are gone through one by one, so that no distance outgrows its cell. */
const MAX_PAIRED_HEIGHT = 16_000;

/**
 * One cell of 16 bits for each pixel of a plane's box, row-major, rows of an even `stride`: the low 15 bits are a
 * distance along the pixel's column, the top bit says that the pixel is clear. Read as signed numbers, ink is positive
 * and its own distance, clear is negative and its distance is `clearDistance`.
 */
export type ColumnDistances = {
  readonly width: number;
  readonly height: number;
  readonly stride: number;
  readonly cells: Int16Array;
};

/** The distance in the cell of a clear pixel. */
export function clearDistance(cell: number): number {
  return cell & MAX_DISTANCE;
}

/** Two cells at once: their top bits, all their other bits, and a one in each. */
export const TOP_BITS = 0x80008000 | 0;
export const DISTANCE_BITS = 0x7fff7fff;
export const ONE_EACH = 0x00010001;
/** Two clear cells with nothing on one side. */
export const UNBOUNDED_PAIR = TOP_BITS | (UNBOUNDED * ONE_EACH);

/** All ones in each half whose top bit is set. */
export function laneMask(tops: number): number {
  const ones = (tops >>> 15) & ONE_EACH;
  return (ones << 16) - ones;
}

/**
 * A step on along two columns at once: where a cell is of the same kind as the one before, its distance is one more;
 * where the kind changes, it is 1.
 *
 * @param kinds top bits of the two new cells.
 */
export function nextPair(before: number, kinds: number): number {
  const changed = laneMask((before ^ kinds) & TOP_BITS);
  return ((before & DISTANCE_BITS & ~changed) + ONE_EACH) | kinds;
}

/** Bytes that the column runs of a box take. */
export function columnDistanceBytes(box: PixelBox): number {
  return 2 * strideOf(box.width) * box.height;
}

function strideOf(width: number): number {
  return (width + 1) & ~1;
}

/**
 * Distances upward: to the nearest clear pixel for ink (beyond the box all is clear), to the nearest ink for others.
 *
 * @param memory where to put them, `columnBytes` or more; left out, new memory is taken.
 */
export function upwardDistances(
  plane: InkPlane,
  memory: ArrayBuffer = new ArrayBuffer(columnDistanceBytes(plane.box)),
): ColumnDistances {
  const { bytes, shift, threshold, box } = plane;
  const { width, height } = box;
  const stride = strideOf(width);
  const cells = new Int16Array(memory, 0, stride * height);
  // Half alpha or more is the top bit of the word: no need to look at the bytes one by one.
  const inWords = shift === 2 && threshold === 128 && bytes.byteOffset % 4 === 0;
  if (inWords && height <= MAX_PAIRED_HEIGHT)
    fillPairs(plane, new Int32Array(memory, 0, (stride >> 1) * height), stride >> 1);
  else fillCells(plane, cells, stride);
  return { width, height, stride, cells };
}

function fillPairs(plane: InkPlane, pairs: Int32Array, across: number): void {
  const { box, tiles } = plane;
  const row = new PairRow(plane, pairs, across);
  for (let y = 0; y < box.height; y++) {
    row.y = y;
    let done = 0;
    if (tiles !== null) {
      const first = (box.top + y) * tiles.across;
      const right = box.left + box.width;
      // Stretches of tiles of one kind need no look at their pixels.
      for (let tile = box.left >> TILE_SHIFT; tile << TILE_SHIFT < right; ) {
        const kind = tiles.kinds[first + tile]!;
        const from = tile++;
        if (kind > TILE_OPAQUE) continue;
        while (tile << TILE_SHIFT < right && tiles.kinds[first + tile] === kind) tile++;
        const start = (Math.max(0, (from << TILE_SHIFT) - box.left) + 1) >> 1;
        const end = Math.min(box.width, (tile << TILE_SHIFT) - box.left) >> 1;
        if (end <= start) continue;
        row.mixed(done, start);
        if (kind === TILE_OPAQUE) row.opaque(start, end);
        else row.clear(start, end);
        done = end;
      }
    }
    row.mixed(done, across);
  }
}

/** Steps on along a row of a plane, two columns at once; `start` and `end` are pairs of columns. */
class PairRow {
  y = 0;
  readonly #plane: InkPlane;
  readonly #words: Int32Array;
  readonly #pairs: Int32Array;
  readonly #across: number;

  constructor(plane: InkPlane, pairs: Int32Array, across: number) {
    const { bytes } = plane;
    this.#plane = plane;
    this.#words = new Int32Array(bytes.buffer, bytes.byteOffset, bytes.length >>> 2);
    this.#pairs = pairs;
    this.#across = across;
  }

  /** Columns that may hold anything. */
  mixed(start: number, end: number): void {
    const { box, width } = this.#plane;
    const words = this.#words;
    const pairs = this.#pairs;
    const from = (box.top + this.y) * width + box.left;
    const to = this.y * this.#across;
    const up = this.#across;
    const last = Math.min(end, box.width >> 1);
    for (let pair = start; pair < last; pair++) {
      const first = words[from + 2 * pair]! >> 31;
      const second = words[from + 2 * pair + 1]! >> 31;
      const kinds = (~first & 0x8000) | (~second & 0x80000000);
      pairs[to + pair] = nextPair(this.y === 0 ? UNBOUNDED_PAIR : pairs[to + pair - up]!, kinds);
    }
    if (last >= end) return;
    // The last column of an uneven width stands alone.
    const kinds = (~(words[from + 2 * last]! >> 31) & 0x8000) | 0x80000000;
    pairs[to + last] = nextPair(this.y === 0 ? UNBOUNDED_PAIR : pairs[to + last - up]!, kinds);
  }

  /** Columns of ink. */
  opaque(start: number, end: number): void {
    const pairs = this.#pairs;
    const to = this.y * this.#across;
    if (this.y === 0) {
      pairs.fill(ONE_EACH, start, end);
      return;
    }
    const over = to - this.#across;
    for (let pair = start; pair < end; pair++) {
      const before = pairs[over + pair]!;
      pairs[to + pair] = (before & TOP_BITS) === 0 ? before + ONE_EACH : nextPair(before, 0);
    }
  }

  /** Columns without ink. */
  clear(start: number, end: number): void {
    const pairs = this.#pairs;
    const to = this.y * this.#across;
    if (this.y === 0) {
      pairs.fill(nextPair(UNBOUNDED_PAIR, TOP_BITS), start, end);
      return;
    }
    const over = to - this.#across;
    for (let pair = start; pair < end; pair++) {
      const before = pairs[over + pair]!;
      pairs[to + pair] = (before & TOP_BITS) === TOP_BITS ? before + ONE_EACH : nextPair(before, TOP_BITS);
    }
  }
}

function fillCells(plane: InkPlane, cells: Int16Array, stride: number): void {
  const { bytes, shift, offset, threshold, box } = plane;
  const above = new Int16Array(stride).fill(UNBOUNDED_PAIR & 0xffff);
  for (let y = 0; y < box.height; y++) {
    const from = (box.top + y) * plane.width + box.left;
    for (let x = 0; x < stride; x++) {
      const ink = x < box.width && bytes[((from + x) << shift) + offset]! >= threshold;
      above[x] = nextCell(above[x]!, ink);
    }
    cells.set(above, y * stride);
  }
}

/** A step on along one column. */
export function nextCell(before: number, ink: boolean): number {
  const distance = ink === before > 0 ? Math.min(MAX_DISTANCE, (before & MAX_DISTANCE) + 1) : 1;
  return ink ? distance : distance | ~MAX_DISTANCE;
}
