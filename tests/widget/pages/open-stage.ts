import { resolve } from 'node:path';
import type { Browser, BrowserContextOptions, Page } from 'playwright';
import { afterAll, beforeAll } from 'vitest';
import { launchChromium } from '../../tools/browser/launch-chromium.ts';
import { type ServedPage, STRICT_POLICY, servePage } from './serve-page.ts';
import type { Told } from './stage-page.ts';

const HTML = `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Stage</title>
<meta name="viewport" content="width=device-width, initial-scale=1">
<script type="module" src="/page.js"></script></head><body></body></html>`;

/** A page with the stage, and what went wrong on it. */
export type StagePage = {
  readonly page: Page;
  /** page errors and policy violations, which no test may leave behind. */
  readonly faults: string[];
  /** what the stage told since the last call. */
  told(): Promise<readonly Told[]>;
  close(): Promise<void>;
};

/** Starts a browser and a server for the tests of one file. Call at the top level of the file. */
export function stagePages(): {
  readonly url: () => string;
  readonly open: (options?: BrowserContextOptions) => Promise<StagePage>;
} {
  let served: ServedPage;
  let browser: Browser;
  beforeAll(async () => {
    served = await servePage(resolve(import.meta.dirname, 'stage-page.ts'), HTML, {
      'content-security-policy': STRICT_POLICY,
    });
    browser = await launchChromium(['--js-flags=--expose-gc', '--enable-precise-memory-info']);
  });
  afterAll(async () => {
    await browser?.close();
    await served?.close();
  });
  return {
    url: () => served.url,
    open: async (options = {}) => {
      const context = await browser.newContext({ viewport: { width: 700, height: 760 }, ...options });
      const page = await context.newPage();
      const faults: string[] = [];
      page.on('pageerror', (error) => faults.push(String(error)));
      await page.addInitScript(() => {
        document.addEventListener('securitypolicyviolation', (event) =>
          console.error(`policy: ${event.violatedDirective} ${event.blockedURI}`),
        );
      });
      page.on('console', (message) => {
        if (message.type() === 'error') faults.push(message.text());
      });
      await page.goto(served.url);
      await page.waitForFunction(() => 'tools' in window);
      return {
        page,
        faults,
        told: () => page.evaluate(() => window.tools.told.splice(0)),
        close: () => context.close(),
      };
    },
  };
}

/** Puts a stage with one placement "art" (120 x 90 mm of ink at 0, 150) on the page and waits until its picture is drawn. */
export async function putStage(page: Page, inside = 'body'): Promise<void> {
  await page.evaluate(async (selector) => {
    const stage = window.tools.makeStage();
    stage.placements = [window.tools.placement('art')];
    document.querySelector(selector)!.append(stage);
    window.stage = stage;
    await stage.updateComplete;
  }, inside);
  await pictureReady(page);
}

/** Waits until every artwork's picture is there. */
export async function pictureReady(page: Page): Promise<void> {
  await page.waitForFunction(() => {
    const items = [...window.stage.renderRoot.querySelectorAll('.item')];
    return items.length > 0 && items.every((item) => !item.classList.contains('waiting'));
  });
}

/** Center of an artwork's element, client px. */
export async function centerOf(page: Page, selector = '.item'): Promise<{ x: number; y: number }> {
  const box = await page.locator(selector).first().boundingBox();
  if (!box) throw new Error(`${selector} is not on the page`);
  return { x: box.x + box.width / 2, y: box.y + box.height / 2 };
}

/** Clicks where the first artwork is drawn. */
export async function clickItem(page: Page): Promise<void> {
  const { x, y } = await centerOf(page);
  await page.mouse.click(x, y);
}

/** Client px of one mm of the drawing. */
export async function pxPerMm(page: Page): Promise<number> {
  return page.evaluate(() => {
    const item = window.stage.renderRoot.querySelector<HTMLElement>('.item')!;
    const scale = window.stage.getBoundingClientRect().width / window.stage.offsetWidth;
    return (item.offsetWidth * scale) / window.stage.placements[0]!.widthMm;
  });
}

/**
 * Center of a handle of the selected first artwork, client px: a corner (-1 left or top, 1 right or bottom) or the
 * turning handle. Handles are drawn on the canvas, so their places follow from the artwork's: corners stand off small
 * artworks, the turning handle is 24 px above the ink.
 */
export async function handleAt(
  page: Page,
  handle: { readonly x: -1 | 1; readonly y: -1 | 1 } | 'turn',
): Promise<{ x: number; y: number }> {
  const center = await centerOf(page);
  return page.evaluate(
    ([which, middle]) => {
      const item = window.stage.renderRoot.querySelector<HTMLElement>('.item')!;
      const scale = window.stage.getBoundingClientRect().width / window.stage.offsetWidth;
      const { offsetWidth: width, offsetHeight: height } = item;
      const standOff = Math.max(0, 15 - Math.min(width, height) / 4);
      const from =
        which === 'turn'
          ? { x: 0, y: -height / 2 - standOff - 24 }
          : { x: which.x * (width / 2 + standOff), y: which.y * (height / 2 + standOff) };
      const radians = (window.stage.placements[0]!.angleDeg * Math.PI) / 180;
      return {
        x: middle.x + scale * (from.x * Math.cos(radians) - from.y * Math.sin(radians)),
        y: middle.y + scale * (from.x * Math.sin(radians) + from.y * Math.cos(radians)),
      };
    },
    [handle, center] as const,
  );
}
