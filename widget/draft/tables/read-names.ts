import type { NameEntry } from '../../../src/contract/index.ts';
import { csvCells, type NamedSize, sizeFinder } from './csv-cells.ts';

/** What is wrong with a row of a names list; `row` counts from 1, including empty rows. */
export type NamesFault = {
  readonly code: 'too-long' | 'too-many' | 'unknown-size' | 'no-name';
  readonly row: number;
  readonly text: string;
};

/** Most entries of a names list and most characters of a name, as in the contract. */
const ENTRIES_MAX = 2_000;
const TEXT_MAX = 40;

/** Headings of the names column and of other columns, in the languages of the slip. */
const NAME_HEADING = /^(name|names|player|text|nombre|nombres|texto|名前|氏名|الاسم|اسم)$/i;
const OTHER_HEADING =
  /^(number|no|nr|#|size|sizes|größe|groesse|nummer|anzahl|talla|tallas|número|numero|番号|サイズ|المقاس|مقاس|الرقم|رقم)\.?$/i;

/**
 * Reads a list of names or numbers, one row a piece: the name in one column and, if there is one, the size in another, in
 * either order. Skips a heading row. The size is null where a row has none.
 */
export function parseNames(
  text: string,
  sizes: readonly NamedSize[],
): { readonly entries: { text: string; size: string | null }[]; readonly faults: NamesFault[] } {
  const rows = csvCells(text);
  const sizeOf = sizeFinder(sizes);
  const filled = rows.flatMap((cells, index) =>
    cells.some((cell) => cell !== '') ? [{ cells, index }] : [],
  );
  const columns = [...Array(Math.max(0, ...rows.map((cells) => cells.length))).keys()];
  const sizesInColumn = (column: number): number =>
    filled.filter(({ cells }) => sizeOf(cells[column] ?? '') !== undefined).length;

  const head = filled[0]?.cells ?? [];
  // a size column needs another column for the names
  const bySizes =
    columns.length > 1 ? [...columns].sort((a, b) => sizesInColumn(b) - sizesInColumn(a))[0]! : -1;
  const sizeAt =
    bySizes >= 0 && sizesInColumn(bySizes) > 0 ? bySizes : columns.length > 1 ? columnOfSizes(head) : -1;
  const hasHeading = head.some((cell) => NAME_HEADING.test(cell) || OTHER_HEADING.test(cell));
  const nameHead = head.findIndex((cell, column) => column !== sizeAt && NAME_HEADING.test(cell));
  const nameAt = nameHead >= 0 ? nameHead : (columns.find((column) => column !== sizeAt) ?? 0);

  const entries: { text: string; size: string | null }[] = [];
  const faults: NamesFault[] = [];
  for (const { cells, index } of hasHeading ? filled.slice(1) : filled) {
    const row = index + 1;
    const name = cells[nameAt] ?? '';
    const sizeCell = sizeAt >= 0 ? (cells[sizeAt] ?? '') : '';
    const size = sizeOf(sizeCell) ?? null;
    if (sizeCell !== '' && size === null) faults.push({ code: 'unknown-size', row, text: sizeCell });
    if (name === '') faults.push({ code: 'no-name', row, text: sizeCell });
    else if ([...name].length > TEXT_MAX) faults.push({ code: 'too-long', row, text: name });
    else if (entries.length >= ENTRIES_MAX) {
      faults.push({ code: 'too-many', row, text: name });
      break;
    } else entries.push({ text: name, size });
  }
  return { entries, faults };
}

function columnOfSizes(head: readonly string[]): number {
  return head.findIndex((cell) => /^(size|sizes|größe|groesse|talla|tallas|サイズ|المقاس|مقاس)$/i.test(cell));
}

/**
 * Gives every name a size: its own, else the size of the next piece without a name, else that of the last piece, or
 * `first` when there are no pieces.
 */
export function assignSizes(
  entries: readonly { readonly text: string; readonly size: string | null }[],
  counts: readonly { readonly size: string; readonly count: number }[],
  first: string,
): NameEntry[] {
  const left = new Map(counts.map(({ size, count }) => [size, count]));
  for (const { size } of entries) if (size !== null) left.set(size, (left.get(size) ?? 0) - 1);
  return entries.map(({ text, size }) => {
    if (size !== null) return { size, text };
    const open = counts.find((entry) => (left.get(entry.size) ?? 0) > 0)?.size;
    if (open !== undefined) left.set(open, left.get(open)! - 1);
    return { size: open ?? counts.at(-1)?.size ?? first, text };
  });
}

/** Number of names of each size, in the order of `order`. */
export function countNamesBySize(
  entries: readonly NameEntry[],
  order: readonly string[],
): { size: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const entry of entries) counts.set(entry.size, (counts.get(entry.size) ?? 0) + 1);
  return [...counts]
    .map(([size, count]) => ({ size, count }))
    .sort((a, b) => order.indexOf(a.size) - order.indexOf(b.size));
}
