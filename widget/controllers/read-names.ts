import type { NameEntry } from '../../src/contract/index.ts';

/** What was wrong with a row of a names list. */
export type NamesFault = { code: 'too-long' | 'too-many' | 'unknown-size'; row: number; text: string };

/** Most pieces a names list may hold, and most characters of one name; as the contract has it. */
const ENTRIES_MAX = 2_000;
const TEXT_MAX = 40;

/** Cells of one CSV row: quotes may hold separators, doubled quotes stand for one. */
function cellsOf(row: string): string[] {
  const separator = row.includes('\t') ? '\t' : row.includes(';') ? ';' : ',';
  const cells: string[] = [];
  let cell = '';
  let quoted = false;
  for (let i = 0; i < row.length; i++) {
    const character = row[i]!;
    if (quoted) {
      if (character === '"' && row[i + 1] === '"') {
        cell += '"';
        i += 1;
      } else if (character === '"') quoted = false;
      else cell += character;
    } else if (character === '"' && cell.trim() === '') {
      quoted = true;
      cell = '';
    } else if (character === separator) {
      cells.push(cell.trim());
      cell = '';
    } else cell += character;
  }
  cells.push(cell.trim());
  return cells;
}

/**
 * Reads a list of names or numbers: one row a piece, the name and, in any other cell, its size. A row without a size
 * takes the size of the row before. A heading row (its cells name no size and the second row's do) is passed over.
 */
export function readNames(
  text: string,
  sizes: readonly { id: string; names: readonly string[] }[],
  firstSize: string,
): { entries: NameEntry[]; faults: NamesFault[] } {
  const sizeOf = (cell: string): string | undefined =>
    sizes.find((size) => size.names.some((name) => name !== '' && name.toLowerCase() === cell.toLowerCase()))
      ?.id;
  const entries: NameEntry[] = [];
  const faults: NamesFault[] = [];
  let size = firstSize;
  const rows = text.replace(/^\uFEFF/, '').split(/\r?\n/);
  for (const [index, row] of rows.entries()) {
    const cells = cellsOf(row).filter((cell) => cell !== '');
    if (cells.length === 0) continue;
    const at =
      cells.length > 1 ? cells.findIndex((cell, place) => place > 0 && sizeOf(cell) !== undefined) : -1;
    const sizeAt = at >= 0 ? at : cells.length > 1 && sizeOf(cells[0]!) ? 0 : -1;
    if (sizeAt < 0 && cells.length > 1) {
      if (entries.length === 0 && index === 0) continue;
      faults.push({ code: 'unknown-size', row: index + 1, text: cells[1]! });
    }
    if (sizeAt >= 0) size = sizeOf(cells[sizeAt]!) ?? size;
    const name = cells.find((_, place) => place !== sizeAt) ?? '';
    if (name === '') continue;
    if (name.length > TEXT_MAX) faults.push({ code: 'too-long', row: index + 1, text: name });
    else if (entries.length >= ENTRIES_MAX) {
      faults.push({ code: 'too-many', row: index + 1, text: name });
      break;
    } else entries.push({ size, text: name });
  }
  return { entries, faults };
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
