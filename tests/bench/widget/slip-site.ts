import { writeFile } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright';
import { build as viteBuild } from 'vite';
import { launchChromium } from '../../tools/browser/launch-chromium.ts';
import { type Build, build } from '../../tools/build.ts';
import { type ServerProcess, startServerProcess } from '../../tools/servers/server-process.ts';
import { defineNameHelper } from './define-name-helper.ts';

/** The built server and widget and a browser, for benchmarks of the whole slip. */
export type SlipSite = { readonly server: ServerProcess; readonly browser: Browser };

/** Served by the same server as the widget, so that nothing but the two scripts differs. */
const BARE_LIT = 'bare-lit.js';

const SETTLE_MS = 800;

let running: Promise<SlipSite & { readonly built: Build }> | undefined;
let users = 0;

/** Starts the site, or shares the one that is running. */
export async function openSlipSite(): Promise<SlipSite> {
  users++;
  running ??= start();
  return running;
}

/** Closes the site when its last user has closed it. */
export async function closeSlipSite(): Promise<void> {
  users--;
  if (users > 0 || !running) return;
  const { browser, server, built } = await running;
  running = undefined;
  await browser.close();
  await server.stop();
  await built.remove();
}

async function start(): Promise<SlipSite & { readonly built: Build }> {
  const built = await build();
  await viteBuild({
    configFile: false,
    logLevel: 'error',
    publicDir: false,
    build: {
      outDir: join(built.dir, 'dist/widget'),
      emptyOutDir: false,
      target: 'es2022',
      modulePreload: false,
      lib: { entry: resolve(import.meta.dirname, 'pages/bare-lit.ts'), formats: ['es'] },
      rolldownOptions: { output: { entryFileNames: BARE_LIT, minify: true } },
    },
  });
  const page = (script: string, body: string): string =>
    `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Shop</title><link rel="icon" href="data:,"><style>body{margin:0} platen-order{display:block;min-height:100vh}</style><script type="module" src="/widget/${script}"></script></head><body><h1>Shop</h1>${body}<p>Below</p></body></html>`;
  // Served as files: a page fulfilled by a Playwright route slows down all its requests.
  const slip = '<platen-order shop="quill-and-kettle" forgetful></platen-order>';
  await writeFile(join(built.dir, 'dist/widget/host-slip.html'), page('platen-order.js', slip));
  await writeFile(join(built.dir, 'dist/widget/host-bare.html'), page(BARE_LIT, '<bare-lit></bare-lit>'));
  return { built, server: await startServerProcess(built.dir), browser: await launchChromium() };
}

export type Visited = { readonly page: Page; readonly context: BrowserContext };

/** Opens, with an empty cache, a shop's page that holds the slip or a bare Lit element. */
export async function openHost(
  { browser, server }: SlipSite,
  which: 'slip' | 'bare',
  before: (page: Page) => Promise<void> = async () => {},
): Promise<Visited> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    locale: 'en-US',
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  await defineNameHelper(page);
  await before(page);
  // A new window is busy with its start page for a while.
  await page.waitForTimeout(SETTLE_MS);
  await page.goto(new URL(`/widget/host-${which}.html`, server.url).href, { waitUntil: 'commit' });
  return { page, context };
}
