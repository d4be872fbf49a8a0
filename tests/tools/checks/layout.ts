/** A source file as the layout rules see it. `path` is relative to the root of the repository, with slashes. */
export type SourceFile = { readonly path: string; readonly lines: number };

export const MOST_FILES_IN_A_FOLDER = 12;
export const MOST_LINES_IN_A_FILE = 400;
/** Half of all files are at most this long. */
export const MOST_LINES_IN_THE_MEDIAN_FILE = 120;

/** Folders that may hold more files, each with the rule that tells a reader which file to open. */
export const LARGE_FOLDERS: Readonly<Record<string, string>> = {
  'src/contract': 'one part of the wire format per file',
  'src/artwork/measure': 'one measurement per file; facts.ts calls them in order',
  'src/artwork/remedies': 'one remedy per file, apply.ts, and what several remedies share',
  'src/pricing': 'one step on the way from work to price per file; price.ts calls them in order',
  'api/files/svg': 'one step of reading an SVG per file; read-drawing.ts calls them in order',
  'api/services': 'one service per file, and what it alone needs',
  'api/store': 'one table or group of tables per file',
  'widget/artwork': 'one step from a chosen file to a placed artwork per file',
  'widget/draft': 'one operation on the draft per file',
  'widget/parts/rows': 'one row of the slip per file',
  'widget/stage': 'one concern of the drawing per file',
};

/** Length is limited in the product only: a test file may be a long list of cases. */
const PRODUCT = /^(src|api|widget)\//;
/** A language is one table of sentences, however many there are. */
const LANGUAGE_TABLE = /^widget\/locales\//;

/**
 * What breaks the rules on the size of folders and files, one sentence each; empty is good.
 *
 * @param files all source files of the repository
 * @param largeFolders as {@link LARGE_FOLDERS}; an entry that is no longer needed is a fault too
 */
export function layoutFaults(
  files: readonly SourceFile[],
  largeFolders: Readonly<Record<string, string>> = LARGE_FOLDERS,
): readonly string[] {
  const faults: string[] = [];
  const counts = new Map<string, number>();
  for (const { path } of files) {
    const folder = path.slice(0, path.lastIndexOf('/'));
    counts.set(folder, (counts.get(folder) ?? 0) + 1);
  }
  for (const [folder, count] of counts)
    if (count > MOST_FILES_IN_A_FOLDER && largeFolders[folder] === undefined)
      faults.push(
        `${folder} holds ${count} files; at most ${MOST_FILES_IN_A_FOLDER}, or a rule in LARGE_FOLDERS`,
      );
  for (const folder of Object.keys(largeFolders))
    if ((counts.get(folder) ?? 0) <= MOST_FILES_IN_A_FOLDER)
      faults.push(
        `${folder} holds ${counts.get(folder) ?? 0} files and no longer needs its rule in LARGE_FOLDERS`,
      );

  const measured = files.filter(({ path }) => PRODUCT.test(path) && !LANGUAGE_TABLE.test(path));
  for (const { path, lines } of measured)
    if (lines > MOST_LINES_IN_A_FILE)
      faults.push(`${path} has ${lines} lines; at most ${MOST_LINES_IN_A_FILE}`);
  const lengths = measured.map(({ lines }) => lines).sort((a, b) => a - b);
  const median = lengths[(lengths.length - 1) >> 1];
  if (median === undefined) faults.push('there are no source files in src, api or widget');
  else if (median > MOST_LINES_IN_THE_MEDIAN_FILE)
    faults.push(`the median file has ${median} lines; at most ${MOST_LINES_IN_THE_MEDIAN_FILE}`);
  return faults;
}
