/**
 * The printable area of a sheet, in whole micrometers so that sums are exact. The gap between prints is counted into
 * them: every item is one gap wider and higher, and so is the bin, so that no gap is needed at its right and lower edge.
 */
export type Bin = { readonly width: number; readonly height: number };

/** Prints of one size, gap included, in whole micrometers. */
export type Item = { readonly width: number; readonly height: number; readonly count: number };

/** Prints of one item in rows and columns; `x` and `y` of the upper left corner. */
export type Block = {
  /** index of the item. */
  readonly item: number;
  readonly x: number;
  readonly y: number;
  /** rotated by a quarter turn. */
  readonly turned: boolean;
  readonly columns: number;
  readonly rows: number;
};

/** One layout and the number of sheets that have it. */
export type RepeatedSheet = { readonly times: number; readonly blocks: readonly Block[] };
