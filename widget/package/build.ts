/**
 * `npm run build:package [folder]`: writes the npm package, ready for `npm pack`, into dist/package or that folder. It
 * holds what a page needs and nothing of the server.
 */
import { execFile } from 'node:child_process';
import { copyFile, mkdir, readFile, writeFile } from 'node:fs/promises';
import { join, relative, resolve } from 'node:path';
import { promisify } from 'node:util';
import { build } from 'vite';
import { declarations } from './declarations.ts';

const root = resolve(import.meta.dirname, '../..');
const out = resolve(process.argv[2] ?? join(root, 'dist/package'));

/** Lit and Fabric stay imports, so that a page that uses them too has each once. */
const DEPENDENCIES = ['lit', 'fabric'];
/** Frameworks whose templates get the types of the tag; each entry also defines it. */
const FRAMEWORKS = ['react', 'svelte', 'vue'];
/** Packages whose faces of type are copied along, with their licenses. */
const FONTS = ['barlow-condensed', 'bitter'];

type RootManifest = {
  readonly version: string;
  readonly license: string;
  readonly description: string;
  readonly dependencies: Readonly<Record<string, string>>;
};

await build({
  configFile: join(root, 'widget/vite.config.ts'),
  mode: 'package',
  logLevel: 'warn',
  build: { outDir: out },
});
await Promise.all([writeDeclarations(), writeElementsManifest(), writeManifest(), writeLicenses()]);

async function writeDeclarations(): Promise<void> {
  for (const [name, text] of declarations(root)) await writeFile(join(out, name), text);
  for (const name of ['props', ...FRAMEWORKS])
    await copyFile(join(import.meta.dirname, `${name}.d.ts`), join(out, `${name}.d.ts`));
}

/** custom-elements.json, for editors and catalogs of components. */
async function writeElementsManifest(): Promise<void> {
  const analyzer = join(root, 'node_modules/@custom-elements-manifest/analyzer/cem.js');
  const config = 'widget/custom-elements-manifest.config.mjs';
  const args = ['analyze', '--config', config, '--outdir', relative(root, out)];
  await promisify(execFile)(process.execPath, [analyzer, ...args], { cwd: root });
}

async function writeManifest(): Promise<void> {
  const text = await readFile(join(root, 'package.json'), 'utf8');
  const { version, license, description, dependencies } = JSON.parse(text) as RootManifest;
  const framework = (name: string) => [`./${name}`, { types: `./${name}.d.ts`, default: './index.js' }];
  const manifest = {
    name: 'peel-and-platen',
    version,
    description,
    license,
    type: 'module',
    sideEffects: ['./index.js'],
    main: './index.js',
    types: './index.d.ts',
    exports: {
      '.': { types: './index.d.ts', default: './index.js' },
      './element': { types: './element.d.ts', default: './element.js' },
      ...Object.fromEntries(FRAMEWORKS.map(framework)),
      './workers/*': './workers/*',
      './fonts/*': './fonts/*',
      './custom-elements.json': './custom-elements.json',
      './package.json': './package.json',
    },
    customElements: 'custom-elements.json',
    files: ['*.js', '*.d.ts', 'chunks', 'fonts', 'workers', 'custom-elements.json'],
    dependencies: Object.fromEntries(DEPENDENCIES.map((name) => [name, `^${dependencies[name]}`])),
  };
  await writeFile(join(out, 'package.json'), `${JSON.stringify(manifest, null, 2)}\n`);
  await copyFile(join(import.meta.dirname, 'README.md'), join(out, 'README.md'));
}

async function writeLicenses(): Promise<void> {
  await copyFile(join(import.meta.dirname, 'LICENSE'), join(out, 'LICENSE'));
  await mkdir(join(out, 'fonts'), { recursive: true });
  for (const name of FONTS)
    await copyFile(
      join(root, 'node_modules/@fontsource', name, 'LICENSE'),
      join(out, `fonts/LICENSE-${name}.txt`),
    );
}
