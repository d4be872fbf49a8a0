/** Index of the first of ascending entries that is over `at`; the length when there is none. */
export function upperBound(entries: ArrayLike<number>, at: number): number {
  let low = 0;
  let high = entries.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (entries[middle]! > at) high = middle;
    else low = middle + 1;
  }
  return low;
}
