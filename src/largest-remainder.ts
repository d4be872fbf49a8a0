/**
 * Scales counts to a total, as nearly in proportion as whole numbers allow, by the method of largest remainders. Entries
 * that come to 0 are left out.
 */
export function scaleToTotal<T extends { readonly count: number }>(
  entries: readonly T[],
  total: number,
): T[] {
  const sum = entries.reduce((all, { count }) => all + count, 0);
  const exact = entries.map(({ count }) => (count * total) / sum);
  const counts = exact.map(Math.floor);
  const left = total - counts.reduce((all, count) => all + count, 0);
  const remainders = exact.map((share, place) => share - counts[place]!);
  for (const place of largestRemainders(remainders, left)) counts[place]!++;
  return entries.flatMap((entry, place) => (counts[place]! > 0 ? [{ ...entry, count: counts[place]! }] : []));
}

/** The places of the `many` largest remainders; of equal ones the first. */
export function largestRemainders(remainders: readonly (number | bigint)[], many: number): number[] {
  const places = remainders.map((_, place) => place);
  places.sort((one, other) => {
    if (remainders[one]! === remainders[other]!) return one - other;
    return remainders[one]! > remainders[other]! ? -1 : 1;
  });
  return places.slice(0, many);
}
