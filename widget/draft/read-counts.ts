import { type NamedSize, sizeFinder, tableCells } from './csv-cells.ts';
import { COUNT_MAX } from './draft-limits.ts';
import { plainDigits, wholeNumber } from './whole-number.ts';

/** A cell that was not taken, counted from 1 as a spreadsheet shows it. */
export type RefusedCell = { readonly row: number; readonly column: number; readonly text: string };

/** What pasted cells say. */
export type PastedCounts = {
  readonly counts: readonly { readonly size: string; readonly count: number }[];
  readonly refused: readonly RefusedCell[];
};

/** A count as spreadsheets write it: grouped in threes (1,200), or with a fraction of nothing (12.0). */
function countIn(cell: string): number | null {
  const plain = plainDigits(cell);
  return wholeNumber(
    /^\d{1,3}([.,'\u2019 \u00a0\u202f]\d{3})+$/.test(plain)
      ? plain.replace(/\D/g, '')
      : plain.replace(/[.,]0{1,2}$/, ''),
    COUNT_MAX,
  );
}

/** What stands over or before a sum. */
const TOTAL = /^(total|sum|summe|gesamt|suma|合計|المجموع)/i;

const hasDigit = (cell: string): boolean => /\p{Nd}/u.test(cell);

/**
 * Reads counts from cells copied out of a spreadsheet: a row of sizes over a row of counts, a column of sizes beside a
 * column of counts, or bare counts, which fill the fields from `from` on. A size named twice gets the sum. Words beside
 * them (headings, a color) are passed over; every other cell that is neither size nor count is named as refused.
 */
export function readCounts(text: string, sizes: readonly NamedSize[], from: string): PastedCounts {
  const rows = tableCells(text);
  const sizeOf = sizeFinder(sizes);
  const counts = new Map<string, number>();
  const refused: RefusedCell[] = [];
  const refuse = (row: number, column: number): void => {
    refused.push({ row: row + 1, column: column + 1, text: rows[row]![column]! });
  };
  const take = (size: string, row: number, column: number): void => {
    const count = countIn(rows[row]![column]!);
    const sum = (counts.get(size) ?? 0) + (count ?? 0);
    if (count === null || sum > COUNT_MAX) refuse(row, column);
    else counts.set(size, sum);
  };

  const filled = rows.flatMap((row, index) => (row.some((cell) => cell !== '') ? [index] : []));
  const heading = filled.find((index) => rows[index]!.filter((cell) => sizeOf(cell)).length > 1);
  if (heading !== undefined) {
    // sizes across: the row below has the counts; another below it is of something else
    const [below, ...others] = filled.filter((index) => index > heading);
    const head = rows[heading]!;
    head.forEach((cell, column) => {
      const size = sizeOf(cell);
      if (below !== undefined && rows[below]![column]) {
        if (size) take(size, below, column);
        else if (hasDigit(rows[below]![column]!) && !TOTAL.test(cell)) refuse(cell ? heading : below, column);
      }
    });
    for (const row of others)
      rows[row]!.forEach((cell, column) => {
        if (hasDigit(cell)) refuse(row, column);
      });
  } else if (rows.some((row) => row.some((cell) => sizeOf(cell)))) {
    // sizes down
    for (const row of filled) {
      const cells = rows[row]!;
      const at = cells.findIndex((cell) => sizeOf(cell));
      const size = sizeOf(cells[at] ?? '');
      const numbers = cells.flatMap((cell, column) => (column !== at && hasDigit(cell) ? [column] : []));
      const after = numbers.find((column) => column > at) ?? numbers[0];
      if (size && after !== undefined) take(size, row, after);
      else if (size) {
        const other = cells.findIndex((cell, column) => column !== at && cell !== '');
        if (other >= 0) refuse(row, other);
      } else if (numbers.length > 0 && !TOTAL.test(cells.find((cell) => cell !== '') ?? ''))
        refuse(
          row,
          cells.findIndex((cell) => cell !== ''),
        );
    }
  } else {
    const start = sizes.findIndex((size) => size.id === from);
    let next = start;
    for (const row of filled)
      rows[row]!.forEach((cell, column) => {
        const size = sizes[next];
        if (cell !== '' && (!size || countIn(cell) === null)) refuse(row, column);
        else if (cell !== '') take(size!.id, row, column);
        // a cell holds its field's place, but an empty one at the edge of a column of counts does not
        if (cell !== '' || rows[row]!.length > 1) next++;
      });
    // words alone are no counts: nothing is said of each
    if (counts.size === 0 && refused.length > 0) return { counts: [], refused: refused.slice(0, 1) };
  }
  return { counts: [...counts].map(([size, count]) => ({ size, count })), refused };
}
