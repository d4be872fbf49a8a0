import { execFile } from 'node:child_process';
import { cp, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../../..');
const biome = join(root, 'node_modules/@biomejs/biome/bin/biome');

/** The rules of our own for style, on a file of the core that breaks each once. */
describe('the linter, with the rules of this repository', () => {
  let folder: string;
  let report: string;

  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'platen-lint-'));
    for (const name of ['.biome.json', 'tests/house/lint'])
      await cp(join(root, name), join(folder, name), { recursive: true });
    // One rule is for the core alone.
    await mkdir(join(folder, 'src'));
    const file = join(folder, 'src/planted.ts');
    await writeFile(
      file,
      `export interface Planted {
  readonly count: number;
}
declare global {
  interface Window {
    planted: Planted;
  }
}
export function planted(count: number): Planted | null {
  let more = count;
  more += 1;
  more += 2;
  if (more > 4) return null;
  return { count: more };
}
`,
    );
    report = await new Promise((done) => {
      execFile(process.execPath, [biome, 'lint', '--reporter=github', file], { cwd: folder }, (_, out) =>
        done(out),
      );
    });
  });

  afterAll(() => rm(folder, { recursive: true, force: true }));

  it.each([
    [1, 'Write a type; an interface only where declarations must merge.'],
    [11, 'Write x++ or x--, as everywhere else.'],
    [13, 'In the core, absent is undefined; null is for JSON and schemas.'],
  ])('finds the fault on line %i', (line, message) => {
    expect(report).toMatch(
      new RegExp(`line=${line},[^\\n]*${message.replace('.', '\\.').replaceAll('+', '\\+')}`),
    );
  });

  it('finds no other', () => {
    expect(report.match(/^::error/gm)).toHaveLength(3);
  });
});
