/**
 * Cells of `ColumnDistances`, alone and in pairs. A cell has 16 bits: the top bit is set for a clear pixel, the others
 * are a distance. A pair is two cells in one 32-bit word, so that two columns are stepped at once.
 */

/** Distance from which a clear cell means: no ink on that side within the box. */
const UNBOUNDED = 16_384;
/** Largest distance a cell can hold. */
const MAX_DISTANCE = 0x7fff;

/** Of both cells of a pair: the top bits, the distances, and a distance of one. */
export const TOP_BITS = 0x80008000 | 0;
export const DISTANCE_BITS = 0x7fff7fff;
export const ONE_EACH = 0x00010001;
/** Two clear cells with no ink on one side. */
export const UNBOUNDED_PAIR = TOP_BITS | (UNBOUNDED * ONE_EACH);

/** The distance in the cell of a clear pixel. */
export function clearDistance(cell: number): number {
  return cell & MAX_DISTANCE;
}

/** The next cell of a column: of the same kind as the one before, its distance is one more; of the other kind, it is 1. */
export function nextCell(before: number, isInk: boolean): number {
  const distance = isInk === before > 0 ? Math.min(MAX_DISTANCE, (before & MAX_DISTANCE) + 1) : 1;
  return isInk ? distance : distance | ~MAX_DISTANCE;
}

/**
 * The next pair of two columns; see `nextCell`. Distances must stay below 32,767.
 *
 * @param kinds top bits of the new cells.
 */
export function nextPair(before: number, kinds: number): number {
  const changed = laneMask((before ^ kinds) & TOP_BITS);
  return ((before & DISTANCE_BITS & ~changed) + ONE_EACH) | kinds;
}

/** All ones in each half whose top bit is set. */
export function laneMask(tops: number): number {
  const ones = (tops >>> 15) & ONE_EACH;
  return (ones << 16) - ones;
}
