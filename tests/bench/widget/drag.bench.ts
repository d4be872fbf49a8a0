/** How smoothly an artwork is dragged: our stage, and the whole slip, against a page with nothing but Fabric on it. */
import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright';
import { demoArtwork, SlipPage } from '../../e2e/slip-page.ts';
import { launchChromium } from '../../tools/browser/launch-chromium.ts';
import { type ServedPage, servePage } from '../../widget/pages/serve-page.ts';
import type { Benchmark } from '../harness.ts';
import { dragP95, watchDrags } from './drag.ts';
import { closeSlipSite, openHost, openSlipSite } from './slip-site.ts';

const HTML =
  '<!doctype html><html lang="en"><meta charset="utf-8"><title>Drag</title><script type="module" src="/page.js"></script><body></body></html>';
const VIEWPORT = { width: 900, height: 900 };

type Surface = { readonly page: Page; readonly at: { readonly x: number; readonly y: number } };

let browser: Browser;
let served: ServedPage;
let subject: Surface;
let bare: Surface;

/** A page with the stage or with bare Fabric, the artwork in its middle. */
async function opened(which: 'makeStage' | 'makeBare'): Promise<Surface> {
  const page = await browser.newPage({ viewport: VIEWPORT });
  await watchDrags(page);
  await page.goto(served.url);
  await page.waitForFunction(() => 'dragging' in window);
  await page.evaluate((make) => window.dragging[make](), which);
  return { page, at: await page.evaluate(() => window.dragging.center()) };
}

/** The built slip with an artwork on a shirt, and the shop's server that answers every move with a price. */
async function openedSlip(): Promise<Surface> {
  const { page } = await openHost(await openSlipSite(), 'slip', watchDrags);
  const hand = new SlipPage(page);
  await hand.pickItem('Everyday cotton tee');
  await hand.count('M', 12);
  await hand.addArtwork(demoArtwork('kettle-roundel.png'));
  await hand.fresh();
  const artwork = hand.slip.locator('.item:not(.waiting)').first();
  await artwork.waitFor();
  await page.evaluate(() =>
    document.querySelector('platen-order')?.addEventListener('platen-change', () => window.drag.moved()),
  );
  const box = await artwork.boundingBox();
  if (!box) throw new Error('the artwork is not drawn');
  return { page, at: { x: box.x + box.width / 2, y: box.y + box.height / 2 } };
}

/** A drag on this machine, or on one so many times slower. */
function dragBenchmark(name: string, open: () => Promise<Surface>, slowdown: number): Benchmark {
  return {
    name,
    unit: 'ms',
    goal: { ratioAtMost: 1.1 },
    rounds: 5,
    warmUps: 1,
    async setUp() {
      served = await servePage(resolve(import.meta.dirname, 'pages/drag-page.ts'), HTML);
      browser = await launchChromium();
      subject = await open();
      bare = await opened('makeBare');
      for (const { page } of [subject, bare]) {
        const client = await page.context().newCDPSession(page);
        await client.send('Emulation.setCPUThrottlingRate', { rate: slowdown });
      }
    },
    subject: () => dragP95(subject.page, subject.at),
    baseline: () => dragP95(bare.page, bare.at),
    async tearDown() {
      if (open === openedSlip) await closeSlipSite();
      await browser?.close();
      await served?.close();
    },
  };
}

const openedStage = (): Promise<Surface> => opened('makeStage');

export const benchmarks: readonly Benchmark[] = [
  dragBenchmark('stage-drag-frames-p95', openedStage, 1),
  // as on a phone of some years ago
  dragBenchmark('stage-drag-frames-p95-slow', openedStage, 4),
  dragBenchmark('slip-drag-frames-p95', openedSlip, 1),
  dragBenchmark('slip-drag-frames-p95-slow', openedSlip, 4),
];
