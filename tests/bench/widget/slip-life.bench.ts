/** What memory a closed slip leaves behind, and how much the layout shifts while it is filled in. */
import type { CDPSession, Page } from 'playwright';
import { demoArtwork, SlipPage } from '../../e2e/slip-page.ts';
import type { Benchmark } from '../harness.ts';
import { closeSlipSite, openHost, openSlipSite, type SlipSite } from './slip-site.ts';

let site: SlipSite;

/** Rounds of opening the slip with artwork on its drawing, and closing it. */
const ROUNDS = 50;
const HEAP_BUDGET_BYTES = 2_000_000;

/** Bytes in use after garbage collection. */
async function heapBytes(client: CDPSession): Promise<number> {
  for (let times = 0; times < 3; times++) await client.send('HeapProfiler.collectGarbage');
  const { usedSize } = await client.send('Runtime.getHeapUsage');
  return usedSize;
}

async function filled(page: Page): Promise<string> {
  const hand = new SlipPage(page);
  await hand.pickItem('Everyday cotton tee');
  await hand.count('M', 3);
  await hand.addArtwork(demoArtwork('kettle-roundel.png'));
  await hand.fresh();
  return hand.slip.evaluate((slip) => (slip as unknown as { value: string }).value);
}

/** Opens the slip with everything on it, waits for its picture and its answer, and removes it from the page. */
async function openAndClose(page: Page, value: string): Promise<void> {
  await page.evaluate((text) => {
    const slip = document.createElement('platen-order');
    slip.setAttribute('shop', 'quill-and-kettle');
    slip.setAttribute('forgetful', '');
    slip.setAttribute('value', text);
    document.querySelector('h1')?.after(slip);
  }, value);
  await new SlipPage(page).fresh();
  await page.waitForFunction(() =>
    [...(document.querySelector('platen-order')?.shadowRoot?.querySelectorAll('*') ?? [])].some((element) =>
      element.shadowRoot?.querySelector('.item:not(.waiting)'),
    ),
  );
  await page.evaluate(() => document.querySelector('platen-order')?.remove());
}

async function heapGrowth(): Promise<number> {
  const { page, context } = await openHost(site, 'slip');
  const client = await context.newCDPSession(page);
  await client.send('HeapProfiler.enable');
  const value = await filled(page);
  await page.evaluate(() => document.querySelector('platen-order')?.remove());
  // Loads once what is kept: code, styles, Fabric, words.
  for (let round = 0; round < 3; round++) await openAndClose(page, value);
  const before = await heapBytes(client);
  for (let round = 0; round < ROUNDS; round++) await openAndClose(page, value);
  const after = await heapBytes(client);
  await context.close();
  return Math.max(0, after - before);
}

/** Delay of every answer of the shop: more than the half second after an action in which shifts do not count. */
const LATE_MS = 900;
const TALL_PX = 2200;

/**
 * Sum of all layout shifts, as the browser counts them, over opening, filling in, artwork, the answer, a finding that
 * comes and goes, and a refusal, with everything from the shop delayed. As in Web Vitals, shifts within half a second
 * of an action do not count.
 */
async function layoutShift(): Promise<number> {
  const { page, context } = await openHost(site, 'slip', async (fresh) => {
    // All of the slip is in view, so that every shift is counted.
    await fresh.setViewportSize({ width: 1280, height: TALL_PX });
    await fresh.addInitScript(() => {
      const shifts: { value: number; moved: string[] }[] = [];
      Object.assign(globalThis, { shifts });
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries() as (PerformanceEntry & {
          value: number;
          hadRecentInput: boolean;
          sources: { node: Node | null; previousRect: DOMRectReadOnly; currentRect: DOMRectReadOnly }[];
        })[])
          if (!entry.hadRecentInput)
            shifts.push({
              value: entry.value,
              // Nodes inside the shadow root are not given, only their boxes.
              moved: entry.sources.map(({ node, previousRect: from, currentRect: to }) =>
                [node?.nodeName ?? 'inside', from.x, from.y, from.height, 'to', to.x, to.y, to.height].join(
                  ' ',
                ),
              ),
            });
      }).observe({ type: 'layout-shift', buffered: true });
    });
    await fresh.route(/\/v1\/|\/chunks\/(?!slip)/, async (route) => {
      await new Promise((done) => setTimeout(done, LATE_MS));
      await route.continue().catch(() => {});
    });
  });
  await filled(page);
  const hand = new SlipPage(page);
  // Another cloth color brings a finding, and takes it away again.
  for (const color of ['Black', 'White']) {
    await hand.pickColor(color);
    await hand.fresh();
    await page.waitForTimeout(LATE_MS);
  }
  // Off the printable area: a refusal.
  const fromCenter = hand.slip.getByLabel(/^From center/);
  for (const inches of ['6', '0']) {
    await fromCenter.click({ clickCount: 3 });
    await page.keyboard.type(inches);
    await page.keyboard.press('Enter');
    await page.waitForTimeout(3 * LATE_MS);
  }
  const shifts = await page.evaluate(
    () => (globalThis as unknown as { shifts: { value: number; moved: string[] }[] }).shifts,
  );
  await context.close();
  for (const shift of shifts)
    process.stderr.write(`layout shift of ${shift.value.toFixed(4)}: ${shift.moved.join(', ')}\n`);
  return shifts.reduce((sum, { value }) => sum + value, 0);
}

const shared = {
  async setUp() {
    site = await openSlipSite();
  },
  tearDown: closeSlipSite,
};

export const benchmarks: readonly Benchmark[] = [
  {
    name: 'slip-heap-after-50-rounds',
    unit: 'bytes (the budget)',
    goal: { ratioAtMost: 1 },
    rounds: 1,
    warmUps: 0,
    subject: heapGrowth,
    baseline: () => HEAP_BUDGET_BYTES,
    ...shared,
  },
  {
    name: 'slip-layout-shift',
    unit: 'layout shift (0.1 is what web vitals call good)',
    goal: { valueAtMost: 0 },
    rounds: 1,
    warmUps: 0,
    subject: layoutShift,
    baseline: () => 0.1,
    ...shared,
  },
];
