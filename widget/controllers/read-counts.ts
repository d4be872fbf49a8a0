/** A count found in pasted text; `named` when its size was named beside it. */
export type PastedCount = { size: string; count: number; named: boolean };

const whole = (cell: string): number | null =>
  /^\d{1,5}$/.test(cell) && Number(cell) <= 10_000 ? Number(cell) : null;

/**
 * Reads counts from cells copied out of a spreadsheet: rows of size and count, a row of sizes over a row of counts,
 * or bare counts, which fill the fields from `from` on. Cells are parted by tabs, semicolons or commas.
 * @param sizes ids with every name the size may go by.
 */
export function readCounts(
  text: string,
  sizes: readonly { id: string; names: readonly string[] }[],
  from: string,
): PastedCount[] {
  const rows = text
    .split(/\r?\n/)
    .map((row) => row.split(/[\t;,]/).map((cell) => cell.trim()))
    .filter((row) => row.some((cell) => cell !== ''));
  const sizeOf = (cell: string): string | undefined =>
    sizes.find((size) => size.names.some((name) => name.toLowerCase() === cell.toLowerCase()))?.id;

  const [first = [], second = []] = rows;
  if (rows.length === 2 && first.length > 1 && first.every((cell) => cell === '' || sizeOf(cell)))
    return first.flatMap((cell, index) => {
      const size = sizeOf(cell);
      const count = whole(second[index] ?? '');
      return size && count !== null ? [{ size, count, named: true }] : [];
    });

  const named = rows.flatMap((row) => {
    const size = row.map(sizeOf).find((found) => found !== undefined);
    const count = row
      .filter((cell) => sizeOf(cell) !== size || size === undefined)
      .map(whole)
      .find((value) => value !== null);
    return size && count !== undefined && count !== null ? [{ size, count, named: true }] : [];
  });
  if (named.length > 0) return named;

  const bare = rows.flat().map(whole);
  if (bare.length === 0 || bare.some((value) => value === null)) return [];
  const start = sizes.findIndex((size) => size.id === from);
  return bare.flatMap((count, index) => {
    const size = sizes[start + index];
    return size && count !== null ? [{ size: size.id, count, named: false }] : [];
  });
}
