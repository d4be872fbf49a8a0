import { execFile } from 'node:child_process';
import { cp, mkdir, mkdtemp, readdir, rm, symlink, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const root = resolve(import.meta.dirname, '../../..');
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

/** An import from one folder of `base` of another that is not below it. `planted-room` is in no table of layers. */
const upward: readonly (readonly [base: string, from: string, to: string])[] = [
  ['src', 'contract', 'artwork'],
  ['src', 'artwork', 'catalog'],
  ['src', 'promise', 'catalog'],
  ['src', 'catalog', 'routing'],
  ['src', 'routing', 'pricing'],
  ['src', 'production', 'pricing'],
  ['src', 'pricing', 'quote'],
  ['src', 'quote', 'planted-room'],
  ['src/promise', 'calendar', 'plan'],
  ['src/promise', 'plan', 'insert'],
  ['src/promise', 'insert', 'replan'],
  ['src/promise', 'replan', 'views'],
  ['src/promise', 'views', 'replan'],
  ['src/artwork', 'color', 'measure'],
  ['src/artwork', 'measure', 'findings'],
  ['src/artwork', 'findings', 'remedies'],
  ['src/artwork', 'remedies', 'findings'],
  ['src/routing', 'choice', 'fit'],
  ['src/routing', 'fit', 'choice'],
  ['api', 'files', 'store'],
  ['api', 'store', 'files'],
  ['api', 'http', 'services'],
  ['api', 'services', 'http'],
  ['api', 'middleware', 'routes'],
  ['api', 'plan-page', 'routes'],
  ['api', 'routes', 'planted-room'],
  ['widget', 'controllers', 'parts'],
  ['widget', 'styles', 'parts'],
  ['widget', 'draft', 'shop'],
  ['widget', 'format', 'locales'],
  ['widget', 'locales', 'parts'],
  ['widget', 'shop', 'parts'],
  ['widget', 'stage', 'parts'],
  ['widget', 'artwork', 'parts'],
  ['widget', 'package', 'parts'],
  ['widget', 'parts', 'planted-room'],
];

const bases = [...new Set(upward.map(([base]) => base))];

/** The rule that must report the fault, the planted file, and what it wrongly imports. */
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
    'src/planted-cycle-a.ts',
    "import { b } from './planted-cycle-b.ts'; export const a = () => b;",
  ],
  ['helpers-of-src-know-the-contract-only', 'src/planted-helper.ts', "import './pricing/planted.ts';"],
  ['choice-stands-alone', 'src/routing/choice/planted-helper.ts', "import '../../planted.ts';"],
  ['index-is-for-other-folders', 'src/pricing/planted-index.ts', "import './index.ts';"],
  ['owner-routes-on-top', 'api/routes/planted-owner.ts', "import './owner/planted.ts';"],
  ['entries-on-top', 'api/store/planted-entry.ts', "import '../app.ts';"],
  ['entries-on-top', 'widget/parts/planted-entry.ts', "import '../element.ts';"],
  ...upward.map(
    ([base, from, to]) =>
      [
        `layer-of-${base}/${from}`,
        `${base}/${from}/planted-up-to-${to}.ts`,
        `import '../${to}/planted.ts';`,
      ] as const,
  ),
  ...bases.map(
    (base) =>
      [
        `every-folder-of-${base}-has-a-layer`,
        `${base}/planted-room/planted-new.ts`,
        "import './planted.ts';",
      ] as const,
  ),
];

/** Files that the planted faults import, and imports that must stay allowed. */
const innocent: Readonly<Record<string, string>> = {
  ...Object.fromEntries(
    upward.map(([base, , to]) => [`${base}/${to}/planted.ts`, 'export const planted = 1;']),
  ),
  ...Object.fromEntries(
    bases.map((base) => [`${base}/planted-room/planted.ts`, 'export const planted = 1;']),
  ),
  'api/routes/owner/planted.ts': "import '../planted.ts';",
  'src/promise/replan/planted-down.ts': "import '../insert/planted.ts'; import '../plan/planted.ts';",
  'src/quote/planted-down.ts': "import '../pricing/planted.ts'; import '../planted.ts';",
  'src/planted.ts': 'export const planted = 1;',
  'src/pricing/planted.ts': 'export const planted = 1;',
  'src/artwork/color/planted.ts': 'export const planted = 1;',
  'src/planted-cycle-b.ts': "import { a } from './planted-cycle-a.ts'; export const b = () => a;",
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

  it.each(planted)('%s reports %s', (rule, file) => {
    const rules = found.summary.violations.filter(({ from }) => from === file).map(({ rule }) => rule.name);
    expect(rules).toContain(rule);
  });

  it('has a planted fault for every rule', async () => {
    const { default: config } = (await import(pathToFileURL(join(root, '.dependency-cruiser.mjs')).href)) as {
      default: { readonly forbidden: readonly { readonly name: string }[] };
    };
    const names = new Set(planted.map(([rule]) => rule));
    expect(config.forbidden.map(({ name }) => name).filter((name) => !names.has(name))).toEqual([]);
  });

  it('accepts allowed imports', () => {
    // The other half of the planted cycle.
    const files = Object.keys(innocent).filter((file) => file !== 'src/planted-cycle-b.ts');
    expect(found.summary.violations.filter(({ from }) => files.includes(from))).toEqual([]);
  });

  it('reads every module, so that finding nothing means something', async () => {
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
