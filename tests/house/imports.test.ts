import { execFile } from 'node:child_process';
import { cp, mkdir, mkdtemp, readdir, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../..');
const folders = ['src', 'api', 'widget', 'demo'];

type Cruise = {
  readonly modules: readonly { readonly source: string }[];
  readonly summary: {
    readonly totalCruised: number;
    readonly violations: readonly { readonly from: string; readonly rule: { readonly name: string } }[];
  };
};

/** Runs the import checker as `npm run check` does, in `cwd`. */
function cruise(cwd: string): Promise<Cruise> {
  return new Promise((done, fail) => {
    const bin = join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
    const args = [bin, '--config', '.dependency-cruiser.mjs', '--output-type', 'json', ...folders];
    execFile(process.execPath, args, { cwd, maxBuffer: 64 << 20 }, (error, stdout, stderr) => {
      if (stdout === '') fail(new Error(`the import checker printed nothing: ${stderr || error?.message}`));
      else done(JSON.parse(stdout) as Cruise);
    });
  });
}

/** Each line: the rule that must speak, the planted file, what it wrongly imports. */
const planted: readonly (readonly [rule: string, file: string, code: string])[] = [
  ['src-stands-alone', 'src/planted-api.ts', "import '../api/planted.ts';"],
  ['src-stands-alone', 'src/planted-widget.ts', "import '../widget/planted.ts';"],
  [
    'src-stands-alone',
    'src/pricing/planted-node.ts',
    "import { readFile } from 'node:fs/promises'; readFile('');",
  ],
  ['src-stands-alone', 'src/pricing/planted-npm.ts', "import { Hono } from 'hono'; new Hono();"],
  [
    'src-stands-alone',
    'src/planted-type.ts',
    "import type { Planted } from '../api/planted.ts'; export type A = Planted;",
  ],
  ['src-stands-alone', 'src/planted-lazy.ts', "export const later = () => import('../api/planted.ts');"],
  ['api-imports-src-only', 'api/planted-widget.ts', "import '../widget/planted.ts';"],
  ['api-imports-src-only', 'api/planted-demo.ts', "import '../demo/planted.ts';"],
  ['widget-imports-src-only', 'widget/planted-api.ts', "import '../api/planted.ts';"],
  ['through-the-front-door', 'api/planted-deep.ts', "import '../src/pricing/planted.ts';"],
  ['through-the-front-door', 'widget/parts/planted-deep.ts', "import '../../src/artwork/color/planted.ts';"],
  ['demo-stands-alone', 'demo/planted-src.ts', "import '../src/planted.ts';"],
  [
    'only-stage-knows-fabric',
    'widget/parts/planted-fabric.ts',
    "import { Canvas } from 'fabric/es'; new Canvas();",
  ],
  [
    'only-stage-knows-fabric',
    'api/planted-fabric.ts',
    "import type { Canvas } from 'fabric'; export type C = Canvas;",
  ],
  ['widget-runs-in-a-browser', 'widget/planted-node.ts', "import { join } from 'node:path'; join('a');"],
  ['no-dev-packages-in-the-product', 'api/planted-dev.ts', "import fc from 'fast-check'; fc.string();"],
  ['no-unresolvable', 'api/planted-missing.ts', "import './planted-nowhere.ts';"],
  [
    'no-cycles',
    'src/planted-ring-a.ts',
    "import { b } from './planted-ring-b.ts'; export const a = () => b;",
  ],
];

/** Files the plants point at, and imports that must stay allowed. */
const innocent: Readonly<Record<string, string>> = {
  'src/planted.ts': 'export const planted = 1;',
  'src/pricing/planted.ts': 'export const planted = 1;',
  'src/artwork/color/planted.ts': 'export const planted = 1;',
  'src/planted-ring-b.ts': "import { a } from './planted-ring-a.ts'; export const b = () => a;",
  'src/planted-zod.ts':
    "import { z } from 'zod'; import { Decimal } from 'decimal.js'; z.object(); new Decimal(1);",
  'api/planted.ts': "import '../src/planted.ts'; import { Hono } from 'hono'; export type Planted = Hono;",
  'widget/planted.ts': "import '../src/planted.ts'; import { html } from 'lit'; html``;",
  'widget/stage/planted.ts': "import { Canvas } from 'fabric/es'; new Canvas();",
  'demo/planted.ts': 'export const planted = 1;',
};

describe('the import checker', () => {
  let dir: string;
  let found: Cruise;

  beforeAll(async () => {
    dir = await mkdtemp(join(tmpdir(), 'platen-imports-'));
    for (const name of [...folders, 'package.json', '.dependency-cruiser.mjs']) {
      await cp(join(root, name), join(dir, name), { recursive: true });
    }
    await symlink(join(root, 'node_modules'), join(dir, 'node_modules'));
    for (const [file, code] of [
      ...planted.map(([, file, code]) => [file, code] as const),
      ...Object.entries(innocent),
    ]) {
      await mkdir(dirname(join(dir, file)), { recursive: true });
      await writeFile(join(dir, file), `${code}\n`);
    }
    found = await cruise(dir);
  });

  afterAll(() => rm(dir, { recursive: true, force: true }));

  it.each(planted)('%s speaks up at %s', (rule, file) => {
    const rules = found.summary.violations.filter(({ from }) => from === file).map(({ rule }) => rule.name);
    expect(rules).toContain(rule);
  });

  it('leaves allowed imports alone', () => {
    // The ring is the planted fault's other half.
    const files = Object.keys(innocent).filter((file) => file !== 'src/planted-ring-b.ts');
    expect(found.summary.violations.filter(({ from }) => files.includes(from))).toEqual([]);
  });

  it('sees every module of the tree, so that silence means something', async () => {
    const real = await cruise(root);
    const seen = new Set(real.modules.map(({ source }) => source));
    const sources: string[] = [];
    for (const folder of folders) {
      for (const name of await readdir(join(root, folder), { recursive: true })) {
        if (name.endsWith('.ts')) sources.push(`${folder}/${name}`);
      }
    }
    expect(sources.length).toBeGreaterThan(30);
    expect(sources.filter((source) => !seen.has(source))).toEqual([]);
  });
});
