import { mkdir, rm } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import type { Page } from 'playwright';
import { startRealServer } from '../e2e/real-server.ts';
import { demoArtwork, SlipHand } from '../e2e/slip-hand.ts';
import { build } from './build.ts';
import { launchChromium } from './chromium.ts';

/** `npm run shots`: the demo page, as it opens and with a slip filled in, at three widths; PNGs in .cache/shots. */
const WIDTHS_PX = [360, 768, 1280];
const PICTURE_MS = 1500;

const outDir = resolve(import.meta.dirname, '../../.cache/shots');
await rm(outDir, { recursive: true, force: true });
await mkdir(outDir, { recursive: true });

/** The window as a visitor sees it, and the whole page in a window as tall as it, where nothing sticks midway. */
async function shoot(page: Page, name: string): Promise<void> {
  await page.waitForLoadState('networkidle');
  // A picture is on the wire before it is on the drawing.
  await page.waitForTimeout(PICTURE_MS);
  const size = page.viewportSize();
  if (size === null) throw new Error('the page has no window');
  await page.screenshot({ path: join(outDir, `${name}.png`) });
  const height = await page.evaluate(() => document.documentElement.scrollHeight);
  await page.setViewportSize({ width: size.width, height });
  await page.screenshot({ path: join(outDir, `${name}-whole.png`) });
  await page.setViewportSize(size);
  process.stdout.write(`${join(outDir, name)}.png, ${name}-whole.png\n`);
}

const built = await build();
try {
  const server = await startRealServer(built.dir);
  const browser = await launchChromium();
  try {
    for (const width of WIDTHS_PX) {
      const viewport = { width, height: width < 700 ? 780 : 900 };
      const page = await browser.newPage({ viewport, reducedMotion: 'reduce', locale: 'en-US' });
      const answer = await page.goto(server.url);
      if (!answer?.ok()) throw new Error(`${server.url} answers ${answer?.status() ?? 'nothing'}`);
      await shoot(page, `opened-${width}`);
      const hand = new SlipHand(page);
      await hand.pickItem('Everyday cotton tee');
      await hand.pickColor('Navy');
      await hand.count('M', 2);
      await hand.addArtwork(demoArtwork('kettle-roundel.png'));
      await hand.fresh();
      await shoot(page, `filled-${width}`);
      await page.close();
    }
  } finally {
    await browser.close();
    await server.stop();
  }
} finally {
  await built.remove();
}
