import type { MeasuredWidth, PixelBox } from '../../contract/facts.ts';
import {
  type ColumnDistances,
  DISTANCE_BITS,
  laneMask,
  nextPair,
  ONE_EACH,
  TOP_BITS,
  UNBOUNDED_PAIR,
} from './column-distances.ts';
import type { InkPlane } from './plane.ts';
import { StrokeCollector } from './stroke-collector.ts';
import { TILE_OPAQUE, TILE_SHIFT, type Tiles } from './tiles.ts';

/** A stroke is thin below this share of the longer side of the ink box ... */
const THIN_SHARE = 1 / 20;
/** ... and never above this, px. */
const THIN_MOST_PX = 400;

/** In texture only every eighth row and column is looked at. */
const SPARSE = 8;

export type Strokes = { readonly lines: MeasuredWidth[]; readonly gaps: MeasuredWidth[] };

/**
 * Finds thin strokes and thin gaps, and turns `columns` from distances upward into distances to the nearer end of each
 * column run on the way.
 *
 * Every stroke is crossed by horizontal or by vertical runs at most sqrt(2) times its width; their middles are where
 * to look. There the exact Euclidean distance says how wide it can be at most.
 *
 * @param columns as `distancesUp` gives them for the plane; changed in place.
 */
export function findStrokes(plane: InkPlane, columns: ColumnDistances): Strokes {
  const { width, height, cells } = columns;
  const mostPx = Math.min(THIN_MOST_PX, THIN_SHARE * Math.max(width, height));
  const runMost = Math.ceil(Math.SQRT2 * mostPx) + 1;
  const lines = new StrokeCollector(plane, columns, false, mostPx);
  const gaps = new StrokeCollector(plane, columns, true, mostPx);
  const row = new RowRuns(plane, columns, runMost);
  for (let y = height - 1; y >= 0; y--) {
    row.settle(y);
    const start = y * columns.stride;
    // In texture every so many rows and columns will do: a stroke is longer than that and crosses some.
    const sparse = lines.isTexture || gaps.isTexture;
    for (let index = 0; index < row.found; index++) {
      const x = row.middles[index]!;
      if (sparse && x % SPARSE !== 0) continue;
      const strokes = cells[start + x]! > 0 ? lines : gaps;
      strokes.consider(x, y, row.lengths[index]!, true);
    }
    if (sparse && y % SPARSE !== 0) continue;
    for (let index = 0, x = 0; index <= row.turned; index++) {
      const end = row.turns[index]!;
      const run = end - x;
      const middle = x + (run >>> 1);
      if (run <= runMost) {
        if (cells[start + x]! > 0) lines.consider(middle, y, run, false);
        else if (x > 0 && end < width) gaps.consider(middle, y, run, false);
      }
      x = end;
    }
  }
  return { lines: lines.results(), gaps: gaps.results() };
}

/**
 * Goes up the rows from the bottom: makes each row's cells the distance to the nearer end of their column run, and notes
 * the middles of short column runs and where along the row ink begins or ends. Two cells are gone through at a time, and
 * one by one only where something may be noted.
 */
class RowRuns {
  /** x of the cells in the middle of a short column run, and how long that is. */
  readonly middles: Int32Array;
  readonly lengths: Int32Array;
  found = 0;
  /** x where ink begins or ends, and the row's end after them. */
  readonly turns: Int32Array;
  turned = 0;

  readonly #width: number;
  readonly #pairs: Int32Array;
  readonly #below: Int32Array;
  readonly #runMost: number;
  /** A cell this far from one end of its run is in the middle of none that is short; twice, for a pair. */
  readonly #far: number;

  readonly #box: PixelBox;
  readonly #tiles: Tiles | null;
  /** Tops of two cells of the kind last met. */
  #tops = 0;

  constructor({ box, tiles }: InkPlane, { width, stride, cells }: ColumnDistances, runMost: number) {
    this.#box = box;
    this.#tiles = tiles;
    this.#width = width;
    this.#pairs = new Int32Array(cells.buffer, 0, cells.length >> 1);
    this.#below = new Int32Array(stride >> 1).fill(UNBOUNDED_PAIR);
    this.#runMost = runMost;
    this.#far = (((runMost + 1) >> 1) + 1) * ONE_EACH;
    this.middles = new Int32Array(stride);
    this.lengths = new Int32Array(stride);
    this.turns = new Int32Array(stride + 1);
  }

  settle(y: number): void {
    this.found = 0;
    this.turned = 0;
    const across = this.#below.length;
    this.#tops = (this.#pairs[y * across]! & 0x8000) === 0 ? 0 : TOP_BITS;
    let done = 0;
    const tiles = this.#tiles;
    if (tiles !== null && y + 1 < this.#box.height) {
      const { left, top, width } = this.#box;
      const first = (top + y) * tiles.across;
      const under = first + tiles.across;
      const right = left + width;
      // Where this row and the one below are of one kind throughout, nothing begins or ends.
      for (let tile = left >> TILE_SHIFT; tile << TILE_SHIFT < right; ) {
        const kind = tiles.kinds[first + tile]!;
        const from = tile++;
        if (kind > TILE_OPAQUE || tiles.kinds[under + from] !== kind) continue;
        while (
          tile << TILE_SHIFT < right &&
          tiles.kinds[first + tile] === kind &&
          tiles.kinds[under + tile] === kind
        )
          tile++;
        const start = (Math.max(0, (from << TILE_SHIFT) - left) + 1) >> 1;
        const end = Math.min(width, (tile << TILE_SHIFT) - left) >> 1;
        if (end <= start + 1) continue;
        // The kind may change at the first pair.
        this.#settle(y, done, start + 1);
        this.#settleAlike(y, start + 1, end, kind === TILE_OPAQUE ? 0 : TOP_BITS);
        done = end;
      }
    }
    this.#settle(y, done, across);
    this.turns[this.turned] = this.#width;
  }

  /** Pairs of cells that may hold anything. */
  #settle(y: number, from: number, to: number): void {
    const pairs = this.#pairs;
    const below = this.#below;
    const far = this.#far;
    const start = y * below.length;
    for (let pair = from; pair < to; pair++) {
      const cells = pairs[start + pair]!;
      const kinds = cells & TOP_BITS;
      const downward = nextPair(below[pair]!, kinds);
      below[pair] = downward;
      const up = cells & DISTANCE_BITS;
      const down = downward & DISTANCE_BITS;
      if (kinds !== this.#tops) {
        this.#turn(2 * pair, this.#tops, kinds);
        this.#tops = kinds < 0 ? TOP_BITS : 0;
      }
      if ((((up | TOP_BITS) - far) | ((down | TOP_BITS) - far) | DISTANCE_BITS) !== -1)
        this.#note(2 * pair, up, down);
      const downIsLess = laneMask(((up | TOP_BITS) - down) & TOP_BITS);
      pairs[start + pair] = (down & downIsLess) | (up & ~downIsLess) | kinds;
    }
  }

  /** Pairs that are of this kind, as are those below them and the one before the first. */
  #settleAlike(y: number, from: number, to: number, kinds: number): void {
    const pairs = this.#pairs;
    const below = this.#below;
    const far = this.#far;
    const start = y * below.length;
    for (let pair = from; pair < to; pair++) {
      const up = pairs[start + pair]! & DISTANCE_BITS;
      const downward = below[pair]! + ONE_EACH;
      below[pair] = downward;
      const down = downward & DISTANCE_BITS;
      const unlike = up ^ down;
      // The lesser of the two, and by what is left the greater.
      const less = up ^ (unlike & laneMask(((up | TOP_BITS) - down) & TOP_BITS));
      if (((((unlike ^ less) | TOP_BITS) - far) & TOP_BITS) !== TOP_BITS) this.#note(2 * pair, up, down);
      pairs[start + pair] = less | kinds;
    }
  }

  /** Notes where, at the two cells from x on, the kind changes. */
  #turn(x: number, tops: number, kinds: number): void {
    const last = (tops & 0x8000) !== 0;
    const first = (kinds & 0x8000) !== 0;
    const second = kinds < 0;
    if (first !== last && x > 0) this.turns[this.turned++] = x;
    if (second !== first && x + 1 < this.#width) this.turns[this.turned++] = x + 1;
  }

  #note(x: number, up: number, down: number): void {
    this.#noteOne(x, up & 0xffff, down & 0xffff);
    if (x + 1 < this.#width) this.#noteOne(x + 1, up >>> 16, down >>> 16);
  }

  #noteOne(x: number, up: number, down: number): void {
    const surplus = up - down;
    if ((surplus !== 0 && surplus !== 1) || up + down > this.#runMost) return;
    this.lengths[this.found] = up + down - 1;
    this.middles[this.found++] = x;
  }
}
