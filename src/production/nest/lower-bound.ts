import type { Bin, Item } from './types.ts';

/**
 * A lower bound on the sheets of any layout: the larger of the total area, in sheets, and the number of prints so large
 * that no two of them fit one sheet.
 */
export function sheetLowerBound(bin: Bin, items: readonly Item[], mayTurn: boolean): number {
  let area = 0n;
  let large = 0;
  for (const { width, height, count } of items) {
    area += BigInt(width) * BigInt(height) * BigInt(count);
    if (isLarge(bin, width, height, mayTurn)) large += count;
  }
  const sheet = BigInt(bin.width) * BigInt(bin.height);
  return Math.max(Number((area + sheet - 1n) / sheet), large);
}

/** Two prints that are each over half of both sides of the sheet, in either orientation, overlap at its center. */
function isLarge(bin: Bin, width: number, height: number, mayTurn: boolean): boolean {
  if (2 * width <= bin.width || 2 * height <= bin.height) return false;
  return !mayTurn || (2 * height > bin.width && 2 * width > bin.height);
}
