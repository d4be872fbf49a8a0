import { mkdir, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { parseArgs } from 'node:util';
import type { Browser, Page } from 'playwright';
import {
  bringTo,
  type KnownArtworks,
  SLIP_STATES,
  type SlipState,
  sendArtworks,
} from '../e2e/slip-states.ts';
import { launchChromium } from './browser/launch-chromium.ts';
import { build } from './build.ts';
import { startServerProcess } from './servers/server-process.ts';

/**
 * `npm run shots`: screenshots of every state of the slip on the demo shop's page, at three widths, light, dark and in
 * Arabic: PNGs in .cache/shots, one of the window and one of the whole page.
 *
 * `--only why,placed` limits the states, `--width 360` the widths, `--look dark` the looks; `--at http://…` uses a server
 * that is already running, so nothing is built.
 */
const WIDTHS_PX = ['360', '768', '1280'];
const LOOKS: Readonly<Record<string, string>> = {
  light: '/?lang=en',
  dark: '/?lang=en&theme=dark',
  ar: '/?lang=ar',
};
/** Time for pictures to arrive and be drawn. */
const SETTLE_MS = 500;

const { values } = parseArgs({
  options: {
    only: { type: 'string' },
    width: { type: 'string' },
    look: { type: 'string' },
    at: { type: 'string' },
  },
});
const listed = (text: string | undefined, all: readonly string[]): readonly string[] => {
  const names = text?.split(',') ?? all;
  for (const one of names)
    if (!all.includes(one)) throw new Error(`there is no "${one}"; there are ${all.join(', ')}`);
  return names;
};
const names = listed(
  values.only,
  SLIP_STATES.map((state) => state.name),
);
const states = SLIP_STATES.filter((state) => names.includes(state.name));
const widths = listed(values.width, WIDTHS_PX).map(Number);
const looks = listed(values.look, Object.keys(LOOKS));

const outDir = resolve(import.meta.dirname, '../../.cache/shots');
if (!values.only) await rm(outDir, { recursive: true, force: true });
await mkdir(outDir, { recursive: true });

/** The window as a visitor sees it, and the whole page in a window as tall as the page, so that nothing sticks. */
async function shoot(page: Page, name: string, about: string | undefined): Promise<void> {
  await page.waitForTimeout(SETTLE_MS);
  if (about) await page.locator(`platen-order ${about}`).first().scrollIntoViewIfNeeded();
  const size = page.viewportSize();
  if (size === null) throw new Error('the page has no window');
  await page.screenshot({ path: join(outDir, `${name}.png`) });
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width: size.width, height });
  await page.waitForTimeout(150);
  await page.screenshot({ path: join(outDir, `${name}-whole.png`) });
  process.stdout.write(`${join(outDir, name)}.png\n`);
}

async function shootAll(browser: Browser, url: string, art: KnownArtworks): Promise<readonly string[]> {
  const missed: string[] = [];
  const one = async (look: string, width: number, state: SlipState): Promise<void> => {
    const context = await browser.newContext({
      viewport: { width, height: width < 700 ? 780 : 900 },
      reducedMotion: 'reduce',
      locale: look === 'ar' ? 'ar' : 'en-US',
      colorScheme: look === 'dark' ? 'dark' : 'light',
    });
    const page = await context.newPage();
    page.setDefaultTimeout(15_000);
    const name = `${state.name}-${width}-${look}`;
    try {
      await bringTo(page, new URL(LOOKS[look] ?? '/', url).href, state, art);
      await shoot(page, name, state.about);
    } catch (error) {
      missed.push(`${name}: ${String(error).split('\n')[0]}`);
      await page.screenshot({ path: join(outDir, `${name}-missed.png`) }).catch(() => {});
    }
    await context.close();
  };
  for (const look of looks)
    for (const width of widths) for (const state of states) await one(look, width, state);
  return missed;
}

async function run(url: string): Promise<void> {
  const browser = await launchChromium();
  try {
    const missed = await shootAll(browser, url, await sendArtworks(url));
    for (const line of missed) process.stderr.write(`${line}\n`);
    if (missed.length > 0) process.exitCode = 1;
  } finally {
    await browser.close();
  }
}

if (values.at) await run(values.at);
else {
  const built = await build();
  try {
    const server = await startServerProcess(built.dir);
    try {
      await run(server.url);
    } finally {
      await server.stop();
    }
  } finally {
    await built.remove();
  }
}
