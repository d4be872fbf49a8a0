/** The page's picture of a file, compared with the raster the shop prints. */
import { resolve } from 'node:path';
import type { Browser, Page } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { readArtwork } from '../../../api/files/read-artwork.ts';
import { isRefusal } from '../../../api/files/refusal.ts';
import { applyRemedies, type Raster } from '../../../src/artwork/index.ts';
import { Remedy } from '../../../src/contract/index.ts';
import { everyKindOfPicture, type KindOfPicture } from '../../api/files/fixtures/every-kind.ts';
import { paint, writeRgba } from '../../api/files/fixtures/png.ts';
import { launchChromium } from '../../tools/browser/launch-chromium.ts';
import { type ServedPage, servePage } from '../pages/serve-page.ts';

const HTML = `<!doctype html><html lang="en"><meta charset="utf-8"><title>Reader</title><script type="module" src="/page.js"></script></html>`;
const [WIDTH, HEIGHT] = [72, 54];
/** Most the picture may differ from the print raster, in levels of 255. */
const TOLERANCE = 4;
/** Kinds that browsers decode to other colors or alpha than the print has: only the shop reads them. */
const LEFT_TO_THE_SHOP = /four inks|AVIF with alpha|TIFF/;

let browser: Browser;
let site: ServedPage;
let page: Page;
let kinds: KindOfPicture[];

beforeAll(async () => {
  browser = await launchChromium();
  site = await servePage(resolve(import.meta.dirname, '../pages/reader-page.ts'), HTML);
  page = await browser.newPage();
  await page.goto(site.url);
  await page.waitForFunction(() => 'reading' in window);
  kinds = await everyKindOfPicture(WIDTH, HEIGHT);
});
afterAll(async () => {
  await browser?.close();
  await site?.close();
});

/** Straight-alpha pixels of the page's picture of a file; null where only the shop reads it. */
const pagePicture = (bytes: Buffer, remedies: readonly Remedy[] = []) =>
  page.evaluate(
    async ([base64, applied]) => {
      const file = await (await fetch(`data:application/octet-stream;base64,${base64}`)).blob();
      const reader = new window.reading.ArtworkReader();
      const found = await reader.read(file, applied, { pictureSidePx: 512 });
      reader.close();
      if (!found) return null;
      const bitmap = await createImageBitmap(found.picture, { premultiplyAlpha: 'none' });
      const pen = new OffscreenCanvas(bitmap.width, bitmap.height).getContext('2d')!;
      pen.drawImage(bitmap, 0, 0);
      return {
        width: bitmap.width,
        height: bitmap.height,
        data: [...pen.getImageData(0, 0, bitmap.width, bitmap.height).data],
      };
    },
    [bytes.toString('base64'), remedies] as const,
  );

/** The largest difference in any channel, in levels; the sizes must be equal. */
function maxDifference({ width, height, data }: Raster, seen: Raster, name: string): number {
  expect([seen.width, seen.height], name).toEqual([width, height]);
  let worst = 0;
  for (let at = 0; at < data.length; at += 4) {
    worst = Math.max(worst, Math.abs(data[at + 3]! - seen.data[at + 3]!));
    // compares colors over black, as the color of a nearly clear pixel is hardly visible
    for (let channel = 0; channel < 3; channel++)
      worst = Math.max(
        worst,
        Math.abs(data[at + channel]! * data[at + 3]! - seen.data[at + channel]! * seen.data[at + 3]!) / 255,
      );
  }
  return worst;
}

it('the page’s picture and the print raster agree within 4 levels for every kind the page reads', async () => {
  const left: string[] = [];
  for (const { name, bytes } of kinds) {
    const printed = await readArtwork(bytes);
    if (isRefusal(printed)) throw new Error(`${name}: ${JSON.stringify(printed)}`);
    const seen = await pagePicture(bytes);
    if (seen === null) {
      left.push(name);
      continue;
    }
    expect(
      maxDifference(printed.raster, { ...seen, data: Uint8Array.from(seen.data) }, name),
      name,
    ).toBeLessThanOrEqual(TOLERANCE);
  }
  expect(left).toEqual(kinds.map(({ name }) => name).filter((name) => LEFT_TO_THE_SHOP.test(name)));
  expect(left.length).toBeLessThan(kinds.length / 2);
});

/** A ring and a thin bar, navy and red on white, with smooth edges. */
function drawing(): Buffer {
  return writeRgba(
    120,
    90,
    paint(120, 90, (x, y) => {
      const away = Math.hypot(x - 45.5, y - 45.5);
      const ring = Math.min(1, Math.max(0, 30.5 - away)) - Math.min(1, Math.max(0, 14.5 - away));
      const bar = x > 90 && x < 93 && y > 10 && y < 80 ? 1 : 0;
      const mix = (ink: number) => Math.round(255 + (ink - 255) * Math.max(ring, bar));
      return bar > 0 ? [mix(200), mix(16), mix(46), 255] : [mix(27), mix(42), mix(73), 255];
    }),
  );
}

it('they agree with every remedy applied', async () => {
  const bytes = drawing();
  const printed = await readArtwork(bytes);
  if (isRefusal(printed)) throw new Error(JSON.stringify(printed));
  const cleared = { kind: 'remove-background', hex: '#FFFFFF' };
  const choices: readonly unknown[][] = [
    [cleared],
    [{ ...cleared, enclosed: true }, { kind: 'trim' }],
    [cleared, { kind: 'firm-up' }, { kind: 'thicken', toPx: 5 }],
    [cleared, { kind: 'outline', widthPx: 4, hex: '#FFCD00' }],
    [cleared, { kind: 'firm-up' }, { kind: 'screen-solids', cellPx: 6, tint: 0.7, minDiameterPx: 8 }],
    [cleared, { kind: 'screen-soft', cellPx: 6 }],
    [cleared, { kind: 'firm-up' }, { kind: 'recolor', hex: '#00FF00' }],
  ];
  for (const choice of choices) {
    const remedies = choice.map((remedy) => Remedy.parse(remedy));
    const name = remedies.map(({ kind }) => kind).join();
    const seen = await pagePicture(bytes, remedies);
    if (seen === null) throw new Error(`the page did not apply ${name}`);
    const made = applyRemedies(printed.raster, remedies);
    expect(
      maxDifference(made, { ...seen, data: Uint8Array.from(seen.data) }, name),
      name,
    ).toBeLessThanOrEqual(TOLERANCE);
  }
});
