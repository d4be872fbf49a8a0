import { describe, expect, it } from 'vitest';
import { buildConfigFaults, manifestFaults } from '../../tools/checks/build-config.ts';

const packages = ['lit', 'lit-html', 'fabric', 'decimal.js', 'vite'];
const faultsIn = (code: string) => buildConfigFaults('planted.config.ts', code, packages);

describe('the check that no build edits the text of a package', () => {
  it.each([
    ["const plugin = { name: 'p', transform(code) { return code.replace('a', 'b'); } };", 'hook "transform"'],
    ["const plugin = { name: 'p', transform: (code) => code };", 'hook "transform"'],
    ["const plugin = { name: 'p', transform: { filter: {}, handler() {} } };", 'hook "transform"'],
    ["const transform = () => ''; const plugin = { name: 'p', transform };", 'hook "transform"'],
    ["const plugin = { name: 'p', 'renderChunk'(code) { return code; } };", 'hook "renderChunk"'],
    ["const plugin = { name: 'p', load(id) { return ''; } };", 'hook "load"'],
    ['for (const chunk of chunks) chunk.code = chunk.code.trim();', 'text of a bundle: chunk.code'],
    ['const file = /lit-html\\/lit-html\\.js$/;', 'file inside a package'],
    ["const file = 'fabric/dist/src/Point.min.mjs';", 'file inside a package'],
    ["const file = 'decimal.js/decimal.mjs';", 'file inside a package'],
    ["const file = '../node_modules/lit/index.d.ts';", 'file inside a package'],
    ['const file = `node_modules/lit/index.d.ts`;', 'file inside a package'],
  ])('reports %s', (code, what) => {
    expect(faultsIn(code).join()).toContain(what);
  });

  it.each([
    "import { minify } from 'some-minifier'; export default { plugins: [minify()] };",
    "export default { build: { rollupOptions: { external: ['lit', /^lit\\//, 'fabric/es'] } } };",
    "export default { build: { outDir: 'dist/widget', rolldownOptions: { output: { entryFileNames: '[name].js' } } } };",
    'const sizes = { code: 1 }; const text = chunk.code;',
    "export default { exclude: ['**/node_modules'] };",
    "run('vite/bin/vite.js', ['build']);",
  ])('accepts %s', (code) => {
    expect(faultsIn(code)).toEqual([]);
  });

  it('names the line', () => {
    expect(faultsIn('\n\nchunk.code = 1;')).toEqual([
      'planted.config.ts:3 assigns to the text of a bundle: chunk.code',
    ]);
  });

  it('reports what could change packages after they are installed', () => {
    expect(manifestFaults({ scripts: { postinstall: 'patch-package' } })).toHaveLength(1);
    expect(manifestFaults({ patchedDependencies: {} })).toHaveLength(1);
    expect(manifestFaults({ scripts: { build: 'tsc' }, overrides: { fabric: {} } })).toEqual([]);
  });
});
