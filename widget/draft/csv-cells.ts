/**
 * Cells of text copied from a spreadsheet or read from a CSV file, by RFC 4180: a quoted cell may hold separators, line
 * ends and doubled quotes. The separator is the tab where there is one outside quotes, else the semicolon, else the comma.
 * A byte order mark is dropped, and space around cells. Rows keep their places, empty ones too.
 */
export function tableCells(text: string): string[][] {
  const unquoted = text.replace(/"(?:[^"]|"")*"/g, '');
  const separator = ['\t', ';'].find((mark) => unquoted.includes(mark)) ?? ',';
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
  const marks = text.replace(/^\uFEFF/, '').replace(/\r\n?/g, '\n');
  for (let at = 0; at < marks.length; at++) {
    const mark = marks[at]!;
    if (quoted) {
      if (mark !== '"') cell += mark;
      else if (marks[at + 1] === '"') {
        cell += '"';
        at++;
      } else quoted = false;
    } else if (mark === '"' && cell.trim() === '') {
      quoted = true;
      cell = '';
    } else if (mark === separator) endCell();
    else if (mark === '\n') endRow();
    else cell += mark;
  }
  if (cell !== '' || row.length > 0) endRow();
  return rows;
}

/** A size of a blank, with every name it may go by. */
export type NamedSize = { readonly id: string; readonly names: readonly string[] };

/** A size's name as it is compared: any case and width, without spaces, dots and hyphens; XXL is 2XL (common practice). */
const key = (name: string): string =>
  name
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[\s.\-_]/g, '')
    .replace(/^(x{2,})(?=[sl]$)/, (run) => `${run.length}x`);

/** Finds the size a cell names; undefined when it names none. */
export function sizeFinder(sizes: readonly NamedSize[]): (cell: string) => string | undefined {
  const found = new Map<string, string>();
  for (const { id, names } of [...sizes].reverse()) for (const name of names) found.set(key(name), id);
  found.delete('');
  return (cell) => found.get(key(cell));
}
