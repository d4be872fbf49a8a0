import { join, resolve } from 'node:path';
import type { Browser, BrowserContext, Page } from 'playwright';
import { build as viteBuild } from 'vite';
import { type RealServer, startRealServer } from '../e2e/real-server.ts';
import { type Build, build } from '../tools/build.ts';
import { launchChromium } from '../tools/chromium.ts';
import { serveHost } from '../widget/host-page.ts';

/** The built server and widget and a browser, for benchmarks of the whole slip. */
export type SlipRig = { readonly server: RealServer; readonly browser: Browser };

/** Served beside the widget by the same server, so that the two differ in nothing but themselves. */
const BARE_LIT = 'bare-lit.js';

let running: Promise<SlipRig & { readonly built: Build }> | undefined;
let users = 0;

/** Starts it, or shares the one that runs. */
export async function openSlipRig(): Promise<SlipRig> {
  users += 1;
  running ??= start();
  return running;
}

/** The last user ends it. */
export async function closeSlipRig(): Promise<void> {
  users -= 1;
  if (users > 0 || !running) return;
  const { browser, server, built } = await running;
  running = undefined;
  await browser.close();
  await server.stop();
  await built.remove();
}

async function start(): Promise<SlipRig & { readonly built: Build }> {
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
  return { built, server: await startRealServer(built.dir), browser: await launchChromium() };
}

export type Visited = { readonly page: Page; readonly context: BrowserContext };

/** A visitor without anything in the cache opens a shop's page that holds the slip, or bare Lit. */
export async function openHost(
  { browser, server }: SlipRig,
  which: 'slip' | 'bare',
  options: { readonly before?: (page: Page) => Promise<void>; readonly attributes?: string } = {},
): Promise<Visited> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 900 },
    locale: 'en-US',
    reducedMotion: 'reduce',
  });
  const page = await context.newPage();
  // the compiler that runs the benchmarks names functions by a helper that a page has not got
  await page.addInitScript('globalThis.__name = (made) => made');
  const slip = which === 'slip';
  await serveHost(page, server.url, {
    head: `<style>body{margin:0}</style><script type="module" src="/widget/${slip ? 'platen-order.js' : BARE_LIT}"></script>`,
    body: slip
      ? `<h1>Shop</h1><platen-order shop="quill-and-kettle" forgetful ${options.attributes ?? ''}></platen-order><p>Below</p>`
      : '<h1>Shop</h1><bare-lit></bare-lit><p>Below</p>',
  });
  await options.before?.(page);
  await page.goto(new URL('/host.html', server.url).href);
  return { page, context };
}
