/** The built script for pages: what it weighs, how many round trips it takes, and its maps to the source. */
import { readdir, readFile } from 'node:fs/promises';
import { SourceMap } from 'node:module';
import { basename, join } from 'node:path';
import { beforeAll, expect, inject, it } from 'vitest';
import { requestResource } from '../tools/setup/broker.ts';
import {
  FIRST_LOAD_BUDGET_BYTES,
  firstLoadSteps,
  measureWidget,
  WHOLE_BUDGET_BYTES,
} from '../tools/widget-size.ts';

let dir: string;
beforeAll(async () => {
  dir = join(await requestResource(inject('buildBroker')), 'dist/widget');
}, 600_000);

it('keeps within its budgets', async () => {
  const { firstLoadBytes, wholeBytes, fontBytes } = await measureWidget(dir);
  expect(firstLoadBytes).toBeLessThanOrEqual(FIRST_LOAD_BUDGET_BYTES);
  expect(wholeBytes).toBeLessThanOrEqual(WHOLE_BUDGET_BYTES);
  expect(fontBytes).toBeGreaterThan(0);
});

it('has all code of the first sight in one file, requested at once by the script of the tag', async () => {
  const steps = await firstLoadSteps(dir);
  expect(steps).toEqual([['platen-order.js'], [expect.stringMatching(/^chunks\/slip-[\w-]{8}\.js$/)]]);
});

it.each([
  [/^platen-order\.js$/, 'customElements.define', 'tag.ts'],
  [/^slip-.+\.js$/, '`platen-problem`', 'events.ts'],
])('the map of %s leads to the source', async (file, text, from) => {
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
});
