import type { Kind, Room } from './like.ts';

/**
 * Sheets that no layout can do with less of: the area of all prints, and one sheet for each print of which no two, even
 * turned, fit one sheet.
 */
export function leastSheets(room: Room, kinds: readonly Kind[], mayTurn: boolean): number {
  let area = 0n;
  let large = 0;
  for (const { width, height, count } of kinds) {
    area += BigInt(width) * BigInt(height) * BigInt(count);
    if (isLarge(room, width, height, mayTurn)) large += count;
  }
  const sheet = BigInt(room.width) * BigInt(room.height);
  return Math.max(Number((area + sheet - 1n) / sheet), large);
}

/**
 * Two prints, each over half of both sides of the sheet whichever way they lie, overlap at the sheet's middle.
 */
function isLarge(room: Room, width: number, height: number, mayTurn: boolean): boolean {
  if (2 * width <= room.width || 2 * height <= room.height) return false;
  return !mayTurn || (2 * height > room.width && 2 * width > room.height);
}
