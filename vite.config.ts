import { resolve } from 'node:path';
import { minifyHTMLLiterals } from 'minify-literals';
import { defineConfig, type Plugin } from 'vite';

/** White space inside html and css literals is bytes too; the general minifier leaves strings alone. */
const minifyLiterals: Plugin = {
  name: 'minify-literals',
  apply: 'build',
  enforce: 'pre',
  async transform(code, id) {
    if (!/\/widget\/.*\.ts$/.test(id) || !/\b(html|css|svg)`/.test(code)) return null;
    const small = await minifyHTMLLiterals(code, { fileName: id });
    return small ? { code: small.code, map: small.map?.toString() ?? null } : null;
  },
};

/**
 * Builds the widget into dist/widget: `platen-order.js` defines the tag, `platen-order.class.js` only brings the
 * class. What is imported lazily (the stage, a locale) becomes a hashed chunk, workers their own files.
 */
export default defineConfig({
  // Chunks and workers are found beside the entry, wherever a shop serves it from.
  base: './',
  publicDir: false,
  plugins: [minifyLiterals],
  build: {
    outDir: 'dist/widget',
    emptyOutDir: true,
    target: 'es2022',
    sourcemap: true,
    manifest: 'manifest.json',
    // A preload helper would put <link> tags into the shop's own <head>.
    modulePreload: false,
    lib: {
      entry: {
        'platen-order': resolve(import.meta.dirname, 'widget/index.ts'),
        'platen-order.class': resolve(import.meta.dirname, 'widget/element.ts'),
      },
      formats: ['es'],
    },
    rolldownOptions: {
      output: {
        entryFileNames: '[name].js',
        chunkFileNames: 'chunks/[name]-[hash].js',
        assetFileNames: 'assets/[name]-[hash][extname]',
        // Library mode keeps white space unless told otherwise.
        minify: true,
      },
    },
  },
  worker: {
    format: 'es',
    rolldownOptions: { output: { entryFileNames: 'workers/[name]-[hash].js', minify: true } },
  },
});
