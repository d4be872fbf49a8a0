// cspell:disable: the misspelled words of this file are planted.
import { spawn } from 'node:child_process';
import { readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../../..');

/** Runs the spelling checker as `npm run check` does, on a text that would stand at `path`; gives the words it reports. */
function misspelledAt(path: string, text: string): Promise<readonly string[]> {
  return new Promise((done, fail) => {
    const bin = join(root, 'node_modules/cspell/bin.mjs');
    const args = [bin, 'lint', '--config', '.cspell.json', '--no-progress', '--no-summary', '--words-only'];
    const child = spawn(process.execPath, [...args, `stdin://${path}`], { cwd: root });
    let output = '';
    let errors = '';
    child.stdout.on('data', (chunk: Buffer) => {
      output += chunk.toString();
    });
    child.stderr.on('data', (chunk: Buffer) => {
      errors += chunk.toString();
    });
    child.once('close', (code) => {
      if (code !== 0 && output === '') fail(new Error(`the spelling checker broke: ${errors}`));
      else done(output.split('\n').filter(Boolean));
    });
    child.stdin.end(text);
  });
}

describe('the spelling checker', () => {
  it('reports a misspelled word in comments, strings and templates of code, and no identifier', async () => {
    const code = [
      '// a commment about it',
      "const xyzzyq = 'a sentense of text';",
      '/** Its docstrnig. */',
      'const html = `<p>a paragrpah</p>`;',
    ].join('\n');
    expect(await misspelledAt('src/planted.ts', code)).toEqual([
      'commment',
      'sentense',
      'docstrnig',
      'paragrpah',
    ]);
  });

  it('reports a misspelled word and British spelling in Markdown', async () => {
    expect(await misspelledAt('README.md', 'The colour of a recieved labelled blank.\n')).toEqual([
      'colour',
      'recieved',
      'labelled',
    ]);
  });

  it('knows the words of the trade, and other languages only in tests and the demo', async () => {
    const text = '// The underbase of a platen, its laydown and pretreat; Stück, مارس.\n';
    expect(await misspelledAt('tests/planted.ts', text)).toEqual([]);
    expect(await misspelledAt('src/planted.ts', text)).toEqual(['Stück']);
  });
});

describe('the lists of known words', () => {
  it.each(['trade-words.txt', 'foreign-words.txt'])('%s holds each word once', async (file) => {
    const lines = (await readFile(join(root, 'tests/house', file), 'utf8')).split('\n');
    const words = lines
      .filter((line) => line !== '' && !line.startsWith('#'))
      .map((word) => word.toLowerCase());
    expect(words.length).toBeGreaterThan(10);
    expect(words.filter((word, at) => words.indexOf(word) !== at)).toEqual([]);
  });
});
