import { readdir, readFile, stat } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, constants } from 'node:zlib';

const brotli = promisify(brotliCompress);
const outDir = resolve(import.meta.dirname, '../../dist/widget');

/** Scripts in bytes after brotli at its highest setting, each file by itself, as a server would send it. */
export type WidgetSize = {
  readonly firstLoadBytes: number;
  readonly wholeBytes: number;
  /** every face of type, as stored: WOFF2 is compressed already. */
  readonly fontBytes: number;
};

/** What a shop's page may cost its visitors, bytes; faces of type come on top, where names are printed. */
export const FIRST_LOAD_BUDGET_BYTES = 32_000;
export const WHOLE_BUDGET_BYTES = 130_000;

const ENTRY = 'platen-order.js';

/** How the build's manifest names the two files of a language. */
const LANGUAGE = /^widget\/locales\/(first|later)\/([\w-]+)\.ts$/;

type ManifestChunk = {
  readonly file: string;
  readonly imports?: readonly string[];
  readonly dynamicImports?: readonly string[];
};

type Manifest = Readonly<Record<string, ManifestChunk>>;

/**
 * Measures the built script for pages. A visitor reads one language; the largest one counts.
 *
 * First load is what a visitor fetches before the slip can be used: the entry, what it imports at once, Lit among it,
 * and a language's first messages. Whole is everything one visitor can ever fetch, from picking to the order's status:
 * every script, Fabric and the artwork worker among them, and both files of the language.
 *
 * @throws Error when the widget has not been built
 */
export async function measureWidget(dir: string = outDir): Promise<WidgetSize> {
  const manifest = await readManifest(dir);
  const first = new Set((await firstLoadSteps(dir)).flat());
  const names = await readdir(dir, { recursive: true });
  const sizes = new Map<string, number>();
  for (const name of names.filter((file) => file.endsWith('.js')))
    sizes.set(name, await brotliBytes(join(dir, name)));
  const missing = [...first].filter((file) => !sizes.has(file));
  if (missing.length > 0)
    throw new Error(`the manifest names files that are not in ${dir}: ${missing.join(', ')}`);
  const sum = (files: Iterable<string>) =>
    [...files].reduce((total, file) => total + (sizes.get(file) ?? 0), 0);

  const languages = new Map<string, { first: number; both: number }>();
  let allLanguages = 0;
  for (const [key, { file }] of Object.entries(manifest)) {
    const [, part, tag] = LANGUAGE.exec(key) ?? [];
    if (tag === undefined) continue;
    const bytes = sizes.get(file) ?? 0;
    const { first = 0, both = 0 } = languages.get(tag) ?? {};
    languages.set(tag, { first: part === 'first' ? bytes : first, both: both + bytes });
    allLanguages += bytes;
  }
  if (languages.size === 0) throw new Error(`${dir} has no language`);
  const largest = (part: 'first' | 'both') =>
    Math.max(...[...languages.values()].map((language) => language[part]));

  const fonts = names.filter((name) => name.endsWith('.woff2')).map((name) => stat(join(dir, name)));
  return {
    firstLoadBytes: sum(first) + largest('first'),
    wholeBytes: sum(sizes.keys()) - allLanguages + largest('both'),
    fontBytes: (await Promise.all(fonts)).reduce((total, { size }) => total + size, 0),
  };
}

/**
 * The scripts of the first load in the order a browser learns of them: each step is one more round trip to the shop.
 * Languages are left out; they belong to the second step.
 *
 * @throws Error when the widget has not been built
 */
export async function firstLoadSteps(dir: string = outDir): Promise<readonly (readonly string[])[]> {
  const manifest = await readManifest(dir);
  const entry = Object.keys(manifest).find((key) => manifest[key]?.file === ENTRY);
  if (entry === undefined) throw new Error(`the manifest has no entry ${ENTRY}`);
  const steps = [[entry]];
  const seen = new Set([entry]);
  let next = requestedBy(manifest, [entry], 'dynamicImports');
  while (next.length > 0) {
    for (const key of next) seen.add(key);
    steps.push(next);
    next = requestedBy(manifest, next, 'imports').filter((key) => !seen.has(key));
  }
  return steps.map((keys) => keys.map((key) => chunkOf(manifest, key).file));
}

async function readManifest(dir: string): Promise<Manifest> {
  const text = await readFile(join(dir, 'manifest.json'), 'utf8').catch(() => {
    throw new Error(`no manifest.json in ${dir}: run "npm run build:widget" first`);
  });
  return JSON.parse(text) as Manifest;
}

const requestedBy = (manifest: Manifest, keys: readonly string[], how: 'imports' | 'dynamicImports') =>
  keys.flatMap((key) => chunkOf(manifest, key)[how] ?? []).filter((key) => !LANGUAGE.test(key));

function chunkOf(manifest: Manifest, key: string): ManifestChunk {
  const chunk = manifest[key];
  if (chunk === undefined) throw new Error(`the manifest has no ${key}`);
  return chunk;
}

async function brotliBytes(path: string): Promise<number> {
  const packed = await brotli(await readFile(path), { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } });
  return packed.byteLength;
}
