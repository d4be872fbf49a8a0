import { describe, expect, it } from 'vitest';
import { layoutFaults, type SourceFile } from '../../tools/checks/layout.ts';

const files = (folder: string, count: number, lines = 10): SourceFile[] =>
  Array.from({ length: count }, (_, at) => ({ path: `${folder}/file-${at}.ts`, lines }));

describe('the check of folders and files', () => {
  it('allows a dozen files in a folder and reports one more', () => {
    expect(layoutFaults(files('src/pricing', 12), {})).toEqual([]);
    expect(layoutFaults(files('src/pricing', 13), {})).toEqual([
      'src/pricing holds 13 files; at most 12, or a rule in LARGE_FOLDERS',
    ]);
  });

  it('counts each folder by itself, those of tests too', () => {
    expect(layoutFaults([...files('src/a', 7), ...files('src/a/b', 7)], {})).toEqual([]);
    const faults = layoutFaults([...files('src/a', 1), ...files('tests/tools', 13)], {});
    expect(faults).toEqual(['tests/tools holds 13 files; at most 12, or a rule in LARGE_FOLDERS']);
  });

  it('lets a folder with a rule be larger, and reports a rule that is no longer needed', () => {
    const rules = { 'widget/parts': 'one part of the slip per file' };
    expect(layoutFaults(files('widget/parts', 13), rules)).toEqual([]);
    expect(layoutFaults(files('widget/parts', 12), rules)).toEqual([
      'widget/parts holds 12 files and no longer needs its rule in LARGE_FOLDERS',
    ]);
  });

  it('reports a file of the product over 400 lines, but no language table and no test', () => {
    const short = files('src/a', 3);
    expect(layoutFaults([...short, { path: 'api/long.ts', lines: 401 }], {})).toEqual([
      'api/long.ts has 401 lines; at most 400',
    ]);
    const allowed = ['widget/locales/en.ts', 'tests/src/long.test.ts'].map((path) => ({ path, lines: 900 }));
    expect(layoutFaults([...short, ...allowed, { path: 'api/long.ts', lines: 400 }], {})).toEqual([]);
  });

  it('reports a median of over 120 lines', () => {
    expect(layoutFaults([...files('src/a', 5, 120), ...files('src/b', 4, 200)], {})).toEqual([]);
    expect(layoutFaults([...files('src/a', 4, 120), ...files('src/b', 5, 200)], {})).toEqual([
      'the median file has 200 lines; at most 120',
    ]);
  });

  it('reports a tree in which it finds no source files', () => {
    expect(layoutFaults([], {})).toEqual(['there are no source files in src, api or widget']);
  });
});
