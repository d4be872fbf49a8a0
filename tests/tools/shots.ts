import { mkdir } from 'node:fs/promises';
import { join, resolve } from 'node:path';
import { startRealServer } from '../e2e/real-server.ts';
import { build } from './build.ts';
import { launchChromium } from './chromium.ts';

/** `npm run shots`: the demo page as it opens, at three widths, as PNGs in .cache/shots. */
const WIDTHS_PX = [360, 768, 1280];

const outDir = resolve(import.meta.dirname, '../../.cache/shots');
await mkdir(outDir, { recursive: true });
const built = await build();
try {
  const server = await startRealServer(built.dir);
  const browser = await launchChromium();
  try {
    for (const width of WIDTHS_PX) {
      const page = await browser.newPage({
        viewport: { width, height: width < 700 ? 780 : 900 },
        reducedMotion: 'reduce',
      });
      await page.goto(server.url);
      // The slip and its drawing come in pieces; quiet on the wire means that all of them are there.
      await page.waitForLoadState('networkidle');
      const path = join(outDir, `slip-${width}.png`);
      await page.screenshot({ path, fullPage: true });
      await page.close();
      process.stdout.write(`${path}\n`);
    }
  } finally {
    await browser.close();
    await server.stop();
  }
} finally {
  await built.remove();
}
