import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Route } from 'playwright';
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { largePng } from '../tools/generators/large-png.ts';
import { type CuttingProxy, openCuttingProxy } from '../tools/servers/cutting-proxy.ts';
import { SlipPage } from './slip-page.ts';
import { placementOn } from './slip-value.ts';
import { startTestSite, type TestSite, type Visit } from './test-site.ts';

let site: TestSite;
let proxy: CuttingProxy;
let dir: string;
let big: string;
let visit: Visit;
let hand: SlipPage;
beforeAll(async () => {
  site = await startTestSite({ fileMib: 8 });
  proxy = await openCuttingProxy(site.server.url);
  dir = await mkdtemp(join(tmpdir(), 'platen-art-'));
  big = await largeFile('large.png', 3_000_000);
});
afterAll(async () => {
  await proxy?.close();
  await site?.close();
  await rm(dir, { recursive: true, force: true });
});
beforeEach(async () => {
  proxy.up();
  visit = await site.visit(proxy.url, { widthPx: 1280, heightPx: 900 });
  hand = new SlipPage(visit.page);
  await hand.pickItem('Everyday cotton tee');
  await hand.count('M', 3);
  // What is loaded with the first file is there before the connection is cut.
  await visit.page.waitForLoadState('networkidle');
});
afterEach(() => visit.leave());

/** Writes a PNG of about so many bytes; the page uploads in parts of 2 MiB. */
async function largeFile(name: string, bytes: number): Promise<string> {
  const path = join(dir, name);
  await writeFile(path, await largePng(bytes));
  return path;
}
/** The alerts that are shown; empty live regions are always there. */
const alerts = () => hand.slip.getByRole('alert').filter({ hasText: /./ });
const uploaded = (): Promise<void> =>
  expect.poll(async () => (await placementOn(visit.page)).artwork).toMatch(/^[0-9a-f]{64}$/);
/** Limits the upload speed, so that a test can act during an upload. */
async function slowDown(bytesPerSecond: number): Promise<void> {
  const session = await visit.context.newCDPSession(visit.page);
  await session.send('Network.enable');
  await session.send('Network.emulateNetworkConditions', {
    offline: false,
    latency: 5,
    downloadThroughput: -1,
    uploadThroughput: bytesPerSecond,
  });
}
/** Records the offsets of the parts that the page sends. */
function watchParts(): number[] {
  const offsets: number[] = [];
  visit.page.on('request', (request) => {
    if (request.method() === 'PATCH') offsets.push(Number(request.headers()['upload-offset']));
  });
  return offsets;
}

const UPLOADS = '**/uploads/**';

/** Lets the first parts of a file through and holds back the rest; `release` cuts those and lets all later ones through. */
async function holdPartsFrom(nth: number): Promise<() => Promise<void>> {
  const held: Route[] = [];
  let part = 0;
  let released = false;
  await visit.page.route(UPLOADS, async (route) => {
    if (route.request().method() !== 'PATCH' || released || ++part < nth) await route.fallback();
    else held.push(route);
  });
  return async () => {
    released = true;
    // A request of a page that was reloaded is gone already.
    for (const route of held) await route.abort('connectionreset').catch(() => {});
  };
}

describe('a large file', () => {
  it('shows its progress, and is priced once it is uploaded', async () => {
    await slowDown(1_200_000);
    // Recorded inside the page: polls from outside may come too late on a busy machine.
    await visit.page.evaluate(() => {
      const shown: number[] = [];
      Object.assign(globalThis, { shown });
      const own = Object.getOwnPropertyDescriptor(HTMLProgressElement.prototype, 'value')!;
      Object.defineProperty(HTMLProgressElement.prototype, 'value', {
        ...own,
        set(this: HTMLProgressElement, value: number) {
          shown.push(value);
          own.set!.call(this, value);
        },
      });
    });
    await hand.addArtwork(big);
    const progress = hand.slip.getByRole('progressbar', { name: /large\.png/ });
    await progress.waitFor();
    await uploaded();
    await hand.fresh();
    expect(await progress.count()).toBe(0);
    const shown = await visit.page.evaluate(() => (globalThis as unknown as { shown: number[] }).shown);
    expect([...shown].sort((a, b) => a - b)).toEqual(shown);
    expect(Math.max(...shown)).toBeGreaterThan(0.75);
    expect(new Set(shown.map((value) => Math.floor(value * 10))).size).toBeGreaterThan(4);
    expect(visit.faults).toEqual([]);
  });

  it('resumes by itself where its connection was cut', async () => {
    const parts = watchParts();
    const before = proxy.sent;
    proxy.cutAfter(2_700_000);
    await hand.addArtwork(big);
    await uploaded();
    await hand.fresh();
    expect(proxy.cuts).toBeGreaterThan(0);
    // Each part starts where the one before ended: none goes back to the start.
    expect(parts.filter((offset) => offset === 0)).toHaveLength(1);
    expect([...parts].sort((a, b) => a - b)).toEqual(parts);
    // The whole file, and what was in transit when the connection was cut.
    expect(proxy.sent - before).toBeLessThan(4_500_000);
    expect(await alerts().count()).toBe(0);
  });

  it('says so when it gives up, and resumes on Try again', async () => {
    await visit.page.clock.install();
    proxy.cutAfter(1_000_000, true);
    await hand.addArtwork(big);
    await expect.poll(() => proxy.cuts).toBeGreaterThan(0);
    const again = hand.slip.getByRole('button', { name: 'Try again' });
    while ((await again.count()) === 0) {
      await visit.page.clock.runFor(10_000);
      await visit.page.waitForTimeout(100);
    }
    expect(await alerts().first().innerText()).toMatch(/connection/i);
    expect((await placementOn(visit.page)).artwork).toMatch(/^unsent-/);
    proxy.up();
    const parts = watchParts();
    await again.click();
    await uploaded();
    expect(parts[0]).toBeGreaterThan(0);
  });

  it('resumes after a reload midway', async () => {
    const parts = watchParts();
    const release = await holdPartsFrom(2);
    await hand.addArtwork(big);
    await expect.poll(() => parts.length).toBeGreaterThan(1);
    expect((await placementOn(visit.page)).artwork).toMatch(/^unsent-/);
    parts.length = 0;
    await visit.page.reload();
    await release();
    await uploaded();
    await hand.fresh();
    expect(parts[0]).toBeGreaterThan(0);
    expect(await hand.slip.locator('[part="placement"]').count()).toBe(1);
  });

  it('is uploaded once when two tabs have it on their slip', async () => {
    await slowDown(700_000);
    await hand.addArtwork(big);
    // The other tab reads the slip that this one has stored.
    await expect
      .poll(() => visit.page.evaluate(() => Object.values(localStorage).join()))
      .toMatch(/unsent-|"artwork":"[0-9a-f]{64}"/);
    await visit.page.waitForTimeout(400);
    const other = await visit.context.newPage();
    const offsets: number[] = [];
    other.on('request', (request) => {
      if (request.method() === 'PATCH' || /\/(artworks|uploads)$/.test(request.url()))
        offsets.push(Number(request.headers()['upload-offset'] ?? -1));
    });
    await other.goto(proxy.url);
    await uploaded();
    await expect
      .poll(async () => (await placementOn(other)).artwork)
      .toBe((await placementOn(visit.page)).artwork);
    expect(offsets).toEqual([]);
    await new SlipPage(other).fresh();
  });

  it('over the limit is refused with a message before it is sent, and the slip stays', async () => {
    const huge = await largeFile('huge.png', 9_000_000);
    const before = proxy.sent;
    await hand.addArtwork(huge);
    await alerts().first().waitFor();
    expect(await alerts().first().innerText()).toMatch(/too large/i);
    expect(proxy.sent - before).toBeLessThan(200_000);
    expect(await hand.slip.getByRole('textbox', { name: /^M/ }).inputValue()).toBe('3');
    // It never reached the shop; the slip works without it.
    await hand.slip.getByRole('button', { name: /^Remove/ }).click();
    await hand.addArtwork(big);
    await uploaded();
  });

  it('resumes with a server that was killed and started again', async () => {
    // Four parts; the last is held back, so that there is one to come however late the server is killed.
    const huge = await largeFile('long.png', 7_500_000);
    await slowDown(2_500_000);
    const parts = watchParts();
    const release = await holdPartsFrom(4);
    const own = await startTestSite({ fileMib: 8 });
    try {
      proxy.retarget(own.server.url);
      await visit.page.reload();
      await hand.addArtwork(huge);
      await expect.poll(() => parts.length).toBeGreaterThan(1);
      await own.server.kill();
      // Another process on the same data folder, as a supervisor would start it.
      const { startServerProcess } = await import('../tools/servers/server-process.ts');
      const second = await startServerProcess(own.builtDir, { dataDir: own.server.dataDir, fileMib: 8 });
      proxy.retarget(second.url);
      parts.length = 0;
      await release();
      await uploaded();
      await hand.fresh();
      expect(parts[0]).toBeGreaterThan(0);
      await second.stop();
    } finally {
      proxy.retarget(site.server.url);
      await own.close();
    }
  });
});
