import type { PixelBox } from '../../contract/facts.ts';
import { pixelWords, type Raster } from '../raster.ts';
import { collectPixelStats } from './pixel-stats.ts';
import { TILE_CLEAR, TILE_OPAQUE, TILE_SHIFT, TILE_SOFT, type Tiles } from './tiles.ts';

const CLEAR = 1;
const SOLID = 2;
const SOFT = 4;
const SOFT_X4 = 0x04040404;
const SOLID_X4 = 0x02020202;
const CLEAR_OR_SOLID_X4 = 0x03030303;
const ALL_SOLID = 0x02020202;
const ALL_CLEAR = 0x01010101;
const KIND_OF_ALPHA = Uint8Array.from({ length: 256 }, (_, alpha) =>
  alpha === 0 ? CLEAR : alpha === 255 ? SOLID : SOFT,
);
/** How far, in pixels across and down, both solid and clear must be for a soft pixel to be part of a smooth edge. */
const REACH = 2;
/** Rows kept. */
const ROWS = 2 * REACH + 1;
/** Four pixels are told together, a byte each. */
const QUADS_SHIFT = TILE_SHIFT - 2;
const QUADS_PER_TILE = 1 << QUADS_SHIFT;

export type DeepSoft = { readonly count: number; readonly box: PixelBox | null };

/**
 * Marks (1) the deep soft pixels of a whole picture; see `eachDeepSoft`.
 */
export function markDeepSoft(raster: Raster): Uint8Array {
  const { width, height } = raster;
  const marks = new Uint8Array(width * height);
  eachDeepSoft(raster, collectPixelStats(raster).tiles, (x, y, deep) => {
    for (let at = y * width + x, rest = deep; rest !== 0; at++, rest >>>= 8)
      if ((rest & SOFT) !== 0) marks[at] = 1;
  });
  return marks;
}

/** Counts the deep soft pixels and finds the box they lie in; see `eachDeepSoft`. */
export function countDeepSoft(raster: Raster, tiles: Tiles): DeepSoft {
  let count = 0;
  let left = raster.width;
  let right = -1;
  let top = -1;
  let bottom = -1;
  eachDeepSoft(raster, tiles, (x, y, deep) => {
    // One bit a pixel: times 0x01010101 the top byte is their sum.
    count += Math.imul(deep >>> 2, 0x01010101) >>> 24;
    if (x < left || x + 3 > right)
      for (let at = x, rest = deep; rest !== 0; at++, rest >>>= 8)
        if ((rest & SOFT) !== 0) {
          if (at < left) left = at;
          if (at > right) right = at;
        }
    if (top < 0) top = y;
    bottom = y;
  });
  return {
    count,
    box: count === 0 ? null : { left, top, width: right - left + 1, height: bottom - top + 1 },
  };
}

/**
 * Finds the soft pixels (alpha 1..254) that do not have both a solid and a clear pixel among the 5 x 5 around them:
 * shadows, glows and fades, but not the smooth edges of solid shapes. Beyond the picture all is clear.
 *
 * @param onPixels called for each four pixels from (x, y) to the right with any such among them: bit 2 of byte n is set
 *   where the nth is one. Rows come from the top, each from the left.
 */
function eachDeepSoft(
  raster: Raster,
  tiles: Tiles,
  onPixels: (x: number, y: number, deep: number) => void,
): void {
  const surroundings = new NeighborhoodRows(raster, tiles);
  const { across, kinds } = tiles;
  for (let y = 0; y < raster.height; y++)
    for (let tile = 0; tile < across; tile++) {
      if (kinds[y * across + tile] !== TILE_SOFT) continue;
      const middle = surroundings.row(y, tile);
      const a = surroundings.row(y - 2, tile);
      const b = surroundings.row(y - 1, tile);
      const c = surroundings.row(y + 1, tile);
      const d = surroundings.row(y + 2, tile);
      for (let four = tile << QUADS_SHIFT; four < (tile + 1) << QUADS_SHIFT; four++) {
        const own = middle[four]!;
        const soft = own & SOFT_X4;
        if (soft === 0) continue;
        const all = own | a[four]! | b[four]! | c[four]! | d[four]!;
        // Bit 2 of a byte: soft, and not both of clear and solid are near.
        const deep = soft & ~((all & (all << 1) & SOLID_X4) << 1);
        if (deep !== 0) onPixels(4 * four, y, deep);
      }
    }
}

/**
 * For pixels of a row what is within reach to their left and right, and whether they are soft themselves: a byte a pixel,
 * four to a word. Worked out tile by tile where it is asked for, and kept while the next rows may ask again.
 */
class NeighborhoodRows {
  readonly #width: number;
  readonly #height: number;
  readonly #words: Uint32Array;
  readonly #tiles: Tiles;
  readonly #rows: readonly Int32Array[];
  /** the row that each tile of `#rows` was last worked out for. */
  readonly #computed: readonly Int32Array[];
  readonly #outside: Int32Array;

  constructor(raster: Raster, tiles: Tiles) {
    this.#width = raster.width;
    this.#height = raster.height;
    this.#words = pixelWords(raster);
    this.#tiles = tiles;
    const fours = tiles.across << QUADS_SHIFT;
    this.#rows = Array.from({ length: ROWS }, () => new Int32Array(fours));
    this.#computed = Array.from({ length: ROWS }, () => new Int32Array(tiles.across).fill(-1));
    this.#outside = new Int32Array(fours).fill(ALL_CLEAR);
  }

  /** A row of fours, right for one tile of it. */
  row(y: number, tile: number): Int32Array {
    if (y < 0 || y >= this.#height) return this.#outside;
    const row = this.#rows[y % ROWS]!;
    const known = this.#computed[y % ROWS]!;
    if (known[tile] !== y) {
      known[tile] = y;
      this.#compute(y, tile, row);
    }
    return row;
  }

  #compute(y: number, tile: number, row: Int32Array): void {
    const { across, kinds } = this.#tiles;
    const at = y * across + tile;
    const kind = kinds[at]!;
    const first = tile << QUADS_SHIFT;
    const inside = tile > 0 && tile + 1 < across;
    if (inside && kind <= TILE_OPAQUE && kinds[at - 1] === kind && kinds[at + 1] === kind) {
      row.fill(kind === TILE_CLEAR ? ALL_CLEAR : ALL_SOLID, first, first + QUADS_PER_TILE);
      return;
    }
    let before = this.#quadAt(y, first - 1);
    let own = this.#quadAt(y, first);
    for (let four = first; four < first + QUADS_PER_TILE; four++) {
      const after = this.#quadAt(y, four + 1);
      // Shifted by one and two bytes either way, with the neighbors' bytes let in.
      const around =
        (own << 8) |
        (before >>> 24) |
        (own << 16) |
        (before >>> 16) |
        (own >>> 8) |
        (after << 24) |
        (own >>> 16) |
        (after << 16);
      row[four] = (around & CLEAR_OR_SOLID_X4) | own;
      before = own;
      own = after;
    }
  }

  /** Clear, solid or soft: a byte for each of four pixels. */
  #quadAt(y: number, four: number): number {
    const x = 4 * four;
    if (x < 0 || x >= this.#width) return ALL_CLEAR;
    const words = this.#words;
    const at = y * this.#width + x;
    if (x + 4 > this.#width) {
      let kinds = ALL_CLEAR;
      for (let pixel = 0; x + pixel < this.#width; pixel++) {
        kinds &= ~(0xff << (8 * pixel));
        kinds |= KIND_OF_ALPHA[words[at + pixel]! >>> 24]! << (8 * pixel);
      }
      return kinds;
    }
    const a = words[at]!;
    const b = words[at + 1]!;
    const c = words[at + 2]!;
    const d = words[at + 3]!;
    if ((a & b & c & d) >>> 24 === 255) return ALL_SOLID;
    if ((a | b | c | d) >>> 24 === 0) return ALL_CLEAR;
    return (
      KIND_OF_ALPHA[a >>> 24]! |
      (KIND_OF_ALPHA[b >>> 24]! << 8) |
      (KIND_OF_ALPHA[c >>> 24]! << 16) |
      (KIND_OF_ALPHA[d >>> 24]! << 24)
    );
  }
}
