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
/** A soft pixel with both solid and clear pixels this near, across and down, belongs to an antialiased edge, px. */
const REACH = 2;
/** Rows kept at a time. */
const ROWS = 2 * REACH + 1;
/** Four pixels are a quad, one byte each in a word. */
const QUADS_SHIFT = TILE_SHIFT - 2;
const QUADS_PER_TILE = 1 << QUADS_SHIFT;

/** Deep soft pixels: see `eachDeepSoft`. */
export type DeepSoft = { readonly count: number; readonly box: PixelBox | undefined };

/** A mask (1) of the deep soft pixels of a picture; see `eachDeepSoft`. */
export function markDeepSoft(raster: Raster): Uint8Array {
  const { width, height } = raster;
  const marks = new Uint8Array(width * height);
  eachDeepSoft(raster, collectPixelStats(raster).tiles, (x, y, deep) => {
    for (let at = y * width + x, rest = deep; rest !== 0; at++, rest >>>= 8)
      if ((rest & SOFT) !== 0) marks[at] = 1;
  });
  return marks;
}

/** Counts the deep soft pixels and finds their bounding box; see `eachDeepSoft`. */
export function countDeepSoft(raster: Raster, tiles: Tiles): DeepSoft {
  let count = 0;
  let left = raster.width;
  let right = -1;
  let top = -1;
  let bottom = -1;
  eachDeepSoft(raster, tiles, (x, y, deep) => {
    // One bit for each pixel: multiplied by 0x01010101, the top byte is their sum.
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
    box: count === 0 ? undefined : { left, top, width: right - left + 1, height: bottom - top + 1 },
  };
}

/**
 * Finds the deep soft pixels: those with alpha 1..254 that do not have both a solid and a clear pixel in the 5 x 5
 * pixels around them. These are shadows, glows and fades, but not the antialiased edges of solid shapes. Everything
 * outside the picture is clear.
 *
 * @param onQuad called for each quad from (x, y) to the right that has any: bit 2 of byte n is set if its nth pixel is
 *   one. Rows come from the top, quads from the left.
 */
function eachDeepSoft(
  raster: Raster,
  tiles: Tiles,
  onQuad: (x: number, y: number, deep: number) => void,
): void {
  const rows = new NeighborhoodRows(raster, tiles);
  const { across, kinds } = tiles;
  for (let y = 0; y < raster.height; y++)
    for (let tile = 0; tile < across; tile++) {
      if (kinds[y * across + tile] !== TILE_SOFT) continue;
      const middle = rows.row(y, tile);
      const a = rows.row(y - 2, tile);
      const b = rows.row(y - 1, tile);
      const c = rows.row(y + 1, tile);
      const d = rows.row(y + 2, tile);
      for (let quad = tile << QUADS_SHIFT; quad < (tile + 1) << QUADS_SHIFT; quad++) {
        const own = middle[quad]!;
        const soft = own & SOFT_X4;
        if (soft === 0) continue;
        const all = own | a[quad]! | b[quad]! | c[quad]! | d[quad]!;
        // Bit 2 of a byte: soft, without both clear and solid pixels near.
        const deep = soft & ~((all & (all << 1) & SOLID_X4) << 1);
        if (deep !== 0) onQuad(4 * quad, y, deep);
      }
    }
}

/**
 * For the pixels of a row, the kinds of pixels within reach to their left and right, and whether they are soft: one byte
 * for each pixel, four to a word. Computed tile by tile on demand, and kept for as long as later rows may need it.
 */
class NeighborhoodRows {
  readonly #width: number;
  readonly #height: number;
  readonly #words: Uint32Array;
  readonly #tiles: Tiles;
  readonly #rows: readonly Int32Array[];
  /** the row for which each tile of `#rows` was last computed. */
  readonly #computed: readonly Int32Array[];
  readonly #outside: Int32Array;

  constructor(raster: Raster, tiles: Tiles) {
    this.#width = raster.width;
    this.#height = raster.height;
    this.#words = pixelWords(raster);
    this.#tiles = tiles;
    const quads = tiles.across << QUADS_SHIFT;
    this.#rows = Array.from({ length: ROWS }, () => new Int32Array(quads));
    this.#computed = Array.from({ length: ROWS }, () => new Int32Array(tiles.across).fill(-1));
    this.#outside = new Int32Array(quads).fill(ALL_CLEAR);
  }

  /** A row of quads, of which only those of the given tile are valid. */
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
    for (let quad = first; quad < first + QUADS_PER_TILE; quad++) {
      const after = this.#quadAt(y, quad + 1);
      // Shifted by one and two bytes each way, with the bytes of the neighboring quads shifted in.
      const around =
        (own << 8) |
        (before >>> 24) |
        (own << 16) |
        (before >>> 16) |
        (own >>> 8) |
        (after << 24) |
        (own >>> 16) |
        (after << 16);
      row[quad] = (around & CLEAR_OR_SOLID_X4) | own;
      before = own;
      own = after;
    }
  }

  /** The kind of each of four pixels: clear, solid or soft. */
  #quadAt(y: number, quad: number): number {
    const x = 4 * quad;
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
