import type { PixelBox } from '../../contract/facts.ts';
import { nextCell, nextPair, ONE_EACH, TOP_BITS, UNBOUNDED_PAIR } from './cell-pairs.ts';
import type { InkPlane } from './plane.ts';
import { TILE_OPAQUE, TILE_SHIFT } from './tiles.ts';

/** Higher boxes are processed cell by cell, so that no distance overflows into the neighboring cell of its pair. */
const MAX_PAIRED_HEIGHT = 16_000;

/**
 * Distances along the columns of a plane's box, the first pass of an exact distance transform. One cell of 16 bits for
 * each pixel, row-major, with rows of an even `stride`: the low 15 bits are the distance to the other kind of pixel, the
 * top bit is set for a clear pixel. As signed numbers, ink is positive and equals its distance; clear is negative, and
 * `clearDistance` gives its distance.
 */
export type ColumnDistances = {
  readonly width: number;
  readonly height: number;
  readonly stride: number;
  readonly cells: Int16Array;
};

/** Bytes needed for the column distances of a box. */
export function columnDistanceBytes(box: PixelBox): number {
  return 2 * strideOf(box.width) * box.height;
}

function strideOf(width: number): number {
  return (width + 1) & ~1;
}

/**
 * Distances upward: from ink to the nearest clear pixel (everything outside the box is clear), from clear pixels to the
 * nearest ink.
 *
 * @param memory for the cells, `columnDistanceBytes` or more; allocated by default.
 */
export function upwardDistances(
  plane: InkPlane,
  memory: ArrayBuffer = new ArrayBuffer(columnDistanceBytes(plane.box)),
): ColumnDistances {
  const { bytes, shift, threshold, box } = plane;
  const { width, height } = box;
  const stride = strideOf(width);
  const cells = new Int16Array(memory, 0, stride * height);
  // Half alpha or more is the top bit of a pixel's word: no need to read single bytes.
  const byWords = shift === 2 && threshold === 128 && bytes.byteOffset % 4 === 0;
  if (byWords && height <= MAX_PAIRED_HEIGHT)
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
    if (tiles !== undefined) {
      const first = (box.top + y) * tiles.across;
      const right = box.left + box.width;
      // The pixels of tiles of one kind are not read.
      for (let tile = box.left >> TILE_SHIFT; tile << TILE_SHIFT < right; ) {
        const kind = tiles.kinds[first + tile]!;
        const from = tile++;
        if (kind > TILE_OPAQUE) continue;
        while (tile << TILE_SHIFT < right && tiles.kinds[first + tile] === kind) tile++;
        const start = (Math.max(0, (from << TILE_SHIFT) - box.left) + 1) >> 1;
        const end = Math.min(box.width, (tile << TILE_SHIFT) - box.left) >> 1;
        if (end <= start) continue;
        row.fillByPixels(done, start);
        if (kind === TILE_OPAQUE) row.fillInk(start, end);
        else row.fillClear(start, end);
        done = end;
      }
    }
    row.fillByPixels(done, across);
  }
}

/** Fills one row of a plane from the row above; `start` and `end` count pairs of columns. */
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

  fillByPixels(start: number, end: number): void {
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
    // The last column of an odd width is paired with a clear one.
    const kinds = (~(words[from + 2 * last]! >> 31) & 0x8000) | 0x80000000;
    pairs[to + last] = nextPair(this.y === 0 ? UNBOUNDED_PAIR : pairs[to + last - up]!, kinds);
  }

  fillInk(start: number, end: number): void {
    const pairs = this.#pairs;
    const to = this.y * this.#across;
    if (this.y === 0) {
      pairs.fill(ONE_EACH, start, end);
      return;
    }
    const above = to - this.#across;
    for (let pair = start; pair < end; pair++) {
      const before = pairs[above + pair]!;
      pairs[to + pair] = (before & TOP_BITS) === 0 ? before + ONE_EACH : nextPair(before, 0);
    }
  }

  fillClear(start: number, end: number): void {
    const pairs = this.#pairs;
    const to = this.y * this.#across;
    if (this.y === 0) {
      pairs.fill(nextPair(UNBOUNDED_PAIR, TOP_BITS), start, end);
      return;
    }
    const above = to - this.#across;
    for (let pair = start; pair < end; pair++) {
      const before = pairs[above + pair]!;
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
      const isInk = x < box.width && bytes[((from + x) << shift) + offset]! >= threshold;
      above[x] = nextCell(above[x]!, isInk);
    }
    cells.set(above, y * stride);
  }
}
