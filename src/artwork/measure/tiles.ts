/** A tile is a stretch of up to 32 pixels of one row; the first begins at the left border of the picture. */
export const TILE_SHIFT = 5;

/** What a tile holds: only clear pixels, only opaque ones, both of them, or soft ones among whatever else. */
export const TILE_CLEAR = 0;
export const TILE_OPAQUE = 1;
export const TILE_BINARY = 2;
export const TILE_SOFT = 3;

/** What every tile of a picture holds, row by row: later passes need not look into those of one kind. */
export type Tiles = {
  /** tiles in a row. */
  readonly across: number;
  readonly kinds: Uint8Array;
};

/** Tiles in a row of so many pixels. */
export function tilesAcross(width: number): number {
  return (width + (1 << TILE_SHIFT) - 1) >> TILE_SHIFT;
}
