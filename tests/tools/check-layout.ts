import { readdir, readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { buildConfigFaults, manifestFaults } from './checks/build-config.ts';
import { layoutFaults, type SourceFile } from './checks/layout.ts';

/** `npm run check:layout`: the size of folders and files, and that no build edits the text of a package. */
const root = resolve(import.meta.dirname, '../..');
const FOLDERS = ['src', 'api', 'widget', 'tests', 'demo'];

const paths: string[] = [];
for (const folder of FOLDERS)
  for (const name of await readdir(join(root, folder), { recursive: true }))
    paths.push(`${folder}/${name.replaceAll('\\', '/')}`);

const CONFIG = /\.config\.(ts|mjs|js)$/;
const read = (path: string) => readFile(join(root, path), 'utf8');
const files: readonly SourceFile[] = await Promise.all(
  paths
    .filter((path) => /\.(tsx?|mjs|js)$/.test(path) && !CONFIG.test(path))
    .map(async (path) => ({ path, lines: (await read(path)).trimEnd().split('\n').length })),
);
const configs = paths.filter((path) => CONFIG.test(path));
if (configs.length === 0) throw new Error('found no configuration of a build to check');
const packages = (await readdir(join(root, 'node_modules'))).filter((name) => /^[a-z]/.test(name));
const manifest = JSON.parse(await read('package.json')) as Readonly<Record<string, unknown>>;

const faults = [
  ...layoutFaults(files),
  ...manifestFaults(manifest),
  ...(
    await Promise.all(configs.map(async (path) => buildConfigFaults(path, await read(path), packages)))
  ).flat(),
];
for (const fault of faults) process.stderr.write(`${fault}\n`);
if (faults.length > 0) process.exitCode = 1;
else
  process.stdout.write(
    `layout: ${files.length} files and ${configs.length} build configurations, no fault\n`,
  );
