/** What the package ships, and the lists of what the tag has: one from its manifest, one in the README, one in the code. */
import { readdir, readFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { requestResource } from '../tools/setup/broker.ts';

const root = resolve(import.meta.dirname, '../..');
let installed: string;
beforeAll(async () => {
  installed = join(await requestResource(inject('packageBroker')), 'node_modules/peel-and-platen');
}, 600_000);

describe('the tarball', () => {
  const files = async () =>
    (await readdir(installed, { recursive: true, withFileTypes: true }))
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name).slice(installed.length + 1));

  it('has code, types, worker, faces of type with their licenses, and nothing else', async () => {
    const allowed =
      /^((index|element)\.js|(index|element|form-associated-element|events|types|props|react|svelte|vue)\.d\.ts|chunks\/[\w-]+\.js|workers\/artwork-worker\.js|fonts\/[\w-]+\.woff2|fonts\/LICENSE-[\w-]+\.txt|custom-elements\.json|package\.json|README\.md|LICENSE)$/;
    const names = await files();
    expect(names.filter((name) => !allowed.test(name))).toEqual([]);
    for (const name of ['workers/artwork-worker.js', 'LICENSE', 'README.md', 'fonts/LICENSE-bitter.txt'])
      expect(names).toContain(name);
    expect(names.filter((name) => name.endsWith('.woff2'))).toHaveLength(4);
  });

  it('depends on what a page needs: Lit and Fabric, which its code imports from outside', async () => {
    const { dependencies, ...manifest } = JSON.parse(await readFile(join(installed, 'package.json'), 'utf8'));
    expect(Object.keys(dependencies)).toEqual(['lit', 'fabric']);
    for (const group of ['optionalDependencies', 'peerDependencies', 'bundledDependencies', 'scripts'])
      expect(manifest[group]).toBeUndefined();
    const scripts = (await files()).filter((name) => name.endsWith('.js') && !name.startsWith('workers/'));
    const texts = await Promise.all(scripts.map((name) => readFile(join(installed, name), 'utf8')));
    const imports = texts.flatMap((text) => [
      ...text.matchAll(/^import (?:[^"'\n]* from )?["']([^."'][^"']*)["'];$/gm),
    ]);
    const packages = imports.map(([, name = '']) => name.split('/')[0]);
    expect([...new Set(packages)].sort()).toEqual(['fabric', 'lit']);
  });

  it('names in its exports only files that are there', async () => {
    const { exports } = JSON.parse(await readFile(join(installed, 'package.json'), 'utf8'));
    const names = await files();
    const targets = Object.values<string | Record<string, string>>(exports)
      .flatMap((target) => (typeof target === 'string' ? [target] : Object.values(target)))
      .filter((target) => !target.includes('*'));
    for (const target of targets) expect(names).toContain(target.slice(2));
  });
});

describe('the lists of what the tag has', () => {
  type Named = { name: string; description?: string; privacy?: string; type?: { text: string } };
  let code: string;
  let styles: string;
  let manifest: Record<'members' | 'attributes' | 'events' | 'slots' | 'cssParts' | 'cssProperties', Named[]>;
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
    const made = JSON.parse(await readFile(join(installed, 'custom-elements.json'), 'utf8'));
    const found = made.modules.flatMap(
      (module: { declarations: { tagName?: string }[] }) => module.declarations,
    );
    manifest = found.find((declaration: { tagName?: string }) => declaration.tagName === 'platen-order');
  }, 300_000);

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

  it('have public members only', () => {
    expect(manifest.members.length).toBeGreaterThan(20);
    const hidden = manifest.members.filter(
      ({ name, privacy }) => /^[#_]|Callback$/.test(name) || (privacy ?? 'public') !== 'public',
    );
    expect(hidden).toEqual([]);
    for (const name of ['value', 'undo', 'checkValidity']) expect(names(manifest.members)).toContain(name);
    expect(names(manifest.members)).not.toContain('platenEarly');
    expect(names(manifest.members)).not.toContain('onAnswer');
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
