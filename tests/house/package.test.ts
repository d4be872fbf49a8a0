/** What others build on: the files a package brings, their types, and the lists of what the tag has. */
import { execFile } from 'node:child_process';
import { cp, mkdir, mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { SourceMap } from 'node:module';
import { basename, join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import { requestResource } from '../tools/setup/broker.ts';

const run = promisify(execFile);
const root = resolve(import.meta.dirname, '../..');
const tool = (path: string, args: readonly string[], cwd: string) =>
  run(process.execPath, [join(root, 'node_modules', path), ...args], { cwd });

const tsc = (args: readonly string[], cwd: string) =>
  tool('typescript/bin/tsc', args, cwd).catch((error: { stdout?: string }) => {
    throw new Error(error.stdout ?? String(error));
  });

describe('in Node, where there is no page', () => {
  let built: string;
  beforeAll(async () => {
    built = await requestResource(inject('buildBroker'));
  }, 120_000);

  const inNode = async (how: 'module' | 'commonjs', file: string) => {
    const path = JSON.stringify(join(built, 'dist/widget', file));
    const code = `
      const { PlatenOrder } = ${how === 'module' ? `await import(${path})` : `require(${path})`};
      console.log(JSON.stringify([typeof PlatenOrder, 'document' in globalThis, 'customElements' in globalThis]));`;
    const quiet = '--disable-warning=ExperimentalWarning';
    const { stdout, stderr } = await run(process.execPath, [quiet, `--input-type=${how}`, '--eval', code]);
    expect(stderr).toBe('');
    return JSON.parse(stdout) as unknown;
  };

  it.each(['platen-order.js', 'platen-order.define.js', 'platen-order.class.js'])(
    '%s can be imported, and does nothing',
    async (file) => {
      expect(await inNode('module', file)).toEqual(['function', false, false]);
    },
  );

  it('what the package exports has no await at its top: it can be required', async () => {
    const { exports } = JSON.parse(await readFile(join(root, 'package.json'), 'utf8'));
    for (const name of ['.', './element']) {
      const file = String(exports[name].default).replace('./dist/widget/', '');
      expect(await inNode('commonjs', file)).toEqual(['function', false, false]);
    }
  });
});

describe('the maps to the source', () => {
  it.each([
    [/^platen-order\.js$/, 'customElements.define', 'tag.ts'],
    // which a hint stands above
    [/^slip-.+\.js$/, '`platen-problem`', 'events.ts'],
  ])(
    'of %s lead to where it was written, though the script was changed after it was made',
    async (file, text, from) => {
      const dir = join(await requestResource(inject('buildBroker')), 'dist/widget');
      const name = (await readdir(dir, { recursive: true })).find((path) => file.test(basename(path))) ?? '';
      const lines = (await readFile(join(dir, name), 'utf8')).split('\n');
      const line = lines.findIndex((entry) => entry.includes(text));
      const map = JSON.parse(await readFile(join(dir, `${name}.map`), 'utf8'));
      const found = new SourceMap(map).findEntry(line, lines[line]?.indexOf(text) ?? 0);
      if (!('originalSource' in found)) throw new Error(`${name} maps nothing at line ${line}`);
      expect(basename(found.originalSource)).toBe(from);
      const source: string = map.sourcesContent[map.sources.indexOf(found.originalSource)];
      expect(source.split('\n')[found.originalLine]?.slice(found.originalColumn)).toMatch(
        new RegExp(`^${text.replaceAll('`', "'")}`),
      );
    },
  );
});

describe('for a strict consumer', () => {
  let shop: string;

  beforeAll(async () => {
    // inside the repository, so that lit and the types of react are found by walking up
    await mkdir(join(root, '.cache'), { recursive: true });
    shop = await mkdtemp(join(root, '.cache/consumer-'));
    const own = join(shop, 'node_modules/peel-and-platen');
    await mkdir(own, { recursive: true });
    await cp(join(root, 'package.json'), join(own, 'package.json'));
    const { scripts } = JSON.parse(await readFile(join(own, 'package.json'), 'utf8'));
    const args = String(scripts['build:types']).replace(/^tsc /, '').split(' ');
    args[args.indexOf('--outDir') + 1] = join(own, 'dist/types');
    await tsc(args, root);
    // a package of its own, or the name would mean the repository around it
    await writeFile(join(shop, 'package.json'), '{"name":"shop","type":"module"}');
    await writeFile(
      join(shop, 'tsconfig.json'),
      JSON.stringify({
        compilerOptions: {
          strict: true,
          exactOptionalPropertyTypes: true,
          noUncheckedIndexedAccess: true,
          target: 'es2022',
          module: 'esnext',
          moduleResolution: 'bundler',
          lib: ['es2023', 'dom', 'dom.iterable'],
          jsx: 'react-jsx',
          types: [],
          noEmit: true,
        },
        include: ['*.ts', '*.tsx'],
      }),
    );
  }, 120_000);

  afterAll(() => rm(shop, { recursive: true, force: true }));

  it('the types and the React example compile, and what the tag and its events have not is refused', async () => {
    await writeFile(
      join(shop, 'page.ts'),
      `import 'peel-and-platen';
import { PlatenOrder, type PlatenChangeEvent } from 'peel-and-platen/element';

const slip = document.createElement('platen-order');
slip.shop = 'quill-and-kettle';
slip.theme = 'dark';
slip.units = 'in';
slip.value = { format: 1, lines: [] };
const text: string = slip.value;
const form: HTMLFormElement | null = slip.form;
slip.addEventListener('platen-change', (event) => event.draft.lines[0]?.counts);
slip.addEventListener('platen-quote', ({ answer }) => {
  if (answer.kind === 'quote') answer.total.toUpperCase();
});
slip.addEventListener('platen-order-placed', ({ order }) => order.number.toUpperCase());
slip.addEventListener('platen-problem', ({ problem }) => problem.code.toUpperCase());
const heard = (event: PlatenChangeEvent): string | null => event.draft.neededBy;
class Own extends PlatenOrder {}
customElements.define('own-slip', Own);
export { form, heard, text };

// @ts-expect-error no such theme
slip.theme = 'purple';
// @ts-expect-error read only
slip.link = '';
// @ts-expect-error an event has what it has
slip.addEventListener('platen-order-placed', (event) => event.detail);
`,
    );
    const example = await readFile(join(root, 'demo/react/order-slip.tsx'), 'utf8');
    await writeFile(join(shop, 'order-slip.tsx'), example);
    const wrong = example.replace('shop={props.shop}', '// @ts-expect-error no number\n      shop={7}');
    expect(wrong).not.toBe(example);
    await writeFile(join(shop, 'wrong.tsx'), wrong);
    // an error that is expected and does not come is an error too
    await tsc(['-p', 'tsconfig.json'], shop);
  }, 120_000);

  it('the README shows the React example that compiles', async () => {
    const example = await readFile(join(root, 'demo/react/order-slip.tsx'), 'utf8');
    const readme = await readFile(join(root, 'README.md'), 'utf8');
    expect(/```tsx\n([\s\S]*?)```/.exec(readme)?.[1]).toBe(example);
  });
});

describe('the lists of what the tag has', () => {
  type Named = { name: string; description?: string; type?: { text: string } };
  let code: string;
  let styles: string;
  let manifest: Record<'attributes' | 'events' | 'slots' | 'cssParts' | 'cssProperties', Named[]>;
  let readme: string;

  const all = (text: string, pattern: RegExp): string[] =>
    [...new Set([...text.matchAll(pattern)].map((found) => found[1] ?? ''))].sort();
  const names = (list: readonly Named[]): string[] => list.map(({ name }) => name).sort();
  const read = async (folder: string): Promise<string> => {
    const files = await readdir(join(root, folder), { recursive: true });
    const texts = files
      .filter((name) => name.endsWith('.ts'))
      .map((name) => readFile(join(root, folder, name), 'utf8'));
    return (await Promise.all(texts)).join('\n');
  };

  beforeAll(async () => {
    code = (await read('widget/parts')) + (await readFile(join(root, 'widget/element.ts'), 'utf8'));
    styles = (await read('widget/styles')) + (await read('widget/stage'));
    readme = await readFile(join(root, 'README.md'), 'utf8');
    const out = await mkdtemp(join(root, '.cache/manifest-'));
    await tool(
      '@custom-elements-manifest/analyzer/cem.js',
      ['analyze', '--outdir', out.slice(root.length + 1)],
      root,
    );
    const made = JSON.parse(await readFile(join(out, 'custom-elements.json'), 'utf8'));
    await rm(out, { recursive: true });
    const found = made.modules.flatMap(
      (module: { declarations: { tagName?: string }[] }) => module.declarations,
    );
    manifest = found.find((declaration: { tagName?: string }) => declaration.tagName === 'platen-order');
  }, 60_000);

  it('have every attribute, as the code has', () => {
    const block = /static override properties = \{([\s\S]*?)\n {2}\};/.exec(code)?.[1] ?? '';
    const attributes = [...block.matchAll(/^ {4}(\w+): \{(.*)\}/gm)].map(
      ([, name = '', options = '']) => /attribute: '([\w-]+)'/.exec(options)?.[1] ?? name.toLowerCase(),
    );
    expect(attributes.length).toBeGreaterThan(10);
    expect(names(manifest.attributes)).toEqual(attributes.sort());
    const table = readme.slice(readme.indexOf('| attribute / property |'));
    const rows = all(table.slice(0, table.indexOf('\n\n')), /`([a-z-]+)`(?=[^|]*\|[^|]*\|[^|]*\|\n)/g);
    for (const name of attributes) expect(readme, name).toContain(`\`${name}\``);
    expect(rows.filter((name) => !attributes.includes(name))).toEqual([]);
  });

  it('have every event, with its type', async () => {
    const events = await readFile(join(root, 'widget/events.ts'), 'utf8');
    const typed = [...events.matchAll(/'(platen-[a-z-]+)': (\w+);/g)].map(
      ([, name, type]) => `${name} ${type}`,
    );
    expect(typed.length).toBe(4);
    expect(manifest.events.map(({ name, type }) => `${name} ${type?.text}`).sort()).toEqual(typed.sort());
    for (const { name } of manifest.events) expect(readme).toContain(`\`${name}\``);
  });

  it('have every part, custom property and slot, each with what it is', () => {
    expect(names(manifest.cssParts)).toEqual(all(code, / part="([a-z-]+)"/g));
    expect(names(manifest.cssProperties)).toEqual(all(styles, /var\((--platen-[a-z-]+)/g));
    expect(names(manifest.slots)).toEqual(all(code, /<slot name="([a-z-]+)"/g));
    const listed =
      /Custom properties: (.*)\. Parts: (.*)\. Slots: (.*?)\. All of it/.exec(readme)?.slice(1) ?? [];
    const inReadme = listed.map((list) => all(list, /`([a-z-]+)`/g));
    expect(inReadme).toEqual([
      names(manifest.cssProperties),
      names(manifest.cssParts),
      names(manifest.slots),
    ]);
    for (const list of [
      manifest.attributes,
      manifest.events,
      manifest.cssParts,
      manifest.cssProperties,
      manifest.slots,
    ])
      expect(list.filter(({ description }) => !description)).toEqual([]);
  });
});
