import { readdir, readFile, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { brotliCompress } from 'node:zlib';
import { defineConfig, type Plugin } from 'vite';

const here = (path: string) => resolve(import.meta.dirname, path);

/** Writes a brotli copy beside every script, so that the server need not compress what it sends. */
const precompress: Plugin = {
  name: 'precompress',
  async writeBundle({ dir = '' }) {
    const scripts = (await readdir(dir, { recursive: true })).filter((name) => name.endsWith('.js'));
    await Promise.all(
      scripts.map(async (name) => {
        const path = join(dir, name);
        await writeFile(`${path}.br`, await promisify(brotliCompress)(await readFile(path)));
      }),
    );
  },
};

/**
 * Builds the widget twice.
 *
 * Without a mode: the script for pages, into dist/widget. `platen-order.js` brings Lit and Fabric along; all other files
 * carry a hash in their names.
 *
 * `--mode package`: the npm package, into dist/package. Lit and Fabric stay imports, names stay plain, and the code is
 * left readable: the bundler of the page minifies it.
 */
export default defineConfig(({ mode }) => {
  const forPackage = mode === 'package';
  const name = forPackage ? '[name]' : '[name]-[hash]';
  const minify = !forPackage;
  return {
    // Files are found relative to the script that names them, wherever they are served from.
    base: './',
    publicDir: false,
    plugins: forPackage ? [] : [precompress],
    build: {
      outDir: forPackage ? 'dist/package' : 'dist/widget',
      emptyOutDir: true,
      target: 'es2022',
      sourcemap: !forPackage,
      manifest: !forPackage && 'manifest.json',
      lib: {
        entry: forPackage
          ? { index: here('index.ts'), element: here('element.ts') }
          : { 'platen-order': here('tag.ts') },
        formats: ['es'],
      },
      rolldownOptions: {
        external: forPackage ? /^(lit|fabric)(\/|$)/ : [],
        output: {
          entryFileNames: '[name].js',
          chunkFileNames: `chunks/${name}.js`,
          assetFileNames: `fonts/${name}[extname]`,
          // Library mode keeps white space unless told otherwise.
          minify,
          comments: forPackage,
          // The first sight of the slip is one file: every further import would be one more round trip.
          codeSplitting: { groups: [{ name: 'slip', test: /\/widget\/element\.ts$/ }] },
        },
      },
    },
    // A bundler may copy the worker as it is, so it is complete in one file, and minified in the package too.
    worker: {
      format: 'es',
      rolldownOptions: { output: { entryFileNames: `workers/${name}.js`, minify: true, comments: false } },
    },
  };
});
