import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { brotliCompressSync } from 'node:zlib';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { firstLoadSteps, measureWidget } from '../tools/widget-size.ts';

const noise = (letters: number, seed: number) =>
  Array.from({ length: letters }, (_, at) => ((at * 7919 + seed) % 9973).toString(36)).join(';');

const files: Record<string, string> = {
  'platen-order.js': noise(10, 1),
  'chunks/element.js': noise(200, 3),
  'chunks/shared.js': noise(90, 4),
  'chunks/stage.js': noise(300, 5),
  'workers/facts.js': noise(50, 6),
  'chunks/de-1.js': noise(70, 8),
  'chunks/de-2.js': noise(60, 10),
  'chunks/ja-1.js': noise(50, 9),
  'chunks/ja-2.js': noise(99, 11),
  'chunks/element.js.map': noise(5000, 7),
  'fonts/slab.woff2': noise(40, 13),
};

const manifest = {
  'widget/tag.ts': {
    file: 'platen-order.js',
    dynamicImports: ['_element.js', 'widget/locales/first/de.ts', 'widget/locales/first/ja.ts'],
  },
  '_element.js': {
    file: 'chunks/element.js',
    imports: ['_shared.js'],
    dynamicImports: ['widget/stage/index.ts'],
  },
  '_shared.js': { file: 'chunks/shared.js', imports: ['_element.js'] },
  'widget/locales/first/de.ts': { file: 'chunks/de-1.js', imports: ['_element.js'] },
  'widget/locales/later/de.ts': { file: 'chunks/de-2.js', imports: ['_element.js'] },
  'widget/locales/first/ja.ts': { file: 'chunks/ja-1.js', imports: ['_element.js'] },
  'widget/locales/later/ja.ts': { file: 'chunks/ja-2.js', imports: ['_element.js'] },
  'widget/stage/index.ts': { file: 'chunks/stage.js', imports: ['_shared.js'] },
};

const packed = (...names: string[]) =>
  names.reduce((sum, name) => sum + brotliCompressSync(files[name] ?? '').byteLength, 0);

describe('the size of a built widget', () => {
  let dir: string;

  beforeEach(async () => {
    dir = await mkdtemp(join(tmpdir(), 'platen-size-'));
    for (const [name, text] of Object.entries(files)) {
      await mkdir(dirname(join(dir, name)), { recursive: true });
      await writeFile(join(dir, name), text);
    }
    await writeFile(join(dir, 'manifest.json'), JSON.stringify(manifest));
  });

  afterEach(() => rm(dir, { recursive: true, force: true }));

  it('counts the entry, its imports and the first messages of a language as first load, and everything in one language as the whole', async () => {
    const first = packed('platen-order.js', 'chunks/element.js', 'chunks/shared.js');
    expect(await measureWidget(dir)).toEqual({
      firstLoadBytes: first + packed('chunks/de-1.js'),
      wholeBytes: first + packed('chunks/stage.js', 'workers/facts.js', 'chunks/ja-1.js', 'chunks/ja-2.js'),
      fontBytes: files['fonts/slab.woff2']?.length,
    });
  });

  it('lists the scripts of the first load by round trip', async () => {
    expect(await firstLoadSteps(dir)).toEqual([
      ['platen-order.js'],
      ['chunks/element.js'],
      ['chunks/shared.js'],
    ]);
  });

  it('is an error, not zero, when something is missing', async () => {
    await rm(join(dir, 'chunks/shared.js'));
    await expect(measureWidget(dir)).rejects.toThrow('chunks/shared.js');
    await rm(join(dir, 'manifest.json'));
    await expect(measureWidget(dir)).rejects.toThrow('npm run build:widget');
  });
});
