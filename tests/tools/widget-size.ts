import { readdir, readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress, constants } from 'node:zlib';

const brotli = promisify(brotliCompress);
const outDir = resolve(import.meta.dirname, '../../dist/widget');

/** Bytes after brotli at its highest setting, each file by itself, as a server would send it. */
export type WidgetSize = { readonly firstLoadBytes: number; readonly wholeBytes: number };

/** What a shop's page may cost its visitors, in bytes after brotli. */
export const FIRST_LOAD_BUDGET_BYTES = 30_000;
export const WHOLE_BUDGET_BYTES = 90_000;

/** The tag's entry file; the entries beside it, for bundlers, are never loaded along with it. */
export const ENTRY = 'platen-order.js';
const OTHER_ENTRIES: readonly string[] = ['platen-order.define.js', 'platen-order.class.js'];

/** How the build's manifest names the two files of a language. */
const LANGUAGE = /^widget\/locales\/(first|later)\/([\w-]+)\.ts$/;

type ManifestChunk = {
  readonly file: string;
  readonly imports?: readonly string[];
  readonly dynamicImports?: readonly string[];
  readonly css?: readonly string[];
};

/**
 * Measures the built widget. A visitor reads one language; of the languages the largest counts.
 *
 * First load is what a visitor fetches until the slip can be used, before any artwork: the entry with all it asks for,
 * at once or by import(), and what that imports statically, Lit among it; of the languages' first words only the largest.
 * Whole is everything one visitor can ever fetch on the whole job, from picking to the order's status: every script and
 * style, the stage with Fabric, the artwork worker, and both files of the language. The entries for bundlers stand in for
 * the tag's entry, so one of the three counts. Source maps are not fetched by visitors; fonts there are none.
 *
 * @throws Error when the widget has not been built
 */
export async function measureWidget(dir: string = outDir): Promise<WidgetSize> {
  const text = await readFile(join(dir, 'manifest.json'), 'utf8').catch(() => {
    throw new Error(`no manifest.json in ${dir}: run "npm run build:widget" first`);
  });
  const manifest = JSON.parse(text) as Readonly<Record<string, ManifestChunk>>;
  const first = firstFiles(manifest, ENTRY);
  const all = (await readdir(dir, { recursive: true })).filter((name) => /\.(js|css|wasm)$/.test(name));
  const missing = [...first].filter((file) => !all.includes(file));
  if (missing.length > 0)
    throw new Error(`the manifest names files that are not in ${dir}: ${missing.join(', ')}`);
  const sizes = new Map<string, number>();
  for (const name of all)
    if (!OTHER_ENTRIES.includes(name)) sizes.set(name, await brotliBytes(join(dir, name)));
  const sum = (names: Iterable<string>) =>
    [...names].reduce((total, name) => total + (sizes.get(name) ?? 0), 0);
  const languages = new Map<string, { first: number; both: number }>();
  let every = 0;
  for (const [key, { file }] of Object.entries(manifest)) {
    const [, part, tag] = LANGUAGE.exec(key) ?? [];
    if (tag === undefined) continue;
    const bytes = sizes.get(file) ?? 0;
    const { first = 0, both = 0 } = languages.get(tag) ?? {};
    languages.set(tag, { first: part === 'first' ? bytes : first, both: both + bytes });
    every += bytes;
  }
  if (languages.size === 0) throw new Error(`${dir} has no language`);
  const largest = (part: 'first' | 'both') =>
    Math.max(...[...languages.values()].map((language) => language[part]));
  return {
    firstLoadBytes: sum(first) + largest('first'),
    wholeBytes: sum(sizes.keys()) - every + largest('both'),
  };
}

async function brotliBytes(path: string): Promise<number> {
  const packed = await brotli(await readFile(path), { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } });
  return packed.byteLength;
}

/** An entry's own file, what it asks for by import() (one language aside), and all that these import statically. */
function firstFiles(manifest: Readonly<Record<string, ManifestChunk>>, entry: string): ReadonlySet<string> {
  const files = new Set<string>();
  const seen = new Set<string>();
  const follow = (key: string) => {
    const chunk = manifest[key];
    if (chunk === undefined) throw new Error(`the manifest has no ${key}`);
    if (seen.has(key)) return;
    seen.add(key);
    files.add(chunk.file);
    for (const style of chunk.css ?? []) files.add(style);
    for (const imported of chunk.imports ?? []) follow(imported);
  };
  const start = Object.keys(manifest).find((key) => manifest[key]?.file === entry);
  if (start === undefined) throw new Error(`the manifest has no entry ${entry}`);
  follow(start);
  for (const asked of manifest[start]?.dynamicImports ?? []) if (!LANGUAGE.test(asked)) follow(asked);
  return files;
}
