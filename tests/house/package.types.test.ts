/** The package's types as strict consumers read them: plain TypeScript and the templates of three frameworks. */
import { execFile } from 'node:child_process';
import { mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { promisify } from 'node:util';
import { beforeAll, expect, inject, it } from 'vitest';
import { requestResource } from '../tools/setup/broker.ts';

const run = promisify(execFile);
const root = resolve(import.meta.dirname, '../..');
const repositoryFile = (path: string) => readFile(join(root, path), 'utf8');

let shop: string;
beforeAll(async () => {
  shop = await requestResource(inject('packageBroker'));
}, 600_000);

/** Runs a type checker over files in a project of their own; rejects with what it says. */
async function check(
  tool: string,
  args: readonly string[],
  files: Readonly<Record<string, string>>,
  options: Record<string, unknown> = {},
): Promise<void> {
  await mkdir(shop, { recursive: true });
  const dir = await mkdtemp(join(shop, 'types-'));
  const compilerOptions = {
    strict: true,
    exactOptionalPropertyTypes: true,
    noUncheckedIndexedAccess: true,
    target: 'es2022',
    module: 'esnext',
    moduleResolution: 'bundler',
    lib: ['es2023', 'dom', 'dom.iterable'],
    verbatimModuleSyntax: true,
    types: [],
    noEmit: true,
    ...options,
  };
  await writeFile(join(dir, 'tsconfig.json'), JSON.stringify({ compilerOptions, include: ['*'] }));
  for (const [name, text] of Object.entries(files)) await writeFile(join(dir, name), text);
  try {
    await run(process.execPath, [join(root, 'node_modules', tool), ...args], { cwd: dir });
  } catch (error) {
    const { stdout = '', stderr = '' } = error as { stdout?: string; stderr?: string };
    throw new Error(`${stdout}${stderr}` || String(error));
  } finally {
    await rm(dir, { recursive: true });
  }
}

const tsc = (files: Readonly<Record<string, string>>, options?: Record<string, unknown>) =>
  check('typescript/bin/tsc', ['-p', 'tsconfig.json'], files, options);

const PAGE = `import 'peel-and-platen';
import type { Draft, QuoteResponse, Slip } from 'peel-and-platen';
import { PlatenOrder, type PlatenChangeEvent } from 'peel-and-platen/element';

const slip = document.createElement('platen-order');
slip.shop = 'quill-and-kettle';
slip.theme = 'dark';
slip.units = 'in';
slip.value = { format: 1, lines: [] };
const text: string = slip.value;
const form: HTMLFormElement | null = slip.form;
const finished: Slip | null = slip.slip;
slip.addEventListener('platen-change', (event) => event.draft.lines[0]?.counts);
slip.addEventListener('platen-quote', ({ answer }) => {
  if (answer.kind === 'quote') answer.total.toUpperCase();
  else for (const { code, params } of answer.reasons) console.log(code === 'in-keep-out', params['keepOut']);
});
slip.addEventListener('platen-order-placed', ({ order }) => order.number.toUpperCase());
slip.addEventListener('platen-problem', ({ problem }) => problem.code.toUpperCase());
const heard = (event: PlatenChangeEvent): string | null => event.draft.neededBy;
const total = (answer: QuoteResponse): string => (answer.kind === 'quote' ? answer.total : '');
const pieces = (draft: Draft): number => draft.lines.flatMap(({ counts }) => counts).length;
class Own extends PlatenOrder {}
customElements.define('own-slip', Own);
export { finished, form, heard, pieces, text, total };

// @ts-expect-error no such theme
slip.theme = 'purple';
// @ts-expect-error read only
slip.link = '';
// @ts-expect-error an event has what it has
slip.addEventListener('platen-order-placed', (event) => event.detail);
// @ts-expect-error no such kind of answer
export const wrong = (answer: QuoteResponse): boolean => answer.kind === 'maybe';
`;

it('plain TypeScript and React 19, with the declarations of libraries checked too', async () => {
  const example = await repositoryFile('demo/react/order-slip.tsx');
  const wrong = example.replace('shop={props.shop}', '// @ts-expect-error no number\n      shop={7}');
  expect(wrong).not.toBe(example);
  // an error that is expected and does not come is an error too
  const files = { 'page.ts': PAGE, 'order-slip.tsx': example, 'wrong.tsx': wrong };
  await tsc(files, { jsx: 'react-jsx', skipLibCheck: false });
}, 300_000);

it('under the rules of Node', async () => {
  await tsc({ 'page.mts': PAGE }, { module: 'nodenext', moduleResolution: 'nodenext' });
}, 300_000);

it('the README shows the React example that compiles', async () => {
  const readme = await repositoryFile('README.md');
  expect(/```tsx\n([\s\S]*?)```/.exec(readme)?.[1]).toBe(await repositoryFile('demo/react/order-slip.tsx'));
});

/** Checks a right and two wrong files in one go; only the wrong ones may be refused, each for its own reason. */
async function checkTemplates(
  tool: string,
  args: readonly string[],
  extension: string,
  page: (attributes: string) => string,
  attributes: { readonly right: string; readonly number: string; readonly theme: string },
): Promise<void> {
  const files = Object.entries(attributes).map(([name, text]) => [`${name}.${extension}`, page(text)]);
  const options = { jsx: 'preserve', skipLibCheck: true };
  const told = await check(tool, args, Object.fromEntries(files), options).then(
    () => '',
    (error: Error) => error.message,
  );
  expect(told).toContain(`number.${extension}`);
  expect(told).toContain("Type 'number' is not assignable");
  expect(told).toContain(`theme.${extension}`);
  expect(told).toContain('"purple"');
  expect(told).not.toContain(`right.${extension}`);
}

it('Vue 3: only wrong templates are refused', async () => {
  const page = (attributes: string) => `<script setup lang="ts">
import type { PlatenOrderEvent } from 'peel-and-platen/vue';
const placed = (event: PlatenOrderEvent) => console.log(event.order.number);
</script>

<template>
  <platen-order ${attributes} />
</template>
`;
  await checkTemplates('vue-tsc/bin/vue-tsc.js', ['-p', 'tsconfig.json'], 'vue', page, {
    right: 'shop="quill-and-kettle" theme="auto" @platen-order-placed="placed"',
    number: ':shop="7" @platen-order-placed="placed"',
    theme: 'theme="purple" @platen-order-placed="placed"',
  });
}, 300_000);

it('Svelte 5: only wrong components are refused', async () => {
  const page = (attributes: string) => `<script lang="ts">
  import 'peel-and-platen/svelte';
  import type { PlatenOrderEvent } from 'peel-and-platen';
  const placed = (event: PlatenOrderEvent) => console.log(event.order.number);
</script>

<platen-order ${attributes} onplaten-order-placed={placed}></platen-order>
`;
  await checkTemplates('svelte-check/bin/svelte-check', ['--tsconfig', 'tsconfig.json'], 'svelte', page, {
    right: 'shop="quill-and-kettle" theme="auto"',
    number: 'shop={7}',
    theme: 'theme="purple"',
  });
}, 300_000);
