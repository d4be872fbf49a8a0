import { readdir, readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, it } from 'vitest';
import { impurities } from '../../tools/checks/purity.ts';

const root = resolve(import.meta.dirname, '../../..');

describe('the core is pure', () => {
  let sources: { readonly file: string; readonly text: string }[];

  beforeAll(async () => {
    const names = (await readdir(join(root, 'src'), { recursive: true })).filter((name) =>
      name.endsWith('.ts'),
    );
    sources = await Promise.all(
      names.map(async (name) => ({
        file: `src/${name}`,
        text: await readFile(join(root, 'src', name), 'utf8'),
      })),
    );
  });

  it('uses no clock, randomness, network or host', () => {
    expect(sources.length).toBeGreaterThan(30);
    const found = sources.flatMap(({ file, text }) =>
      impurities(file, text).map(({ line, what }) => `${file}:${line} ${what}`),
    );
    expect(found).toEqual([]);
  });

  it('names no decorating method: methods are data', () => {
    // Any form of the words, in code, strings or comments. "Transfer function" is a term of color science.
    const names = /dtg|direct[\s_-]*to[\s_-]*garment|transfer(?! (function|curve))/i;
    const found = sources.flatMap(({ file, text }) =>
      text.split('\n').flatMap((line, at) => (names.test(line) ? [`${file}:${at + 1} ${line.trim()}`] : [])),
    );
    expect(found).toEqual([]);
  });
});

describe('the purity checker', () => {
  it.each([
    ['const t = Date.now();', 'Date.now'],
    ["const t = Date['now']();", 'Date.now'],
    ['const clock = Date.now;', 'Date.now'],
    ['const d = new Date();', 'new Date()'],
    ['const d = new Date;', 'new Date()'],
    ['const d = Date();', 'Date()'],
    ['const r = Math.random();', 'Math.random'],
    ['const t = performance.now();', 'performance'],
    ['const e = process.env.HOME;', 'process'],
    ["const a = await fetch('/');", 'fetch'],
    ['const f = { send: fetch };', 'fetch'],
    ['function f(send = fetch) { return send; }', 'fetch'],
    ['const id = crypto.randomUUID();', 'crypto'],
    ['const t = globalThis.Date.now();', 'globalThis'],
    ['const n = Temporal.Now.instant();', 'Temporal.Now'],
    ['setTimeout(() => {}, 1);', 'setTimeout'],
    ["console.log('x');", 'console'],
    ['const u = import.meta.url;', 'import.meta'],
    ['const s = (5).toLocaleString();', 'toLocaleString without a locale'],
    ["const c = 'a'.localeCompare('b');", 'localeCompare without a locale'],
    ['const f = new Intl.NumberFormat();', 'Intl.NumberFormat without a locale'],
  ])('reports %s', (code, what) => {
    expect(impurities('planted.ts', code).map((found) => found.what)).toContain(what);
  });

  it.each([
    'const d = new Date(0); const e = new Date(now);',
    'const process = 1; const x = process + 1;',
    'type Step = { process: string; fetch(): void };',
    'const step = { process: 1 }; const n = step.process;',
    'const { process: steps } = plan;',
    "const s = (5).toLocaleString('en-US');",
    "const c = 'a'.localeCompare('b', 'en');",
    'const t = Date.UTC(2026, 0, 1);',
    'class A { process() { return Math.max(1, 2); } }',
  ])('accepts %s', (code) => {
    expect(impurities('innocent.ts', code)).toEqual([]);
  });

  it('gives the line number', () => {
    expect(impurities('planted.ts', '\n\nconst r = Math.random();')).toEqual([
      { line: 3, what: 'Math.random' },
    ]);
  });
});
