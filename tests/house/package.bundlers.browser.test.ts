/** Pages bundled from the installed package, by four bundlers, in a real browser. */
import { mkdir, readFile, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { nodeResolve } from '@rollup/plugin-node-resolve';
import * as esbuild from 'esbuild';
import type { Page } from 'playwright';
import { rollup } from 'rollup';
import * as vite from 'vite';
import { afterAll, beforeAll, describe, expect, inject, it } from 'vitest';
import webpack from 'webpack';
import { demoArtwork, SlipPage } from '../e2e/slip-page.ts';
import { startTestSite, type TestSite } from '../e2e/test-site.ts';
import { requestResource } from '../tools/setup/broker.ts';
import { serveHost } from '../widget/embedding/host-page.ts';

let rig: TestSite;
let shop: string;
beforeAll(async () => {
  shop = await requestResource(inject('packageBroker'));
  rig = await startTestSite();
}, 600_000);
afterAll(() => rig?.close());

/** Builds `entry` into `out`, with `page.js` as the script of the page. */
type Bundler = (entry: string, out: string) => Promise<unknown>;

const bundlers: Readonly<Record<string, Bundler>> = {
  Vite: (entry, out) =>
    vite.build({
      root: shop,
      configFile: false,
      logLevel: 'error',
      base: './',
      build: {
        outDir: out,
        rolldownOptions: { input: entry, output: { entryFileNames: 'page.js' } },
      },
    }),
  webpack: (entry, out) =>
    new Promise<void>((done, failed) => {
      webpack(
        { mode: 'production', context: shop, entry, output: { path: out, filename: 'page.js' } },
        (error, stats) => {
          if (error || stats?.hasErrors()) failed(error ?? new Error(stats?.toString('errors-only')));
          else done();
        },
      );
    }),
  Rollup: async (entry, out) => {
    const bundle = await rollup({
      input: entry,
      plugins: [nodeResolve({ browser: true })],
      logLevel: 'silent',
    });
    await bundle.write({ dir: out, entryFileNames: 'page.js' });
    await bundle.close();
  },
  esbuild: (entry, out) =>
    esbuild.build({
      entryPoints: [entry],
      outdir: out,
      entryNames: 'page',
      bundle: true,
      splitting: true,
      format: 'esm',
      logLevel: 'error',
    }),
};

const TYPES: Readonly<Record<string, string>> = { js: 'text/javascript', woff2: 'font/woff2' };

/** Bundles a page and opens it at the origin of the API; its files are under /shop/. */
async function open(bundler: string, code: string, body: string) {
  const name = `${bundler}-${code.length}`.toLowerCase();
  const entry = join(shop, 'pages', `${name}.js`);
  await mkdir(join(shop, 'pages'), { recursive: true });
  await writeFile(entry, code);
  await bundlers[bundler]?.(entry, join(shop, 'site', name));
  const { page, leave } = await rig.visit('/healthz');
  const missing: string[] = [];
  await page.route('**/shop/**', async (route) => {
    const path = new URL(route.request().url()).pathname.slice('/shop/'.length);
    const bytes = await readFile(join(shop, path)).catch(() => undefined);
    if (!bytes) missing.push(path);
    if (!bytes) await route.fulfill({ status: 404 });
    else
      await route.fulfill({ contentType: TYPES[path.split('.').at(-1) ?? ''] ?? 'text/plain', body: bytes });
  });
  // webpack's script finds its files by document.currentScript, which a module has none of
  const type = bundler === 'webpack' ? 'defer' : 'type="module"';
  await serveHost(page, rig.server.url, {
    head: `<script>window.problems = []; addEventListener('platen-problem', ({ problem }) => problems.push(problem.code + ' ' + problem.message));</script><script ${type} src="/shop/site/${name}/page.js"></script>`,
    body,
  });
  await page.goto(new URL('/host.html', rig.server.url).href);
  return { page, missing, leave };
}

const problemsOn = (page: Page) => page.evaluate<string[]>('window.problems');

/** Adds a file of which only the page itself can say anything: the shop answers no upload and no quote. */
async function addFile(page: Page): Promise<SlipPage> {
  await page.route('**/v1/shops/*/{artworks,uploads,quotes}**', () => {});
  const hand = new SlipPage(page);
  await hand.pickItem('Everyday cotton tee');
  await hand.pickColor('Navy');
  await hand.count('M', 3);
  await hand.addArtwork(demoArtwork('roundel-white-box.jpg'));
  return hand;
}

/** A list of names, whose face of type is loaded once it is drawn. */
const addNames = (page: Page) =>
  page.evaluate(() => {
    const slip = document.querySelector('platen-order') as unknown as { value: string | object };
    const draft = JSON.parse(slip.value as string);
    const place = { face: 'back', xMm: 0, yMm: 100, angleDeg: 0, capHeightMm: 60, widthMm: 250 };
    const entries = [{ size: 'm', text: 'ADA' }];
    draft.lines[0].names = { id: 'names-1', ...place, font: 'slab-bold', hex: '#ffffff', entries };
    slip.value = draft;
  });

async function boxNoticed({ slip }: SlipPage): Promise<void> {
  const folded = slip.locator('.told button[aria-expanded="false"]');
  const finding = slip.locator('[part="finding"]', { hasText: 'stands in a filled box' });
  await folded.or(finding).first().waitFor();
  if (await folded.isVisible()) await folded.click();
  await finding.waitFor();
}

const TAG = "import 'peel-and-platen';";
const SLIP = '<platen-order shop="quill-and-kettle" forgetful></platen-order>';
const WITH_ASSETS = SLIP.replace('forgetful', 'forgetful assets="/shop/node_modules/peel-and-platen"');

describe.each([
  ['Vite', 'which copies worker and faces', SLIP],
  ['webpack', 'which copies worker and faces', SLIP],
  ['Rollup', 'given the address of worker and faces', WITH_ASSETS],
  ['esbuild', 'given the address of worker and faces', WITH_ASSETS],
])('%s', (bundler, how, body) => {
  it(`${how}: the page checks artwork by itself and draws names`, async () => {
    const { page, missing, leave } = await open(bundler, TAG, body);
    const hand = await addFile(page);
    await boxNoticed(hand);
    const face = page.waitForResponse((response) => response.url().endsWith('.woff2'));
    await addNames(page);
    expect((await face).status()).toBe(200);
    expect(missing).toEqual([]);
    expect(await problemsOn(page)).toEqual([]);
    await leave();
  });
});

describe.each(['Rollup', 'esbuild'])('%s without that address', (bundler) => {
  it('says so by an event, and the shop checks the artwork', async () => {
    const { page, leave } = await open(bundler, TAG, SLIP);
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 3);
    await hand.addArtwork(demoArtwork('roundel-white-box.jpg'));
    await boxNoticed(hand);
    await expect
      .poll(() => problemsOn(page), { timeout: 60_000 })
      .toEqual([
        expect.stringMatching(
          /^asset-unavailable http.*artwork-worker\.js did not load; see the property "assets"$/,
        ),
      ]);
    await leave();
  });
});

it('the entry of the class defines no tag', async () => {
  const code = `import { PlatenOrder } from 'peel-and-platen/element';
customElements.define('own-slip', class extends PlatenOrder {});
window.known = customElements.get('platen-order') !== undefined;`;
  const { page, leave } = await open('Vite', code, SLIP.replaceAll('platen-order', 'own-slip'));
  await page.locator('own-slip').getByRole('radio', { name: 'Stoneware mug' }).waitFor();
  expect(await page.evaluate('window.known')).toBe(false);
  await leave();
});
