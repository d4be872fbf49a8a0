import type { PixelBox } from '../../../contract/facts.ts';
import { DISTANCE_BITS, laneMask, nextPair, ONE_EACH, TOP_BITS, UNBOUNDED_PAIR } from '../cell-pairs.ts';
import type { ColumnDistances } from '../column-distances.ts';
import type { InkPlane } from '../plane.ts';
import { TILE_OPAQUE, TILE_SHIFT, type Tiles } from '../tiles.ts';

/**
 * Scans the rows from the bottom up, the second pass over the column distances: turns the upward distances of each row
 * into distances to the nearer end of their column runs, and lists the middles of short column runs and the places
 * where ink begins or ends along the row. Works on pairs of cells, and on single ones only where something is listed.
 */
export class RowScanner {
  /** x of the cells in the middle of a short column run, and the length of that run. */
  readonly middles: Int32Array;
  readonly lengths: Int32Array;
  middleCount = 0;
  /** x where ink begins or ends, followed by the row's end. */
  readonly boundaries: Int32Array;
  boundaryCount = 0;

  readonly #width: number;
  readonly #pairs: Int32Array;
  readonly #below: Int32Array;
  readonly #maxRun: number;
  /** A cell this far from an end of its run is not in the middle of a short one; twice, for a pair. */
  readonly #far: number;

  readonly #box: PixelBox;
  readonly #tiles: Tiles | undefined;
  /** top bits of two cells of the kind met last. */
  #lastKind = 0;

  /**
   * @param columns as `upwardDistances` returns them; changed in place.
   * @param maxRun longest run that counts as short, px.
   */
  constructor({ box, tiles }: InkPlane, { width, stride, cells }: ColumnDistances, maxRun: number) {
    this.#box = box;
    this.#tiles = tiles;
    this.#width = width;
    this.#pairs = new Int32Array(cells.buffer, 0, cells.length >> 1);
    this.#below = new Int32Array(stride >> 1).fill(UNBOUNDED_PAIR);
    this.#maxRun = maxRun;
    this.#far = (((maxRun + 1) >> 1) + 1) * ONE_EACH;
    this.middles = new Int32Array(stride);
    this.lengths = new Int32Array(stride);
    this.boundaries = new Int32Array(stride + 1);
  }

  /** Scans row y; rows must come from the bottom, each once. */
  scan(y: number): void {
    this.middleCount = 0;
    this.boundaryCount = 0;
    const across = this.#below.length;
    this.#lastKind = (this.#pairs[y * across]! & 0x8000) === 0 ? 0 : TOP_BITS;
    let done = 0;
    const tiles = this.#tiles;
    if (tiles !== undefined && y + 1 < this.#box.height) {
      const { left, top, width } = this.#box;
      const first = (top + y) * tiles.across;
      const below = first + tiles.across;
      const right = left + width;
      // Where this row and the one below are of one kind throughout, nothing begins or ends.
      for (let tile = left >> TILE_SHIFT; tile << TILE_SHIFT < right; ) {
        const kind = tiles.kinds[first + tile]!;
        const from = tile++;
        if (kind > TILE_OPAQUE || tiles.kinds[below + from] !== kind) continue;
        while (
          tile << TILE_SHIFT < right &&
          tiles.kinds[first + tile] === kind &&
          tiles.kinds[below + tile] === kind
        )
          tile++;
        const start = (Math.max(0, (from << TILE_SHIFT) - left) + 1) >> 1;
        const end = Math.min(width, (tile << TILE_SHIFT) - left) >> 1;
        if (end <= start + 1) continue;
        // The kind may change at the first pair.
        this.#scanPairs(y, done, start + 1);
        this.#scanUniform(y, start + 1, end, kind === TILE_OPAQUE ? 0 : TOP_BITS);
        done = end;
      }
    }
    this.#scanPairs(y, done, across);
    this.boundaries[this.boundaryCount] = this.#width;
  }

  #scanPairs(y: number, from: number, to: number): void {
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
      if (kinds !== this.#lastKind) {
        this.#listBoundaries(2 * pair, this.#lastKind, kinds);
        this.#lastKind = kinds < 0 ? TOP_BITS : 0;
      }
      if ((((up | TOP_BITS) - far) | ((down | TOP_BITS) - far) | DISTANCE_BITS) !== -1)
        this.#listMiddles(2 * pair, up, down);
      const isDownLess = laneMask(((up | TOP_BITS) - down) & TOP_BITS);
      pairs[start + pair] = (down & isDownLess) | (up & ~isDownLess) | kinds;
    }
  }

  /** Pairs of one kind, where the pairs below them and the pair before the first are of that kind too. */
  #scanUniform(y: number, from: number, to: number, kinds: number): void {
    const pairs = this.#pairs;
    const below = this.#below;
    const far = this.#far;
    const start = y * below.length;
    for (let pair = from; pair < to; pair++) {
      const up = pairs[start + pair]! & DISTANCE_BITS;
      const downward = below[pair]! + ONE_EACH;
      below[pair] = downward;
      const down = downward & DISTANCE_BITS;
      const difference = up ^ down;
      // The lesser of the two; the rest of the difference makes it the greater.
      const less = up ^ (difference & laneMask(((up | TOP_BITS) - down) & TOP_BITS));
      if (((((difference ^ less) | TOP_BITS) - far) & TOP_BITS) !== TOP_BITS)
        this.#listMiddles(2 * pair, up, down);
      pairs[start + pair] = less | kinds;
    }
  }

  /** Lists where the kind changes at the two cells from x on. */
  #listBoundaries(x: number, before: number, kinds: number): void {
    const isLastClear = (before & 0x8000) !== 0;
    const isFirstClear = (kinds & 0x8000) !== 0;
    const isSecondClear = kinds < 0;
    if (isFirstClear !== isLastClear && x > 0) this.boundaries[this.boundaryCount++] = x;
    if (isSecondClear !== isFirstClear && x + 1 < this.#width) this.boundaries[this.boundaryCount++] = x + 1;
  }

  #listMiddles(x: number, up: number, down: number): void {
    this.#listIfMiddle(x, up & 0xffff, down & 0xffff);
    if (x + 1 < this.#width) this.#listIfMiddle(x + 1, up >>> 16, down >>> 16);
  }

  #listIfMiddle(x: number, up: number, down: number): void {
    const surplus = up - down;
    if ((surplus !== 0 && surplus !== 1) || up + down > this.#maxRun) return;
    this.lengths[this.middleCount] = up + down - 1;
    this.middles[this.middleCount++] = x;
  }
}
