/** Index of the first of ascending entries that is greater than `value`; the length when there is none. */
export function upperBound(entries: ArrayLike<number>, value: number): number {
  let low = 0;
  let high = entries.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (entries[middle]! > value) high = middle;
    else low = middle + 1;
  }
  return low;
}
