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

/** The tag's entry file; the class-only entry beside it is never loaded along with it. */
export const ENTRY = 'platen-order.js';
const CLASS_ENTRY = 'platen-order.class.js';

/** How the manifest names a language that is loaded on need. */
const LANGUAGE = /^widget\/locales\/[a-z]{2}[^/]*\.ts$/;

type ManifestChunk = {
  readonly file: string;
  readonly imports?: readonly string[];
  readonly css?: readonly string[];
};

/**
 * Measures the built widget. First load is the entry with all it imports statically: what a visitor pays before
 * touching the slip. Whole is every script, worker and style that one visitor can ever fetch: a visitor reads one
 * language, so of the languages that come as files of their own the largest counts.
 *
 * @throws Error when the widget has not been built
 */
export async function measureWidget(dir: string = outDir): Promise<WidgetSize> {
  const text = await readFile(join(dir, 'manifest.json'), 'utf8').catch(() => {
    throw new Error(`no manifest.json in ${dir}: run "npm run build:widget" first`);
  });
  const manifest = JSON.parse(text) as Readonly<Record<string, ManifestChunk>>;
  const first = staticFiles(manifest, ENTRY);
  const all = (await readdir(dir, { recursive: true })).filter((name) => /\.(js|css|wasm)$/.test(name));
  const missing = [...first].filter((file) => !all.includes(file));
  if (missing.length > 0)
    throw new Error(`the manifest names files that are not in ${dir}: ${missing.join(', ')}`);
  const sizes = new Map<string, number>();
  for (const name of all) if (name !== CLASS_ENTRY) sizes.set(name, await brotliBytes(join(dir, name)));
  const sum = (names: Iterable<string>) =>
    [...names].reduce((total, name) => total + (sizes.get(name) ?? 0), 0);
  const languages = Object.entries(manifest).flatMap(([key, { file }]) => (LANGUAGE.test(key) ? [file] : []));
  const largest = Math.max(0, ...languages.map((file) => sizes.get(file) ?? 0));
  return { firstLoadBytes: sum(first), wholeBytes: sum(sizes.keys()) - sum(languages) + largest };
}

async function brotliBytes(path: string): Promise<number> {
  const packed = await brotli(await readFile(path), { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } });
  return packed.byteLength;
}

function staticFiles(manifest: Readonly<Record<string, ManifestChunk>>, entry: string): ReadonlySet<string> {
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
  return files;
}
