/** Fingers: an empty spot scrolls the page, a picked artwork follows, two fingers scale and turn it. */
import type { CDPSession, Page } from 'playwright';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { centerOf, putStage, type StagePage, stagePages } from '../pages/open-stage.ts';

const pages = stagePages();
let stage: StagePage;
let page: Page;
let client: CDPSession;

type Finger = { readonly x: number; readonly y: number };

beforeEach(async () => {
  stage = await pages.open({
    viewport: { width: 390, height: 844 },
    hasTouch: true,
    isMobile: true,
    deviceScaleFactor: 2,
  });
  page = stage.page;
  await page.evaluate(() => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync('body{min-height:3000px;margin:0}platen-stage{height:600px}');
    document.adoptedStyleSheets = [sheet];
  });
  await putStage(page);
  client = await page.context().newCDPSession(page);
});

afterEach(async () => {
  expect(stage.faults).toEqual([]);
  await stage.close();
});

const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', fingers: readonly Finger[]) =>
  client.send('Input.dispatchTouchEvent', {
    type,
    touchPoints: fingers.map((finger, id) => ({ x: finger.x, y: finger.y, id })),
  });

async function swipe(from: Finger, to: Finger, steps = 10): Promise<void> {
  await touch('touchStart', [from]);
  for (let i = 1; i <= steps; i++) {
    await touch('touchMove', [
      { x: from.x + ((to.x - from.x) * i) / steps, y: from.y + ((to.y - from.y) * i) / steps },
    ]);
    await page.waitForTimeout(16);
  }
  await touch('touchEnd', []);
}

const scrolled = () => page.evaluate(() => scrollY);
const tap = async (at: Finger) => {
  await touch('touchStart', [at]);
  await touch('touchEnd', []);
};

it('a swipe from an empty spot scrolls the page', async () => {
  await swipe({ x: 60, y: 560 }, { x: 60, y: 260 });
  await expect.poll(scrolled).toBeGreaterThan(150);
});

it('a swipe over an artwork that is not picked scrolls the page and leaves it where it is', async () => {
  const at = await centerOf(page);
  await swipe(at, { x: at.x, y: at.y - 150 });
  await expect.poll(scrolled).toBeGreaterThan(60);
  expect((await stage.told()).filter((one) => one.type === 'change' || one.type === 'input')).toEqual([]);
});

it('a tap picks, then a drag moves it and the page stays', async () => {
  const at = await centerOf(page);
  await tap(at);
  await expect.poll(() => page.evaluate(() => window.stage.selected)).toBe('art');
  await swipe(at, { x: at.x + 30, y: at.y + 60 });
  expect(await scrolled()).toBe(0);
  const changes = (await stage.told()).filter((one) => one.type === 'change');
  expect(changes).toHaveLength(1);
  const after = await centerOf(page);
  expect(Math.abs(after.y - at.y - 60)).toBeLessThan(9); // a guide may hold it
  expect(after.x - at.x).toBeGreaterThan(20);
});

it('a swipe from an empty spot leaves the picked artwork picked; a tap there lets go', async () => {
  await tap(await centerOf(page));
  await expect.poll(() => page.evaluate(() => window.stage.selected)).toBe('art');
  await swipe({ x: 60, y: 560 }, { x: 60, y: 360 });
  await expect.poll(scrolled).toBeGreaterThan(100);
  expect(await page.evaluate(() => window.stage.selected)).toBe('art');
  await page.evaluate(() => scrollTo(0, 0));
  await tap({ x: 60, y: 560 });
  await expect.poll(() => page.evaluate(() => window.stage.selected)).toBeNull();
});

it('a tap elsewhere on the page after a swipe over the drawing changes nothing on it', async () => {
  const at = await centerOf(page);
  await swipe(at, { x: at.x, y: at.y - 150 });
  await expect.poll(scrolled).toBeGreaterThan(60);
  await page.evaluate(() => {
    scrollTo(0, 0);
    // something of the page that lies over the artwork
    const sheet = new CSSStyleSheet();
    sheet.replaceSync('#over{position:fixed;inset:0}');
    document.adoptedStyleSheets = [...document.adoptedStyleSheets, sheet];
    document.body.append(Object.assign(document.createElement('div'), { id: 'over' }));
  });
  await tap(await centerOf(page));
  await page.waitForTimeout(100);
  expect(await page.evaluate(() => window.stage.selected)).toBeNull();
});

it('two fingers on the picked artwork scale and turn it, and the page neither scrolls nor zooms', async () => {
  const at = await centerOf(page);
  await tap(at);
  await expect.poll(() => page.evaluate(() => window.stage.selected)).toBe('art');
  const pair = (span: number, deg: number): Finger[] =>
    [-1, 1].map((side) => ({
      x: at.x + side * span * Math.cos((deg * Math.PI) / 180),
      y: at.y + side * span * Math.sin((deg * Math.PI) / 180),
    }));
  await touch('touchStart', pair(12, 0).slice(0, 1));
  await touch('touchStart', pair(12, 0));
  for (let i = 1; i <= 10; i++) {
    await touch('touchMove', pair(12 + i * 1.8, i * 4));
    await page.waitForTimeout(16);
  }
  await touch('touchEnd', []);
  const { widthMm, angleDeg } = await page.evaluate(() => window.stage.placements[0]!);
  expect(widthMm).toBeCloseTo(120 * (30 / 12), -1);
  expect(angleDeg).toBeCloseTo(40 - 7, 0); // the first 7 degrees are a pinch's own
  expect(await scrolled()).toBe(0);
  expect(await page.evaluate(() => visualViewport!.scale)).toBe(1);
  expect((await stage.told()).filter((one) => one.type === 'change')).toHaveLength(1);
});

it('two fingers beside the artwork are the page’s own', async () => {
  const before = await page.evaluate(() => visualViewport!.scale);
  await client.send('Input.synthesizePinchGesture', { x: 60, y: 560, scaleFactor: 2 });
  expect(await page.evaluate(() => visualViewport!.scale)).toBeGreaterThan(before);
  expect((await stage.told()).filter((one) => one.type === 'change')).toEqual([]);
});

it('a finger taken away by the system puts the drag back', async () => {
  const at = await centerOf(page);
  await tap(at);
  await expect.poll(() => page.evaluate(() => window.stage.selected)).toBe('art');
  await touch('touchStart', [at]);
  for (let i = 1; i <= 4; i++) await touch('touchMove', [{ x: at.x + i * 8, y: at.y }]);
  await client.send('Input.dispatchTouchEvent', { type: 'touchCancel', touchPoints: [] });
  await expect
    .poll(async () => (await stage.told()).at(-1))
    .toMatchObject({ type: 'input', detail: { cause: 'cancel', position: { xMm: 0 } } });
  expect(await centerOf(page)).toEqual(at);
});
