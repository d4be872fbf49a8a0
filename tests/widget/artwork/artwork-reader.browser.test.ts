/** Reading artwork in the page's worker. */
import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright';
import sharp from 'sharp';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { FACTS_VERSION } from '../../../src/artwork/index.ts';
import { launchChromium } from '../../tools/browser/launch-chromium.ts';
import { type ServedPage, servePage } from '../pages/serve-page.ts';

const HTML = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Reader</title><script type="module" src="/page.js"></script></html>`;
/** A strict policy without Trusted Types. */
const POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; worker-src 'self'";

let browser: Browser;
const served: ServedPage[] = [];
const files = new Map<string, Buffer>();
let page: Page;

async function pageWith(headers: Record<string, string>): Promise<Page> {
  const site = await servePage(resolve(import.meta.dirname, '../pages/reader-page.ts'), HTML, headers);
  served.push(site);
  const opened = await browser.newPage();
  await opened.route('**/file/*', (route) => {
    const bytes = files.get(new URL(route.request().url()).pathname.slice(6));
    return bytes ? route.fulfill({ body: bytes }) : route.fulfill({ status: 404 });
  });
  await opened.goto(site.url);
  await opened.waitForFunction(() => 'reading' in window);
  return opened;
}

beforeAll(async () => {
  browser = await launchChromium();
});
afterEach(async () => {
  await page.close();
});
afterAll(async () => {
  await browser?.close();
  for (const site of served) await site.close();
});

/** A red disc of radius 90 px on transparent green pixels. */
async function discWithHiddenGreen(): Promise<Buffer> {
  const side = 257;
  const data = Buffer.alloc(4 * side * side);
  for (let y = 0; y < side; y++)
    for (let x = 0; x < side; x++) {
      const inside = (x - 128) ** 2 + (y - 128) ** 2 <= 90 * 90;
      data.set(inside ? [200, 16, 46, 255] : [0, 255, 0, 0], 4 * (y * side + x));
    }
  return sharp(data, { raw: { width: side, height: side, channels: 4 } })
    .png()
    .toBuffer();
}

const read = (name: string, remedies: unknown[] = [], options: object = {}) =>
  page.evaluate(
    async ([file, mends, more]) => {
      const bytes = await (await fetch(`/file/${file}`)).arrayBuffer();
      const reader = new window.reading.ArtworkReader();
      const found = await reader.read(new Blob([bytes]), mends as never, more as never);
      reader.close();
      if (!found) return null;
      const bitmap = await createImageBitmap(found.picture);
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
      const pen = canvas.getContext('2d')!;
      pen.drawImage(bitmap, 0, 0);
      const { data } = pen.getImageData(0, 0, bitmap.width, bitmap.height);
      let greenest = 0;
      for (let i = 0; i < data.length; i += 4)
        if (data[i + 3]! >= 8) greenest = Math.max(greenest, data[i + 1]!);
      return {
        facts: found.facts,
        picture: { width: bitmap.width, height: bitmap.height, type: found.picture.type, greenest },
        corner: [...data.slice(0, 4)],
      };
    },
    [name, remedies, options] as const,
  );

describe('a file of a kind that browsers decode', () => {
  it('has the facts the shop measures, and a picture without the color of transparent pixels', async () => {
    page = await pageWith({ 'content-security-policy': POLICY });
    files.set('disc', await discWithHiddenGreen());
    const found = await read('disc', [], { pictureSidePx: 64 });
    expect(found!.facts).toMatchObject({
      version: FACTS_VERSION,
      widthPx: 257,
      heightPx: 257,
      inkBox: { left: 38, top: 38, width: 181, height: 181 },
      inkColorCount: 1,
      background: null,
    });
    expect(found!.facts.colors.map((group) => group.hex.toLowerCase())).toEqual(['#c8102e']);
    expect(found!.picture).toMatchObject({ width: 64, height: 64, type: 'image/png' });
    expect(found!.picture.greenest).toBeLessThanOrEqual(60);
  });

  it('has the facts of the remedied artwork when remedies are applied', async () => {
    page = await pageWith({ 'content-security-policy': POLICY });
    const box = await sharp({ create: { width: 480, height: 360, channels: 3, background: '#ffffff' } })
      .composite([
        {
          input: { create: { width: 200, height: 200, channels: 3, background: '#2e5a88' } },
          left: 140,
          top: 80,
        },
      ])
      .png()
      .toBuffer();
    files.set('box', box);
    const plain = await read('box');
    expect(plain!.facts.background?.hex.toLowerCase()).toBe('#ffffff');
    expect(plain!.corner).toEqual([255, 255, 255, 255]);
    const mended = await read('box', [
      { kind: 'remove-background', hex: '#ffffff', tolerance: 8, enclosed: false },
      { kind: 'trim' },
    ]);
    expect(mended!.facts).toMatchObject({ widthPx: 200, heightPx: 200, background: null });
    expect(mended!.corner).toEqual([46, 90, 136, 255]);
  });

  it('has findings for a size, a cloth and methods', async () => {
    page = await pageWith({ 'content-security-policy': POLICY });
    files.set('disc', await discWithHiddenGreen());
    const codes = await page.evaluate(async () => {
      const file = new Blob([await (await fetch('/file/disc')).arrayBuffer()]);
      const reader = new window.reading.ArtworkReader();
      const method = {
        id: 'm',
        thinnestLineMm: 0.3,
        thinnestGapMm: 0.3,
        leastDpi: 60,
        goodDpi: 150,
        softAlpha: 'prints',
      } as const;
      const large = await reader.find(file, [], {
        clothHex: '#000000',
        placedWidthMm: 250,
        methods: [method],
      });
      const red = await reader.find(file, [], { clothHex: '#c8102e', placedWidthMm: 20, methods: [method] });
      reader.close();
      return [large!.map((one) => `${one.code} ${one.worst}`), red!.map((one) => one.code)];
    });
    expect(codes[0]).toContain('too-few-pixels stops'); // 181 px over 250 mm is 18 dpi
    expect(codes[1]).toContain('vanishes');
    expect(codes[1]).not.toContain('too-few-pixels');
  });

  // Exif orientation (CIPA DC-008, tag 0x0112): which stored corner is seen at the top left
  const STORED_CORNER = {
    1: ['left', 'top'],
    2: ['right', 'top'],
    3: ['right', 'bottom'],
    4: ['left', 'bottom'],
    5: ['left', 'top'],
    6: ['left', 'bottom'],
    7: ['right', 'bottom'],
    8: ['right', 'top'],
  } as const;
  const STORED_NEXT = {
    1: 'across',
    2: 'across',
    3: 'across',
    4: 'across',
    5: 'down',
    6: 'down',
    7: 'down',
    8: 'down',
  } as const;

  it.each([1, 2, 3, 4, 5, 6, 7, 8] as const)(
    'stored as orientation %i is read upright, whole and in pieces',
    async (orientation) => {
      page = await pageWith({ 'content-security-policy': POLICY });
      for (const [width, height] of [
        [96, 160],
        [5000, 300],
        [200, 4200],
      ] as const) {
        const [side, edge] = STORED_CORNER[orientation];
        // a red mark 64 long and 32 thick whose long side is seen lying
        const lies = STORED_NEXT[orientation] === 'across';
        const mark = { width: lies ? 64 : 32, height: lies ? 32 : 64 };
        const stored = await sharp({ create: { width, height, channels: 3, background: '#ffffff' } })
          .composite([
            {
              input: { create: { ...mark, channels: 3, background: '#ff0000' } },
              left: side === 'left' ? 0 : width - mark.width,
              top: edge === 'top' ? 0 : height - mark.height,
            },
          ])
          .jpeg({ quality: 95 })
          .withMetadata({ orientation })
          .toBuffer();
        files.set(`turned${width}`, stored);
        const found = await read(`turned${width}`, [
          { kind: 'remove-background', hex: '#ffffff', tolerance: 20, enclosed: false },
        ]);
        const seen = lies ? { widthPx: width, heightPx: height } : { widthPx: height, heightPx: width };
        expect(found!.facts).toMatchObject(seen);
        const { left, top, width: inkWidth, height: inkHeight } = found!.facts.inkBox!;
        expect([left, top]).toEqual([0, 0]);
        expect(Math.abs(inkWidth - 64)).toBeLessThan(9); // JPEG blocks blur the edge
        expect(Math.abs(inkHeight - 32)).toBeLessThan(9);
      }
    },
  );
});

describe('a file that only the shop reads', () => {
  it('is null for SVG, PDF, text, truncated and empty files and decompression bombs, without decoding them', async () => {
    page = await pageWith({ 'content-security-policy': POLICY });
    files.set('svg', Buffer.from('<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>'));
    files.set('pdf', Buffer.from('%PDF-1.4\n'));
    files.set('text', Buffer.from('no picture'));
    files.set('empty', Buffer.alloc(0));
    const whole = await discWithHiddenGreen();
    files.set('cut', whole.subarray(0, 40));
    const bomb = Buffer.from(whole);
    bomb.writeUInt32BE(30_000, 16);
    bomb.writeUInt32BE(30_000, 20);
    files.set('bomb', bomb);
    for (const name of ['svg', 'pdf', 'text', 'empty', 'cut', 'bomb'])
      expect([name, await read(name)]).toEqual([name, null]);
  });

  it('is null, without an error, where the page allows no worker', async () => {
    const faults: string[] = [];
    page = await pageWith({
      'content-security-policy': POLICY.replace("worker-src 'self'", "worker-src 'none'"),
    });
    page.on('pageerror', (error) => faults.push(String(error)));
    files.set('disc', await discWithHiddenGreen());
    expect(await read('disc')).toBeNull();
    expect(faults).toEqual([]);
  });

  it('is read where the script comes from another origin', async () => {
    const elsewhere = await servePage(resolve(import.meta.dirname, '../pages/reader-page.ts'), '', {
      'access-control-allow-origin': '*',
    });
    served.push(elsewhere);
    files.set('disc', await discWithHiddenGreen());
    const faults: string[] = [];
    const shop = await servePage(
      resolve(import.meta.dirname, '../pages/reader-page.ts'),
      HTML.replace('/page.js', `${elsewhere.url}page.js`),
    );
    served.push(shop);
    page = await browser.newPage();
    page.on('pageerror', (error) => faults.push(String(error)));
    await page.route('**/file/*', (route) => route.fulfill({ body: files.get('disc')! }));
    await page.goto(shop.url);
    await page.waitForFunction(() => 'reading' in window);
    expect((await read('disc'))?.facts.inkBox).toEqual({ left: 38, top: 38, width: 181, height: 181 });
    expect(faults).toEqual([]);
  });

  it('is null where Trusted Types do not allow the policy, and read where they do', async () => {
    const trusted = (policies: string) => ({
      'content-security-policy': `${POLICY}; require-trusted-types-for 'script'; trusted-types ${policies}`,
    });
    files.set('disc', await discWithHiddenGreen());
    page = await pageWith(trusted('lit-html'));
    expect(await read('disc')).toBeNull();
    await page.close();
    page = await pageWith(trusted('lit-html platen-worker'));
    expect(await read('disc')).not.toBeNull();
  });
});

describe('reading', () => {
  it('can be aborted: the promise rejects, and the next file is read', async () => {
    page = await pageWith({ 'content-security-policy': POLICY });
    files.set('disc', await discWithHiddenGreen());
    const result = await page.evaluate(async () => {
      const file = new Blob([await (await fetch('/file/disc')).arrayBuffer()]);
      const reader = new window.reading.ArtworkReader();
      const leaving = new AbortController();
      const running = reader.read(file, [], { signal: leaving.signal });
      const queued = reader.read(file, [], { signal: leaving.signal });
      const staying = reader.read(file);
      leaving.abort();
      const outcomes = await Promise.allSettled([running, queued]);
      const after = await staying;
      reader.close();
      const closed = reader.read(file);
      const again = await closed;
      reader.close();
      return { outcomes: outcomes.map((one) => one.status), after: after !== null, again: again !== null };
    });
    expect(result).toEqual({ outcomes: ['rejected', 'rejected'], after: true, again: true });
  });
});
