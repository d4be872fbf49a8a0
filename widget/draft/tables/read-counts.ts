import { COUNT_MAX } from '../draft-limits.ts';
import { parseWholeNumber, toAsciiDigits } from '../whole-number.ts';
import { csvCells, type NamedSize, sizeFinder } from './csv-cells.ts';

/** A cell that could not be read; row and column count from 1, as in a spreadsheet. */
export type RefusedCell = { readonly row: number; readonly column: number; readonly text: string };

export type PastedCounts = {
  readonly counts: readonly { readonly size: string; readonly count: number }[];
  readonly refused: readonly RefusedCell[];
};

/** A count as spreadsheets write it: with grouping (1,200) or a zero fraction (12.0); null for anything else. */
function countIn(cell: string): number | null {
  const plain = toAsciiDigits(cell);
  return parseWholeNumber(
    /^\d{1,3}([.,'\u2019 \u00a0\u202f]\d{3})+$/.test(plain)
      ? plain.replace(/\D/g, '')
      : plain.replace(/[.,]0{1,2}$/, ''),
    COUNT_MAX,
  );
}

/** Headings of totals, which are not counts. */
const TOTAL_HEADING = /^(total|sum|summe|gesamt|suma|合計|المجموع)/i;

const hasDigit = (cell: string): boolean => /\p{Nd}/u.test(cell);

/**
 * Reads counts from cells copied out of a spreadsheet: a row of sizes above a row of counts, a column of sizes beside a
 * column of counts, or counts alone, which fill the fields from `from` on. The counts of a size named twice are added.
 * Ignores text beside them, such as headings or a color; every other cell that is neither size nor count is refused.
 */
export function parseCounts(text: string, sizes: readonly NamedSize[], from: string): PastedCounts {
  const rows = csvCells(text);
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
    // a row of sizes: the counts are in the next row; numbers in later rows are refused
    const [below, ...others] = filled.filter((index) => index > heading);
    const head = rows[heading]!;
    head.forEach((cell, column) => {
      const size = sizeOf(cell);
      if (below !== undefined && rows[below]![column]) {
        if (size) take(size, below, column);
        else if (hasDigit(rows[below]![column]!) && !TOTAL_HEADING.test(cell))
          refuse(cell ? heading : below, column);
      }
    });
    for (const row of others)
      rows[row]!.forEach((cell, column) => {
        if (hasDigit(cell)) refuse(row, column);
      });
  } else if (rows.some((row) => row.some((cell) => sizeOf(cell)))) {
    // a column of sizes
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
      } else if (numbers.length > 0 && !TOTAL_HEADING.test(cells.find((cell) => cell !== '') ?? ''))
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
        // an empty cell skips a field, except in a single column of counts
        if (cell !== '' || rows[row]!.length > 1) next++;
      });
    // text without any counts is refused once, not cell by cell
    if (counts.size === 0 && refused.length > 0) return { counts: [], refused: refused.slice(0, 1) };
  }
  return { counts: [...counts].map(([size, count]) => ({ size, count })), refused };
}
