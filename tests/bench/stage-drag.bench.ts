/** How smoothly an artwork is dragged: our stage against a page with nothing but Fabric on it. */
import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright';
import { launchChromium } from '../tools/chromium.ts';
import { type ServedPage, servePage } from '../widget/pages/serve-page.ts';
import type { Benchmark } from './harness.ts';

const HTML =
  '<!doctype html><html lang="en"><meta charset="utf-8"><title>Drag</title><script type="module" src="/page.js"></script><body></body></html>';
const VIEWPORT = { width: 900, height: 900 };
/** Mouse moves of one drag, each a few px from the last. */
const MOVES = 100;

let browser: Browser;
let served: ServedPage;
let stage: Page;
let bare: Page;

/** Opens a page with one of the two surfaces, `#surface` on both holding the artwork in its middle. */
async function opened(which: 'makeStage' | 'makeBare'): Promise<Page> {
  const page = await browser.newPage({ viewport: VIEWPORT });
  await page.goto(served.url);
  await page.waitForFunction(() => 'dragging' in window);
  await page.evaluate((make) => window.dragging[make](), which);
  return page;
}

/**
 * Drags the artwork round in a circle and gives the 95th percentile of the time between frames, ms. Moves are sent
 * one by one and waited for by the page itself, so that both pages get the same ones.
 */
async function dragP95(page: Page): Promise<number> {
  await page.bringToFront();
  const at = await page.evaluate(() => window.dragging.center());
  await page.mouse.move(at.x, at.y);
  await page.mouse.down();
  await page.mouse.move(at.x + 20, at.y);
  await page.evaluate(() => window.dragging.startFrames());
  for (let i = 0; i <= MOVES; i++) {
    const turn = (i / MOVES) * 2 * Math.PI * 3;
    await page.mouse.move(at.x + 60 * Math.cos(turn), at.y + 60 * Math.sin(turn));
  }
  const frames = await page.evaluate(() => window.dragging.endFrames());
  await page.mouse.move(at.x, at.y, { steps: 2 });
  await page.mouse.up();
  if (frames.length < MOVES / 4) throw new Error(`only ${frames.length} frames in a drag of ${MOVES} moves`);
  const moved = await page.evaluate(() => window.dragging.moves());
  if (moved < MOVES / 4) throw new Error(`the artwork moved only ${moved} times`);
  frames.sort((a, b) => a - b);
  return frames[Math.floor(frames.length * 0.95)] ?? Number.NaN;
}

/** A drag on this machine, or on one so many times slower. */
function dragBenchmark(name: string, slowdown: number): Benchmark {
  return {
    name,
    unit: 'ms',
    goal: { ratioAtMost: 1.1 },
    rounds: 5,
    warmUps: 1,
    async setUp() {
      served = await servePage(resolve(import.meta.dirname, 'pages/drag-page.ts'), HTML);
      browser = await launchChromium();
      stage = await opened('makeStage');
      bare = await opened('makeBare');
      for (const page of [stage, bare]) {
        const client = await page.context().newCDPSession(page);
        await client.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
      }
    },
    subject: () => dragP95(stage),
    baseline: () => dragP95(bare),
    async tearDown() {
      await browser?.close();
      await served?.close();
    },
  };
}

export const benchmarks: readonly Benchmark[] = [
  dragBenchmark('stage-drag-frames-p95', 1),
  // as on a phone of some years ago
  dragBenchmark('stage-drag-frames-p95-slow', 4),
];
