/** Where the stage is put must not matter: scrolled, scaled, in dialogs, right to left, on any screen, in and out. */
import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import sharp from 'sharp';
import { afterEach, describe, expect, it } from 'vitest';
import {
  centerOf,
  clickItem,
  handleAt,
  pictureReady,
  putStage,
  type StagePage,
  stagePages,
} from '../pages/open-stage.ts';

const pages = stagePages();
let stage: StagePage;
let mayFail: RegExp | null = null;

afterEach(async () => {
  expect(stage.faults.filter((fault) => !mayFail?.test(fault))).toEqual([]);
  mayFail = null;
  await stage.close();
});

const opened = async (options?: Parameters<typeof pages.open>[0]): Promise<Page> => {
  stage = await pages.open(options);
  return stage.page;
};

/** Puts a holder with these style rules on the page. */
const holder = (page: Page, rules: string, html = '<div id="holder"></div>') =>
  page.evaluate(
    ([css, tag]) => {
      const sheet = new CSSStyleSheet();
      sheet.replaceSync(css!);
      document.adoptedStyleSheets = [sheet];
      const made = document.createElement(tag!.includes('<dialog') ? 'dialog' : 'div');
      made.id = 'holder';
      document.body.append(made);
    },
    [rules, html],
  );

describe('hits where it is drawn', () => {
  /** Presses the drawn center, drags 30 client px right; the artwork must be picked and follow the pointer. */
  const picksAndFollows = async (page: Page) => {
    await page.evaluate(() => {
      window.stage.selected = null;
      window.tools.told.length = 0;
    });
    const at = await centerOf(page);
    await page.keyboard.down('Alt'); // no guides: the artwork follows exactly
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 30, at.y - 8, { steps: 4 });
    await page.mouse.up();
    await page.keyboard.up('Alt');
    const after = await centerOf(page);
    expect(await page.evaluate(() => window.stage.selected)).toBe('art');
    expect(Math.abs(after.x - at.x - 30)).toBeLessThan(0.6);
    expect(Math.abs(after.y - at.y + 8)).toBeLessThan(0.6);
  };

  it('in a scrolled container scaled by half', async () => {
    const page = await opened();
    await holder(
      page,
      '#holder{overflow:auto;height:300px;width:640px;transform:scale(.5);transform-origin:20px 10px}',
    );
    await putStage(page, '#holder');
    await page.evaluate(() => {
      document.querySelector('#holder')!.scrollTop = 200;
    });
    await picksAndFollows(page);
  });

  it('in a dialog opened after it was put there', async () => {
    const page = await opened();
    await holder(page, '#holder{width:480px}', '<dialog>');
    await page.evaluate(async () => {
      window.stage = window.tools.makeStage();
      window.stage.placements = [window.tools.placement('art')];
      document.querySelector('#holder')!.append(window.stage);
      await window.stage.updateComplete;
      document.querySelector<HTMLDialogElement>('#holder')!.showModal();
    });
    await pictureReady(page);
    await picksAndFollows(page);
  });

  it('on a page scrolled by 800 px', async () => {
    const page = await opened();
    await holder(page, '#holder{margin-top:820px;margin-bottom:900px}');
    await putStage(page, '#holder');
    await page.evaluate(() => scrollTo(0, 800));
    await picksAndFollows(page);
  });

  it('on a page zoomed in with two fingers', async () => {
    const page = await opened({ hasTouch: true, isMobile: true, viewport: { width: 420, height: 500 } });
    await putStage(page);
    const client = await page.context().newCDPSession(page);
    await client.send('Emulation.setPageScaleFactor', { pageScaleFactor: 1.6 });
    await picksAndFollows(page);
  });

  it('under CSS zoom and in a right-to-left page; the drawing is not mirrored', async () => {
    const page = await opened();
    await holder(page, 'html{direction:rtl}#holder{zoom:.8;width:600px;padding:7px;border:3px solid}');
    await page.evaluate(() => {
      document.documentElement.dir = 'rtl';
    });
    await putStage(page, '#holder');
    await picksAndFollows(page);
    const moved = await page.evaluate(() => window.stage.placements[0]!.xMm);
    expect(moved).toBeGreaterThan(0);
    const rulers = await page.evaluate(() => {
      const [top, left] = ['.ruler.top', '.ruler.left'].map((one) =>
        window.stage.renderRoot.querySelector(one)!.getBoundingClientRect(),
      );
      return left!.left < top!.left;
    });
    expect(rulers).toBe(true);
  });

  it('after its box has been resized', async () => {
    const page = await opened();
    await holder(page, '#holder{width:600px}#holder.small{width:300px}');
    await putStage(page, '#holder');
    const before = await page.evaluate(() => {
      const { width } = window.stage.renderRoot.querySelector('canvas')!;
      document.querySelector('#holder')!.className = 'small';
      return width;
    });
    const canvas = () =>
      page.evaluate(() => {
        const { width, clientWidth } = window.stage.renderRoot.querySelector('canvas')!;
        return { width, off: Math.abs(width - clientWidth * devicePixelRatio) };
      });
    await expect.poll(async () => (await canvas()).width).toBeLessThan(before);
    await picksAndFollows(page);
    expect((await canvas()).off).toBeLessThan(1.01);
  });
});

describe('numbers', () => {
  it('come out as they went in, whatever the screen, twenty times', async () => {
    const seen: string[] = [];
    for (const deviceScaleFactor of [1, 2, 3]) {
      const page = await opened({ deviceScaleFactor });
      await putStage(page);
      const result = await page.evaluate(async () => {
        const told = window.tools.told;
        const art = window.tools.placement('art', {
          xMm: -12.3456,
          yMm: 87.654321,
          widthMm: 87.3,
          angleDeg: 33.333,
        });
        let text = JSON.stringify({ ...art, source: null });
        for (let i = 0; i < 20; i++) {
          window.stage.placements = [{ ...JSON.parse(text), source: art.source }];
          await window.stage.updateComplete;
          text = JSON.stringify({ ...window.stage.placements[0], source: null });
        }
        return { text, told: told.filter((one) => one.type === 'change').length };
      });
      expect(result.told).toBe(0);
      seen.push(result.text);
      if (deviceScaleFactor !== 3) await stage.close();
    }
    expect(new Set(seen).size).toBe(1);
    expect(seen[0]).toContain('"widthMm":87.3,"angleDeg":33.333');
  });

  it('the same drag gives the same numbers on a screen of any density', async () => {
    const seen: string[] = [];
    for (const deviceScaleFactor of [1, 2]) {
      const page = await opened({ deviceScaleFactor });
      await putStage(page);
      const at = await centerOf(page);
      await page.mouse.move(at.x, at.y);
      await page.mouse.down();
      await page.mouse.move(at.x + 41, at.y + 37, { steps: 3 });
      await page.mouse.up();
      seen.push(
        await page.evaluate(() => {
          const { xMm, yMm, widthMm, angleDeg } = window.stage.placements[0]!;
          return JSON.stringify({ xMm, yMm, widthMm, angleDeg });
        }),
      );
      if (deviceScaleFactor === 1) await stage.close();
    }
    expect(seen[0]).toBe(seen[1]);
  });

  it('moving leaves width and angle as they are, to the last digit', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(async () => {
      window.stage.placements = [window.tools.placement('art', { widthMm: 87.30001, angleDeg: 33.3333 })];
      await window.stage.updateComplete;
    });
    await page.locator('.item').focus();
    await page.keyboard.press('ArrowRight');
    expect(await page.evaluate(() => window.stage.placements[0])).toMatchObject({
      xMm: 1,
      widthMm: 87.30001,
      angleDeg: 33.3333,
    });
  });
});

describe('bitmaps', () => {
  it('are never over 4096 a side or 16 777 216 px, however large the artwork, the stage and the density', async () => {
    const page = await opened({ deviceScaleFactor: 3, viewport: { width: 2000, height: 2100 } });
    await page.evaluate(() => {
      const largest = { side: 0, area: 0 };
      (window as unknown as { largest: typeof largest }).largest = largest;
      const note = (width: number, height: number) => {
        largest.side = Math.max(largest.side, width, height);
        largest.area = Math.max(largest.area, width * height);
      };
      for (const name of ['width', 'height'] as const) {
        const own = Object.getOwnPropertyDescriptor(HTMLCanvasElement.prototype, name)!;
        Object.defineProperty(HTMLCanvasElement.prototype, name, {
          ...own,
          set(this: HTMLCanvasElement, value: number) {
            own.set!.call(this, value);
            if (!this.dataset.mine) note(this.width, this.height);
          },
        });
      }
      const make = window.createImageBitmap.bind(window);
      window.createImageBitmap = (async (...args: Parameters<typeof createImageBitmap>) => {
        const bitmap = await make(...args);
        note(bitmap.width, bitmap.height);
        return bitmap;
      }) as typeof createImageBitmap;
    });
    await page.evaluate(async () => {
      const wide = document.createElement('canvas');
      wide.dataset.mine = 'yes';
      wide.width = 12_000;
      wide.height = 40;
      wide.getContext('2d')!.fillRect(0, 0, 12_000, 40);
      const tall = document.createElement('canvas');
      tall.dataset.mine = 'yes';
      tall.width = 4724;
      tall.height = 5906;
      tall.getContext('2d')!.fillRect(0, 0, 4724, 5906);
      window.stage = window.tools.makeStage();
      const large = (id: string, source: HTMLCanvasElement, widthMm: number) =>
        window.tools.placement(id, {
          source,
          raster: { widthPx: source.width, heightPx: source.height },
          inkBox: null,
          widthMm,
        });
      window.stage.placements = [large('banner', wide, 300), large('sheet', tall, 280)];
      document.body.append(window.stage);
    });
    await pictureReady(page);
    const { largest, drawn } = await page.evaluate(() => {
      const canvas = window.stage.renderRoot.querySelector('canvas')!;
      return {
        largest: (window as unknown as { largest: { side: number; area: number } }).largest,
        drawn: canvas.clientWidth * devicePixelRatio,
      };
    });
    expect(drawn).toBeGreaterThan(4096); // the density alone would have gone over
    expect(largest.side).toBeLessThanOrEqual(4096);
    expect(largest.area).toBeLessThanOrEqual(16_777_216);
    expect(largest.side).toBeGreaterThan(2000);
  });
});

describe('pictures from elsewhere', () => {
  /** Another origin: one picture it lets others read, one it does not. */
  const elsewhere = async () => {
    const picture = await sharp({ create: { width: 64, height: 64, channels: 4, background: '#c8102e' } })
      .png()
      .toBuffer();
    const server = createServer((request, response) => {
      const allowed = request.url === '/open.png' ? { 'access-control-allow-origin': '*' } : {};
      response.writeHead(200, { 'content-type': 'image/png', ...allowed }).end(picture);
    });
    await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
    return { server, url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/` };
  };

  it('are refused without CORS and told once; with it they are shown; the canvas stays readable', async () => {
    mayFail = /CORS|ERR_FAILED/;
    const page = await opened({ bypassCSP: true });
    const other = await elsewhere();
    try {
      await putStage(page);
      const source = (name: string) => `${other.url}${name}`;
      await page.evaluate(
        async ([open, closed]) => {
          const far = { raster: { widthPx: 64, heightPx: 64 }, inkBox: null };
          window.stage.placements = [
            window.tools.placement('art'),
            window.tools.placement('open', { ...far, source: open! }),
            window.tools.placement('closed', { ...far, source: closed! }),
          ];
          await window.stage.updateComplete;
        },
        [source('open.png'), source('closed.png')],
      );
      await pictureReady(page);
      const failing = () =>
        page.evaluate(() =>
          [...window.stage.renderRoot.querySelectorAll('.item')].map((item) =>
            item.getAttribute('aria-label')!.includes('picture cannot be shown'),
          ),
        );
      await expect.poll(failing).toEqual([false, false, true]);
      const failures = (await stage.told()).filter((one) => one.type === 'picture-error');
      expect(failures.map((one) => one.detail['placement'])).toEqual(['closed']);
      const data = await page.evaluate(() => window.stage.renderRoot.querySelector('canvas')!.toDataURL());
      expect(data.length).toBeGreaterThan(500);
    } finally {
      other.server.close();
    }
  });

  it('given as pixels of a canvas that is tainted already, they are refused too', async () => {
    mayFail = /CORS|ERR_FAILED|taint/i;
    const page = await opened({ bypassCSP: true });
    const other = await elsewhere();
    try {
      await putStage(page);
      await page.evaluate(async (url) => {
        const image = new Image();
        image.src = url;
        await image.decode();
        const canvas = document.createElement('canvas');
        canvas.width = 64;
        canvas.height = 64;
        canvas.getContext('2d')!.drawImage(image, 0, 0);
        window.stage.placements = [
          window.tools.placement('art'),
          window.tools.placement('spoilt', {
            source: canvas,
            raster: { widthPx: 64, heightPx: 64 },
            inkBox: null,
          }),
        ];
        await window.stage.updateComplete;
      }, `${other.url}closed.png`);
      await pictureReady(page);
      const failures = (await stage.told()).filter((one) => one.type === 'picture-error');
      expect(failures.map((one) => one.detail['placement'])).toEqual(['spoilt']);
      expect(
        await page.evaluate(() => window.stage.renderRoot.querySelector('canvas')!.toDataURL().length),
      ).toBeGreaterThan(500);
    } finally {
      other.server.close();
    }
  });

  it('a blob of the page is shown under the strict policy', async () => {
    const page = await opened();
    await putStage(page);
    const readable = await page.evaluate(async () => {
      const canvas = window.tools.testPicture(200, 200);
      const blob = await new Promise<Blob | null>((done) => canvas.toBlob(done));
      const url = URL.createObjectURL(blob!);
      window.stage.placements = [
        window.tools.placement('art', { source: url, raster: { widthPx: 200, heightPx: 200 }, inkBox: null }),
      ];
      await window.stage.updateComplete;
      while (!window.stage.renderRoot.querySelector('.item:not(.waiting)'))
        await new Promise((done) => setTimeout(done, 20));
      URL.revokeObjectURL(url);
      return window.stage.renderRoot.querySelector('canvas')!.toDataURL().length;
    });
    await pictureReady(page);
    expect(readable).toBeGreaterThan(100);
  });
});

describe('taken out', () => {
  it('while the button is down: nothing fails, nothing is changed, a new one works', async () => {
    const page = await opened();
    await putStage(page);
    const at = await centerOf(page);
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 30, at.y, { steps: 3 });
    await page.evaluate(() => window.stage.remove());
    await page.mouse.move(at.x + 60, at.y + 20, { steps: 3 });
    await page.mouse.up();
    expect((await stage.told()).filter((one) => one.type === 'change')).toEqual([]);
    // the same element again, then a new one
    for (const again of ['same', 'new']) {
      await page.evaluate((which) => {
        if (which === 'new') {
          window.stage.remove();
          window.stage = window.tools.makeStage();
          window.stage.placements = [window.tools.placement('art')];
        }
        document.body.append(window.stage);
      }, again);
      await pictureReady(page);
      const center = await centerOf(page);
      await page.mouse.move(center.x, center.y);
      await page.mouse.down();
      await page.mouse.move(center.x + 30, center.y, { steps: 3 });
      await page.mouse.up();
      expect((await stage.told()).filter((one) => one.type === 'change')).toHaveLength(1);
    }
  });

  it('by the page in one of the stage’s own events, while the pointer is being handled: nothing is left', async () => {
    const page = await opened();
    await putStage(page);
    const client = await page.context().newCDPSession(page);
    const listeners = async () => {
      const { result } = await client.send('Runtime.evaluate', { expression: 'document' });
      const found = await client.send('DOMDebugger.getEventListeners', { objectId: result.objectId! });
      return found.listeners.length;
    };
    const before = await listeners();
    await page.evaluate(() =>
      window.stage.addEventListener('platen-stage-select', () => window.stage.remove(), { once: true }),
    );
    await clickItem(page);
    expect(await page.evaluate(() => window.stage.isConnected)).toBe(false);
    expect(await listeners()).toBe(before);
    await page.evaluate(() => document.body.append(window.stage));
    await pictureReady(page);
    await stage.told();
    const center = await centerOf(page);
    await page.mouse.move(center.x, center.y);
    await page.mouse.down();
    await page.mouse.move(center.x + 30, center.y, { steps: 3 });
    await page.mouse.up();
    expect((await stage.told()).filter((one) => one.type === 'change')).toHaveLength(1);
  });

  it('fifty times mid-drag: listeners on window and document are as before, the heap within 2 MB', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(() => window.stage.remove());
    const client = await page.context().newCDPSession(page);
    const listeners = async () => {
      let count = 0;
      for (const expression of ['window', 'document', 'document.body', 'document.documentElement']) {
        const { result } = await client.send('Runtime.evaluate', { expression });
        const found = await client.send('DOMDebugger.getEventListeners', { objectId: result.objectId! });
        count += found.listeners.length;
      }
      return count;
    };
    const heap = async () => {
      for (let i = 0; i < 3; i++) await client.send('HeapProfiler.collectGarbage');
      return (await client.send('Runtime.getHeapUsage')).usedSize;
    };
    const round = (count: number) =>
      page.evaluate(async (rounds) => {
        for (let i = 0; i < rounds; i++) {
          const one = window.tools.makeStage();
          one.placements = [window.tools.placement('art')];
          window.stage = one;
          document.body.append(one);
          while (!one.renderRoot?.querySelector('.item:not(.waiting)'))
            await new Promise((done) => setTimeout(done, 5));
          const canvas = one.renderRoot.querySelector('.upper-canvas')!;
          canvas.setPointerCapture = () => {}; // there is no such pointer
          const box = one.renderRoot.querySelector('.item')!.getBoundingClientRect();
          const at = (type: string, dx: number) =>
            new PointerEvent(type, {
              bubbles: true,
              composed: true,
              pointerId: 1,
              button: 0,
              isPrimary: true,
              clientX: box.left + box.width / 2 + dx,
              clientY: box.top + box.height / 2,
              pointerType: 'mouse',
            });
          canvas.dispatchEvent(at('pointerdown', 0));
          canvas.dispatchEvent(at('pointermove', 40));
          one.remove();
        }
        window.tools.told.length = 0;
        window.stage = null as never;
      }, count);
    await round(5); // everything that is loaded or compiled once
    const before = { listeners: await listeners(), heap: await heap() };
    await round(50);
    const after = { listeners: await listeners(), heap: await heap() };
    expect(after.listeners).toBe(before.listeners);
    expect(after.heap - before.heap).toBeLessThan(2_000_000);
  });

  it('moved to another place on the page it goes on working', async () => {
    const page = await opened();
    await holder(page, '#holder{width:500px}');
    await putStage(page);
    await page.evaluate(() => document.querySelector('#holder')!.append(window.stage));
    await pictureReady(page);
    const painted = await page.evaluate(() => {
      const canvas = window.stage.renderRoot.querySelector('canvas')!;
      const data = canvas.getContext('2d')!.getImageData(0, 0, canvas.width, canvas.height).data;
      return data.some((value, i) => i % 4 === 3 && value > 0);
    });
    expect(painted).toBe(true);
  });
});

describe('looks', () => {
  it('is clean by axe in every state, also in forced colors and in Arabic', async () => {
    const page = await opened();
    await putStage(page);
    const states: Record<string, () => Promise<void>> = {
      picked: () => clickItem(page),
      moving: async () => {
        await page.keyboard.down('ArrowRight');
      },
      arabic: () =>
        page.evaluate(() => {
          const { MessageFormat, Formatter } = window.tools;
          document.documentElement.dir = 'rtl';
          window.stage.say = new MessageFormat(new Formatter('ar'), 'in', 'USD');
        }),
      forced: () => page.emulateMedia({ forcedColors: 'active' }),
      readonly: () =>
        page.evaluate(() => {
          window.stage.readonly = true;
        }),
      empty: () =>
        page.evaluate(() => {
          window.stage.readonly = false;
          window.stage.placements = [];
        }),
    };
    for (const [name, enter] of Object.entries(states)) {
      await enter();
      await page.waitForTimeout(50);
      const { violations } = await new AxeBuilder({ page })
        .include('platen-stage')
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'])
        .analyze();
      expect(violations.map((one) => `${name}: ${one.id} ${one.nodes.map((node) => node.html)}`)).toEqual([]);
    }
  });

  it('targets are 24 px or more, text 12 px or more, whatever the page does to its own', async () => {
    const page = await opened();
    await holder(page, 'html{font-size:8px}body *{line-height:0;font-size:5px}#holder{width:320px}');
    await putStage(page, '#holder');
    const sizes = await page.evaluate(async () => {
      const one = window.stage;
      one.placements = [window.tools.placement('art', { widthMm: 8 })];
      await one.updateComplete;
      const texts = [...one.renderRoot.querySelectorAll<HTMLElement>('.tag, .corner, .ruler text')];
      return texts.map((text) => Number.parseFloat(getComputedStyle(text).fontSize));
    });
    for (const size of sizes) expect(size).toBeGreaterThanOrEqual(12);
    expect(sizes.length).toBeGreaterThan(4);
    /** The cursors at the outermost whole pixels in the corners of a square of this side around a point. */
    const cursors = async (at: { x: number; y: number }, side: number) => {
      const seen = new Set<string>();
      for (const x of [-side / 2, side / 2])
        for (const y of [-side / 2, side / 2]) {
          await page.mouse.move(
            x < 0 ? Math.ceil(at.x + x) : Math.floor(at.x + x),
            y < 0 ? Math.ceil(at.y + y) : Math.floor(at.y + y),
          );
          seen.add(
            await page.evaluate(
              () => window.stage.renderRoot.querySelector<HTMLElement>('.upper-canvas')!.style.cursor,
            ),
          );
        }
      return [...seen];
    };
    const center = await centerOf(page);
    expect(await cursors(center, 23.8)).toEqual(['grab']);
    expect(await cursors(center, 28)).toEqual(['default']);
    await page.evaluate(async () => {
      window.stage.placements = [window.tools.placement('art')];
      window.stage.selected = 'art';
      await window.stage.updateComplete;
    });
    expect(await cursors(await handleAt(page, { x: -1, y: -1 }), 24)).toEqual(['nw-resize']);
    expect(await cursors(await handleAt(page, { x: 1, y: -1 }), 24)).toEqual(['ne-resize']);
    expect(await cursors(await handleAt(page, { x: 1, y: 1 }), 24)).toEqual(['se-resize']);
    expect(await cursors(await handleAt(page, { x: -1, y: 1 }), 24)).toEqual(['sw-resize']);
    const turning = await handleAt(page, 'turn');
    expect(await cursors({ x: turning.x, y: turning.y - 1 }, 24)).toEqual(['grab']);
  });
});
