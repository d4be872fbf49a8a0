/** The same slip on any device, with lists of names and on bad connections, and nothing of it lost. */
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoArtwork, SlipPage } from './slip-page.ts';
import { sendArtworks } from './slip-states.ts';
import { draftOn, placementOn, valueOn } from './slip-value.ts';
import { startTestSite, type TestSite } from './test-site.ts';

let site: TestSite;
beforeAll(async () => {
  site = await startTestSite();
});
afterAll(() => site?.close());

type Finger = { readonly x: number; readonly y: number };
type Sizes = Window & { bitmaps: [number, number][] };

/** Records the size of every canvas bitmap that the page makes. */
const watchBitmaps = (page: Page): Promise<unknown> =>
  page.addInitScript(() => {
    const made: [number, number][] = [];
    (window as unknown as Sizes).bitmaps = made;
    for (const side of ['width', 'height'] as const) {
      const own = Object.getOwnPropertyDescriptor(HTMLCanvasElement.prototype, side)!;
      Object.defineProperty(HTMLCanvasElement.prototype, side, {
        ...own,
        set(this: HTMLCanvasElement, value: number) {
          own.set!.call(this, value);
          made.push([this.width, this.height]);
        },
      });
    }
  });

describe('by touch', () => {
  /** Selects, drags and pinches the artwork of a slip on a phone; gives the slip's value. */
  async function handled(pixelRatio: number, artwork: string): Promise<string> {
    const visit = await site.visit('/healthz', { widthPx: 390, heightPx: 844, touch: true, pixelRatio });
    const { page } = visit;
    await watchBitmaps(page);
    await page.goto(site.server.url);
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 3);
    await page.evaluate((id) => {
      const slip = document.querySelector('platen-order') as unknown as { value: string };
      const draft = JSON.parse(slip.value);
      draft.lines[0].placements = [
        { id: 'art-1', face: 'front', artwork: id, xMm: 1, yMm: 150, widthMm: 120, angleDeg: 0 },
      ];
      slip.value = draft;
    }, artwork);
    await hand.fresh();
    const client = await page.context().newCDPSession(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', fingers: readonly Finger[]) =>
      client.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: fingers.map(({ x, y }, id) => ({ x, y, id })),
      });
    const path = async (...steps: readonly (readonly Finger[])[]): Promise<void> => {
      for (let fingers = 1; fingers <= steps[0]!.length; fingers++)
        await touch('touchStart', steps[0]!.slice(0, fingers));
      for (const step of steps.slice(1)) {
        await touch('touchMove', step);
        await page.waitForTimeout(16);
      }
      await touch('touchEnd', []);
    };
    const along = (from: Finger, by: Finger): Finger[][] =>
      Array.from({ length: 9 }, (_, n) => [{ x: from.x + (by.x * n) / 8, y: from.y + (by.y * n) / 8 }]);
    const art = hand.slip.locator('.item[data-id="art-1"]');
    await art.scrollIntoViewIfNeeded();
    await page.evaluate(() => scrollTo(0, 300));
    const box = (await art.boundingBox())!;
    const at = { x: Math.round(box.x + box.width / 2), y: Math.round(box.y + box.height / 2) };

    await path([at]);
    await expect.poll(() => art.getAttribute('aria-pressed')).toBe('true');
    await path(...along(at, { x: 24, y: 30 }));
    await expect.poll(async () => (await placementOn(page)).xMm).toBeGreaterThan(10);
    const there = { x: at.x + 24, y: at.y + 30 };
    const pair = (span: number): Finger[] =>
      [-1, 1].map((side) => ({ x: there.x + side * span, y: there.y }));
    await path(...Array.from({ length: 8 }, (_, n) => pair(12 + n * 1.8)));
    await expect.poll(async () => (await placementOn(page)).widthMm).toBeGreaterThan(200);
    expect(await page.evaluate(() => scrollY)).toBe(300);

    // From an empty spot of the same drawing a finger scrolls the page.
    const sheet = (await hand.slip.locator('.surface').boundingBox())!;
    const value = await valueOn(page);
    await path(...along({ x: sheet.x + 20, y: sheet.y + sheet.height - 20 }, { x: 0, y: -150 }));
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(380);
    expect(await valueOn(page)).toBe(value);

    const bitmaps = await page.evaluate(() => (window as unknown as Sizes).bitmaps);
    expect(bitmaps.length).toBeGreaterThan(0);
    for (const [width, height] of bitmaps) {
      expect(Math.max(width, height)).toBeLessThanOrEqual(4096);
      expect(width * height).toBeLessThanOrEqual(16_777_216);
    }
    expect(visit.faults).toEqual([]);
    await visit.leave();
    return value;
  }

  it('a tap selects, a drag moves, a pinch scales, a swipe beside it scrolls, on any screen density alike', async () => {
    const art = await sendArtworks(site.server.url);
    const plain = await handled(1, art['kettle-roundel.png']);
    expect(await handled(3, art['kettle-roundel.png'])).toBe(plain);
  });
});

describe('a list of names', () => {
  it('is pasted or read from CSV, matched to pieces, drawn to the same width by a late font, and ordered', async () => {
    const visit = await site.visit('/healthz', { widthPx: 1280, heightPx: 900 });
    const { page, context } = visit;
    await context.grantPermissions(['clipboard-read', 'clipboard-write']);
    const hand = new SlipPage(page);
    const { slip } = hand;
    let fonts = 0;
    await page.route(/barlow.*\.woff2/, async (route) => {
      fonts++;
      await new Promise((done) => setTimeout(done, 1500));
      await route.continue();
    });
    await page.goto(site.server.url);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 2);
    await hand.count('L', 1);
    await slip.getByRole('button', { name: 'Add a name or number to each piece' }).click();
    const list = slip.getByLabel('One name per row, with its size');
    expect(await list.inputValue()).toBe('1\tM\n2\tM\n3\tL');

    await page.evaluate(() => navigator.clipboard.writeText('Name\tSize\nAda\tM\nBo\tM\nCy\tXL\n\tM'));
    await list.focus();
    await page.keyboard.press('Control+V');
    await expect.poll(() => list.inputValue()).toBe('Ada\tM\nBo\tM\nCy\tXL');
    const names = slip.locator('[part="names"]');
    expect(await names.innerText()).toContain('Row 5: there is no name');
    expect(await names.innerText()).toContain('XL: 1 name for 0 pieces');
    expect(await slip.locator('[part="lack"]').innerText()).toBe('The list needs one name for each piece');
    await slip.getByRole('button', { name: 'Make 3 pieces, as listed' }).click();
    expect((await draftOn(page)).lines[0]!.counts).toEqual([
      { size: 'm', count: 2 },
      { size: 'xl', count: 1 },
    ]);

    // As a spreadsheet in western Europe writes it: semicolons, Windows-1252.
    await slip.locator('[part="names"] input[type="file"]').setInputFiles({
      name: 'team.csv',
      mimeType: 'text/csv',
      buffer: Buffer.from('Size;Name\r\nM;\u00c5sa\r\nXL;"Bo; junior"\r\nM;Cy\r\n', 'latin1'),
    });
    await expect.poll(() => list.inputValue()).toBe('\u00c5sa\tM\nBo; junior\tXL\nCy\tM');
    await slip.getByText('On the drawing: \u00c5sa (1 of 3)').waitFor();
    await slip.getByRole('button', { name: 'Show the next name' }).click();
    const drawn = slip.getByRole('button', { name: /^Bo; junior on Back/ });
    await drawn.waitFor();
    const late = (await drawn.boundingBox())!.width;
    expect(fonts).toBeGreaterThan(0);

    // The font arrives at once now: the same letters, the same width.
    await page.unroute(/barlow.*\.woff2/);
    await page.reload();
    await slip.getByRole('button', { name: /^\u00c5sa on Back/ }).waitFor();
    await slip.getByRole('button', { name: 'Show the next name' }).click();
    await drawn.waitFor();
    expect((await drawn.boundingBox())!.width).toBeCloseTo(late, 0);

    // Prices of other counts are shown, but no button for them: the added pieces would have no names.
    await hand.fresh();
    await slip.locator('[part="ladder"] .rung').first().waitFor();
    expect(await slip.locator('[part="ladder"] .step, [part="ladder"] [aria-expanded]').count()).toBe(0);
    const number = await hand.order('Ada Quillfeather', 'names@quill.example');
    const { slip: ordered } = (await owner(`orders/${number}`)) as {
      slip: { lines: [{ names: { entries: unknown } }] };
    };
    expect(ordered.lines[0].names.entries).toEqual([
      { size: 'm', text: '\u00c5sa' },
      { size: 'xl', text: 'Bo; junior' },
      { size: 'm', text: 'Cy' },
    ]);
    expect(visit.faults).toEqual([]);
    await visit.leave();
  });
});

/** GET of one of the owner's routes. */
async function owner(path: string): Promise<unknown> {
  const answer = await fetch(`${site.server.url}/v1/shops/quill-and-kettle/owner/${path}`, {
    headers: { authorization: `Bearer ${site.server.ownerKey}` },
  });
  if (!answer.ok) throw new Error(`owner/${path} answers ${answer.status}`);
  return answer.json();
}

describe('on a bad connection', () => {
  it('a failing shop, a slow answer and a closed tab lose nothing of the slip', async () => {
    const visit = await site.visit('/', { widthPx: 1280, heightPx: 900 });
    const { page } = visit;
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 7);
    await hand.addArtwork(demoArtwork('hey-yard-shadow.png'));
    const total = await hand.answer('total');
    const value = await valueOn(page);

    await page.route('**/v1/shops/*/catalog', (route) => route.fulfill({ status: 500, body: 'proxy' }));
    await page.reload();
    await hand.slip.getByRole('alert').waitFor();
    expect(await valueOn(page)).toBe(value);
    await page.unroute('**/v1/shops/*/catalog');
    await hand.slip.getByRole('button', { name: 'Try again' }).click();
    expect(await hand.answer('total')).toBe(total);

    // While the answer is slow, the last one is marked as outdated and cannot be ordered.
    await page.route('**/v1/shops/*/quotes', async (route) => {
      await new Promise((done) => setTimeout(done, 5_000));
      await route.continue().catch(() => {});
    });
    await hand.count('M', 9);
    await hand.slip.locator('.foot .answer[data-stale]').waitFor();
    expect(await hand.slip.getByRole('button', { name: 'Continue to order' }).isDisabled()).toBe(true);
    await page.unroute('**/v1/shops/*/quotes');
    await page.close(); // at once, before the slip is saved by its timer
    const again = await visit.context.newPage();
    await again.goto(site.server.url);
    const after = new SlipPage(again);
    await after.fresh();
    expect((await draftOn(again)).lines[0]!.counts).toEqual([{ size: 'm', count: 9 }]);
    expect((await draftOn(again)).lines[0]!.placements).toHaveLength(1);
    await visit.leave();
  });

  it('an order whose answer is lost, again and again and before a reload, is placed once', async () => {
    const visit = await site.visit('/', { widthPx: 1280, heightPx: 900 });
    const { page } = visit;
    const hand = new SlipPage(page);
    const { slip } = hand;
    await hand.pickItem('Stoneware mug');
    await hand.count('330 ml', 2);
    await hand.addArtwork(demoArtwork('kettle-roundel.png'));
    await hand.fresh();
    const orders = async (): Promise<string[]> =>
      ((await owner('orders')) as { orders: { number: string }[] }).orders.map((one) => one.number);
    const before = await orders();
    let attempts = 0;
    await page.route('**/v1/shops/*/orders', async (route) => {
      attempts++;
      const answer = await route.fetch(); // the shop has received it
      if (attempts === 1 || attempts === 3) await route.abort('connectionreset');
      else if (attempts === 2) await route.fulfill({ status: 504, body: '<h1>Gateway Timeout</h1>' });
      else await route.fulfill({ response: answer });
    });
    await slip.getByRole('button', { name: 'Continue to order' }).click();
    await slip.getByLabel('Name', { exact: true }).fill('Ada Quillfeather');
    await slip.getByLabel('Email').fill('lost@quill.example');
    await slip.locator('[part="order"] img').first().waitFor();
    await slip.getByRole('checkbox', { name: /I have checked the proof/ }).check();
    const place = slip.getByRole('button', { name: /^Order for/ });
    await place.click();
    await slip.getByText('No connection. Your slip is kept').waitFor();
    await place.click();
    await slip.getByText('Something went wrong at the shop').waitFor();
    expect(await slip.getByLabel('Email').inputValue()).toBe('lost@quill.example');
    // Also after going back to the slip, which quotes it again.
    await slip.getByRole('button', { name: 'Back to the slip' }).click();
    await hand.fresh();
    await slip.getByRole('button', { name: 'Continue to order' }).click();
    await slip.locator('[part="order"] img').first().waitFor();
    await slip.getByRole('checkbox', { name: /I have checked the proof/ }).check();
    await place.click();
    await slip.getByText('No connection. Your slip is kept').waitFor();
    // And after a reload, from what was stored.
    await page.reload();
    await hand.fresh();
    await slip.getByRole('button', { name: 'Continue to order' }).click();
    expect(await slip.getByLabel('Email').inputValue()).toBe('lost@quill.example');
    await slip.getByRole('button', { name: 'Back to the slip' }).click();
    const number = await hand.order('Ada Quillfeather', 'lost@quill.example');
    expect(attempts).toBe(4);
    expect(await orders()).toEqual([number, ...before]);
    // The shop has answered: nothing of the order stays stored.
    expect(await page.evaluate(() => [...Object.keys(localStorage), ...Object.keys(sessionStorage)])).toEqual(
      [],
    );
    await visit.leave();
  });
});
