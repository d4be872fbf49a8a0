/**
 * The cells of text copied from a spreadsheet or read from a CSV file (RFC 4180): a quoted cell may hold separators, line
 * breaks and doubled quotes. The separator is the tab if there is one outside quotes, else the semicolon, else the comma.
 * Drops a byte order mark and trims each cell. Keeps empty rows, so that row numbers stay right.
 */
export function csvCells(text: string): string[][] {
  const unquoted = text.replace(/"(?:[^"]|"")*"/g, '');
  const separator = ['\t', ';'].find((character) => unquoted.includes(character)) ?? ',';
  const rows: string[][] = [];
  let row: string[] = [];
  let cell = '';
  let quoted = false;
  const endCell = (): void => {
    row.push(cell.trim());
    cell = '';
  };
  const endRow = (): void => {
    endCell();
    rows.push(row);
    row = [];
  };
  const input = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  for (let at = 0; at < input.length; at++) {
    const character = input[at]!;
    if (quoted) {
      if (character !== '"') cell += character;
      else if (input[at + 1] === '"') {
        cell += '"';
        at++;
      } else quoted = false;
    } else if (character === '"' && cell.trim() === '') {
      quoted = true;
      cell = '';
    } else if (character === separator) endCell();
    else if (character === '\n') endRow();
    else cell += character;
  }
  if (cell !== '' || row.length > 0) endRow();
  return rows;
}

/** A size of a blank, with all its names. */
export type NamedSize = { readonly id: string; readonly names: readonly string[] };

/** A size's name for comparison: lower case, normal width, without spaces, dots and hyphens; XXL is 2XL (common practice). */
const normalizedSize = (name: string): string =>
  name
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s.\-_]/g, '')
    .replace(/^(x{2,})(?=[sl]$)/, (run) => `${run.length}x`);

/** Returns a function that finds the size a cell names; undefined when it names none. */
export function sizeFinder(sizes: readonly NamedSize[]): (cell: string) => string | undefined {
  const found = new Map<string, string>();
  for (const { id, names } of [...sizes].reverse())
    for (const name of names) found.set(normalizedSize(name), id);
  found.delete('');
  return (cell) => found.get(normalizedSize(cell));
}
