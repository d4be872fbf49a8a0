/** A tile is 32 pixels of one row, fewer at the right edge; the first begins at the left edge of the picture. */
export const TILE_SHIFT = 5;

/** Kinds of tiles: all clear, all opaque, both clear and opaque, or with at least one partly transparent pixel. */
export const TILE_CLEAR = 0;
export const TILE_OPAQUE = 1;
export const TILE_BINARY = 2;
export const TILE_SOFT = 3;

/** The kind of every tile of a picture, row by row: later passes skip the pixels of tiles of one kind. */
export type Tiles = {
  /** tiles in a row. */
  readonly across: number;
  readonly kinds: Uint8Array;
};

/** Number of tiles in a row of `width` pixels. */
export function tilesAcross(width: number): number {
  return (width + (1 << TILE_SHIFT) - 1) >> TILE_SHIFT;
}
