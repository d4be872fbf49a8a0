/**
 * Squared Euclidean distance, exact, from pixel (x, y) to the nearest pixel of the other kind, given the signed column
 * distances of its row (`columns[row + x]`, positive for ink, negative for clear). Looks outward only as far as the
 * answer so far. Beyond the row's ends there is no ink.
 */
export function squaredDistanceAt(columns: Int16Array, row: number, width: number, x: number): number {
  const own = columns[row + x]!;
  if (own > 0) {
    let least = own * own;
    for (let step = 1; step * step < least; step++) {
      const across = step * step;
      const before = x >= step ? columns[row + x - step]! : 0;
      const after = x + step < width ? columns[row + x + step]! : 0;
      const lower = Math.min(before, after);
      const squared = lower <= 0 ? across : across + lower * lower;
      if (squared < least) least = squared;
    }
    return least;
  }
  let least = own * own;
  for (let step = 1; step * step < least; step++) {
    const across = step * step;
    const before = x >= step ? columns[row + x - step]! : Number.NEGATIVE_INFINITY;
    const after = x + step < width ? columns[row + x + step]! : Number.NEGATIVE_INFINITY;
    if (before === Number.NEGATIVE_INFINITY && after === Number.NEGATIVE_INFINITY) break;
    const higher = Math.max(before, after);
    const squared = higher >= 0 ? across : across + higher * higher;
    if (squared < least) least = squared;
  }
  return least;
}
