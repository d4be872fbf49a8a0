import type { NameEntry } from '../../src/contract/index.ts';
import { type NamedSize, sizeFinder, tableCells } from './csv-cells.ts';

/** What was wrong with a row of a names list; `row` counts from 1, empty rows too. */
export type NamesFault = {
  readonly code: 'too-long' | 'too-many' | 'unknown-size' | 'no-name';
  readonly row: number;
  readonly text: string;
};

/** Most pieces a names list may hold, and most characters of one name; as the contract has it. */
const ENTRIES_MAX = 2_000;
const TEXT_MAX = 40;

/** Headings over the names and over the sizes, in the languages of the slip. */
const NAME_HEADING = /^(name|names|player|text|nombre|nombres|texto|名前|氏名|الاسم|اسم)$/i;
const OTHER_HEADING =
  /^(number|no|nr|#|size|sizes|größe|groesse|nummer|anzahl|talla|tallas|número|numero|番号|サイズ|المقاس|مقاس|الرقم|رقم)\.?$/i;

/**
 * Reads a list of names or numbers: one row a piece, the name in one column and, where there is one, its size in
 * another, whichever comes first. A heading row is passed over. A row without a size of its own has null.
 */
export function readNames(
  text: string,
  sizes: readonly NamedSize[],
): { readonly entries: { text: string; size: string | null }[]; readonly faults: NamesFault[] } {
  const rows = tableCells(text);
  const sizeOf = sizeFinder(sizes);
  const filled = rows.flatMap((cells, index) =>
    cells.some((cell) => cell !== '') ? [{ cells, index }] : [],
  );
  const columns = [...Array(Math.max(0, ...rows.map((cells) => cells.length))).keys()];
  const known = (column: number): number =>
    filled.filter(({ cells }) => sizeOf(cells[column] ?? '') !== undefined).length;

  const head = filled[0]?.cells ?? [];
  // a column of sizes beside at least one other
  const bySizes = columns.length > 1 ? [...columns].sort((a, b) => known(b) - known(a))[0]! : -1;
  const sizeAt = bySizes >= 0 && known(bySizes) > 0 ? bySizes : columns.length > 1 ? columnOfSizes(head) : -1;
  const headed = head.some((cell) => NAME_HEADING.test(cell) || OTHER_HEADING.test(cell));
  const nameHead = head.findIndex((cell, column) => column !== sizeAt && NAME_HEADING.test(cell));
  const nameAt = nameHead >= 0 ? nameHead : (columns.find((column) => column !== sizeAt) ?? 0);

  const entries: { text: string; size: string | null }[] = [];
  const faults: NamesFault[] = [];
  for (const { cells, index } of headed ? filled.slice(1) : filled) {
    const row = index + 1;
    const name = cells[nameAt] ?? '';
    const said = sizeAt >= 0 ? (cells[sizeAt] ?? '') : '';
    const size = sizeOf(said) ?? null;
    if (said !== '' && size === null) faults.push({ code: 'unknown-size', row, text: said });
    if (name === '') faults.push({ code: 'no-name', row, text: said });
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
 * Gives every name a size: its own; else, in order, that of a piece that has no name yet; else the last piece's, or
 * `first` where there are no pieces.
 */
export function sizedNames(
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

/** Counts by size of a names list, in the blank's order. */
export function countsOfNames(
  entries: readonly NameEntry[],
  order: readonly string[],
): { size: string; count: number }[] {
  const counts = new Map<string, number>();
  for (const entry of entries) counts.set(entry.size, (counts.get(entry.size) ?? 0) + 1);
  return [...counts]
    .map(([size, count]) => ({ size, count }))
    .sort((a, b) => order.indexOf(a.size) - order.indexOf(b.size));
}
