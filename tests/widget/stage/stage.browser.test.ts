import type { Page } from 'playwright';
import { afterEach, describe, expect, it } from 'vitest';
import {
  centerOf,
  clickItem,
  handleAt,
  putStage,
  pxPerMm,
  type StagePage,
  stagePages,
} from '../pages/open-stage.ts';

const pages = stagePages();
let stage: StagePage;

afterEach(async () => {
  expect(stage.faults).toEqual([]);
  await stage.close();
});

const opened = async (options?: Parameters<typeof pages.open>[0]): Promise<Page> => {
  stage = await pages.open(options);
  return stage.page;
};

const numbers = (page: Page) =>
  page.evaluate(() => {
    const { xMm, yMm, widthMm, angleDeg } = window.stage.placements[0]!;
    return { xMm, yMm, widthMm, angleDeg };
  });

async function drag(page: Page, dx: number, dy: number, start?: { x: number; y: number }): Promise<void> {
  const from = start ?? (await centerOf(page));
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + dx, from.y + dy, { steps: 5 });
  await page.mouse.up();
}

describe('the drawing', () => {
  it('is there before any artwork, without Fabric, true to scale', async () => {
    const page = await opened();
    const requests: string[] = [];
    page.on('request', (request) => requests.push(request.url()));
    const seen = await page.evaluate(async () => {
      const one = window.tools.makeStage();
      document.body.append(one);
      window.stage = one;
      await one.updateComplete;
      await new Promise(requestAnimationFrame);
      const root = one.renderRoot;
      const cloth = root.querySelector<SVGPathElement>('.cloth')!.getBoundingClientRect();
      const area = root.querySelector<SVGRectElement>('rect.area')!.getBoundingClientRect();
      return {
        // the cloth is 580 mm wide and 650 high, the area 300 x 400
        clothToArea: cloth.width / area.width,
        areaShape: area.width / area.height,
        zero: [...root.querySelectorAll('.ruler text.zero')].map((one) => one.textContent),
        name: root.querySelector('.drawing')!.getAttribute('aria-label'),
        canvases: root.querySelectorAll('canvas').length,
      };
    });
    expect(seen.clothToArea).toBeCloseTo(580 / 300, 1);
    expect(seen.areaShape).toBeCloseTo(300 / 400, 2);
    expect(seen.zero).toEqual(['0', '0']);
    expect(seen.name).toBe('Front, drawn to scale');
    expect(seen.canvases).toBe(0);
    expect(requests.filter((url) => url.includes('chunks'))).toEqual([]);
  });

  it('draws the artwork in its place and turn', async () => {
    const page = await opened();
    await putStage(page);
    const colors = await page.evaluate(async () => {
      const one = window.stage;
      one.placements = [window.tools.placement('art', { angleDeg: 90, xMm: 20 })];
      await one.updateComplete;
      while (!one.renderRoot.querySelector('.item:not(.waiting)'))
        await new Promise((done) => setTimeout(done, 20));
      await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
      const canvas = one.renderRoot.querySelector('canvas')!;
      const pen = canvas.getContext('2d', { willReadFrequently: true })!;
      const surface = canvas.getBoundingClientRect();
      const item = one.renderRoot.querySelector('.item')!.getBoundingClientRect();
      const at = (u: number, v: number) => {
        const x = ((item.left + item.width * u - surface.left) * canvas.width) / surface.width;
        const y = ((item.top + item.height * v - surface.top) * canvas.height) / surface.height;
        return [...pen.getImageData(Math.round(x), Math.round(y), 1, 1).data];
      };
      // a quarter turn clockwise brings the yellow corner from the top left to the top right
      return {
        topLeft: at(0.1, 0.1),
        topRight: at(0.9, 0.1),
        outside: at(-0.05, 0.5),
        shape: item.height / item.width,
      };
    });
    expect(colors.topRight).toEqual([255, 209, 0, 255]);
    expect(colors.topLeft).toEqual([200, 16, 46, 255]);
    expect(colors.outside[3]).toBe(0);
    expect(colors.shape).toBeCloseTo(120 / 90, 1);
  });
});

describe('mouse', () => {
  it('drags an artwork: input while moving, one change at the end', async () => {
    const page = await opened();
    await putStage(page);
    const scale = await pxPerMm(page);
    await drag(page, 40 * scale, 23 * scale);
    const told = await stage.told();
    expect(told[0]).toEqual({ type: 'select', detail: { placement: 'art' } });
    expect(told.filter((one) => one.type === 'input').length).toBeGreaterThan(2);
    const changes = told.filter((one) => one.type === 'change');
    expect(changes).toHaveLength(1);
    const { xMm, yMm, widthMm, angleDeg } = await numbers(page);
    expect(Math.abs(xMm - 40)).toBeLessThan(1 / scale);
    expect(Math.abs(yMm - 173)).toBeLessThan(1 / scale);
    expect([widthMm, angleDeg]).toEqual([120, 0]);
  });

  it('does not move by a click, and a click on the empty drawing lets go', async () => {
    const page = await opened();
    await putStage(page);
    const at = await centerOf(page);
    await page.mouse.click(at.x, at.y);
    expect(await page.evaluate(() => window.stage.selected)).toBe('art');
    const surface = await page.locator('.surface').boundingBox();
    await page.mouse.click(surface!.x + 5, surface!.y + 5);
    expect(await page.evaluate(() => window.stage.selected)).toBeNull();
    expect((await stage.told()).map((one) => one.type)).toEqual(['select', 'select']);
  });

  it('scales from a corner with the opposite corner held, and turns by the handle', async () => {
    const page = await opened();
    await putStage(page);
    const center = await centerOf(page);
    await page.mouse.click(center.x, center.y);
    const before = await page.locator('.item').boundingBox();
    await drag(page, 60, 45, await handleAt(page, { x: 1, y: 1 }));
    const after = await page.locator('.item').boundingBox();
    expect(after!.x).toBeCloseTo(before!.x, 0);
    expect(after!.y).toBeCloseTo(before!.y, 0);
    expect(after!.width - before!.width).toBeCloseTo(60, -0.5);
    expect(after!.width / after!.height).toBeCloseTo(4 / 3, 2);
    const middle = await centerOf(page);
    const knob = await handleAt(page, 'turn');
    await page.mouse.move(knob.x, knob.y);
    await page.mouse.down();
    await page.mouse.move(middle.x + 100, middle.y + 20, { steps: 8 });
    await page.mouse.move(middle.x + 100, middle.y, { steps: 2 });
    await page.mouse.up();
    expect((await numbers(page)).angleDeg).toBe(90);
  });

  it('scales without a jump from any spot of a handle, and about the center while Shift is down', async () => {
    const page = await opened();
    await putStage(page);
    await clickItem(page);
    const scale = await pxPerMm(page);
    const handle = await handleAt(page, { x: 1, y: 1 });
    const start = { x: handle.x + 8, y: handle.y - 6 };
    await page.keyboard.down('Alt');
    await page.mouse.move(start.x, start.y);
    await page.mouse.down();
    await page.mouse.move(start.x + 4, start.y + 3, { steps: 4 }); // 5 px along the diagonal
    await page.keyboard.up('Alt');
    const shown = () =>
      page.evaluate(() => {
        const position = window.tools.told.at(-1)!.detail['position'];
        return position as { xMm: number; yMm: number; widthMm: number };
      });
    expect((await shown()).widthMm).toBeCloseTo(120 + 4 / scale, 1);
    await page.keyboard.down('Shift');
    await page.mouse.move(start.x + 40, start.y + 30, { steps: 4 });
    const about = await shown();
    expect(about.widthMm).toBeCloseTo(120 + 80 / scale, 1);
    expect([about.xMm, about.yMm]).toEqual([0, 150]);
    // pulled far over the opposite corner it is least, not mirrored
    await page.mouse.move(start.x - 400, start.y - 300, { steps: 4 });
    expect((await shown()).widthMm).toBe(5);
    await page.mouse.up();
    await page.keyboard.up('Shift');
  });

  it('turns about the center, from the angle it had', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(async () => {
      window.stage.placements = [window.tools.placement('art', { angleDeg: 20 })];
      await window.stage.updateComplete;
    });
    await clickItem(page);
    const center = await centerOf(page);
    const knob = await handleAt(page, 'turn');
    await page.keyboard.down('Alt');
    await page.mouse.move(knob.x, knob.y);
    await page.mouse.down();
    const radius = Math.hypot(knob.x - center.x, knob.y - center.y);
    const radians = (130 * Math.PI) / 180; // clockwise from upright
    await page.mouse.move(center.x + radius * Math.sin(radians), center.y - radius * Math.cos(radians), {
      steps: 6,
    });
    await page.mouse.up();
    await page.keyboard.up('Alt');
    expect((await numbers(page)).angleDeg).toBeCloseTo(130, 0);
  });

  it('takes hold of the selected artwork beneath another', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(async () => {
      window.stage.placements = [
        window.tools.placement('art', { widthMm: 60 }),
        window.tools.placement('over', { widthMm: 200 }),
      ];
      window.stage.selected = 'art';
      await window.stage.updateComplete;
    });
    await drag(page, 60, 40);
    const moved = (await stage.told()).filter((one) => one.type === 'change');
    expect(moved.map((one) => one.detail['placement'])).toEqual(['art']);
  });

  it('reaches an artwork under the button of another area, and the button beside the artwork', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(async () => {
      const { frontFace, chestFace, placement } = window.tools;
      window.stage.faces = [frontFace, chestFace];
      window.stage.placements = [placement('art', { face: 'chest', xMm: 0, yMm: 50, widthMm: 60 })];
      await window.stage.updateComplete;
    });
    await clickItem(page);
    expect(await page.evaluate(() => window.stage.selected)).toBe('art');
    const add = (await page.locator('.add').boundingBox())!;
    await page.mouse.click(add.x + 20, add.y + add.height - 20);
    expect((await stage.told()).map((one) => one.type)).toEqual(['select', 'select', 'add']);
  });

  it('is drawn to the center line and to usual positions, and Alt ignores them', async () => {
    const page = await opened();
    await putStage(page);
    const scale = await pxPerMm(page);
    await drag(page, 3, -60 * scale + 3); // near center chest (0, 90)
    expect(await numbers(page)).toMatchObject({ xMm: 0, yMm: 90 });
    await page.keyboard.down('Alt');
    await drag(page, 6, 20);
    await page.keyboard.up('Alt');
    expect((await numbers(page)).xMm).not.toBe(0);
  });

  it('shows the distances only while it moves', async () => {
    const page = await opened();
    await putStage(page);
    const at = await centerOf(page);
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 50, at.y + 30, { steps: 4 });
    const shown = await page.locator('.tag.measured').allTextContents();
    expect(shown).toHaveLength(3);
    expect(shown.join(' ')).toMatch(/\d mm.*\d mm.*120 mm wide/);
    await page.mouse.up();
    await expect.poll(() => page.locator('.tag.measured').count()).toBe(0);
  });

  it('Escape puts a drag back; no change is told', async () => {
    const page = await opened();
    await putStage(page);
    const at = await centerOf(page);
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x + 50, at.y + 30, { steps: 4 });
    await page.keyboard.press('Escape');
    await page.mouse.move(at.x + 90, at.y + 30);
    await page.mouse.up();
    const told = await stage.told();
    expect(told.some((one) => one.type === 'change')).toBe(false);
    expect(told.at(-1)).toMatchObject({
      type: 'input',
      detail: { cause: 'cancel', position: { xMm: 0, yMm: 150 } },
    });
    expect(await centerOf(page)).toEqual(at);
  });

  it('the wheel scales the picked artwork under a moved mouse, and else scrolls the page', async () => {
    const page = await opened();
    await page.evaluate(() =>
      document.body.append(Object.assign(document.createElement('p'), { textContent: 'end' })),
    );
    await page.evaluate(() => {
      const tall = new CSSStyleSheet();
      tall.replaceSync('body{min-height:3000px}');
      document.adoptedStyleSheets = [tall];
    });
    await putStage(page);
    const at = await centerOf(page);
    await page.mouse.move(at.x, at.y);
    await page.mouse.wheel(0, 100); // not picked: the page scrolls
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(50);
    await page.evaluate(() => scrollTo(0, 0));
    const again = await centerOf(page);
    await page.mouse.click(again.x, again.y);
    await page.mouse.move(again.x + 3, again.y + 3);
    await page.mouse.wheel(0, -200);
    await expect.poll(async () => (await numbers(page)).widthMm).toBeGreaterThan(125);
    expect(await page.evaluate(() => scrollY)).toBe(0);
    const changes = (await stage.told()).filter((one) => one.type === 'change');
    expect(changes).toHaveLength(1);
  });

  it('refuses to move when it is for reading only', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(async () => {
      window.stage.readonly = true;
      await window.stage.updateComplete;
    });
    await drag(page, 60, 40);
    await page.locator('.item').focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Delete');
    expect((await stage.told()).filter((one) => one.type !== 'select')).toEqual([]);
  });
});

describe('keyboard', () => {
  it('does everything: pick by Tab, move, scale, turn, remove', async () => {
    const page = await opened();
    await putStage(page);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => window.stage.selected)).toBe('art');
    const press = async (key: string) => {
      await page.keyboard.press(key);
      return numbers(page);
    };
    expect(await press('ArrowRight')).toMatchObject({ xMm: 1, yMm: 150 });
    expect(await press('Shift+ArrowDown')).toMatchObject({ xMm: 1, yMm: 160 });
    expect(await press('ArrowLeft')).toMatchObject({ xMm: 0 });
    expect(await press('Shift+ArrowUp')).toMatchObject({ yMm: 150 });
    expect(await press('+')).toMatchObject({ widthMm: 125 });
    expect(await press('-')).toMatchObject({ widthMm: 120 });
    expect(await press(']')).toMatchObject({ angleDeg: 1 });
    expect(await press('{')).toMatchObject({ angleDeg: -14 });
    await stage.told();
    await page.keyboard.press('Delete');
    expect(await stage.told()).toEqual([{ type: 'remove', detail: { placement: 'art' } }]);
  });

  it('steps by sixteenths and halves of an inch when the ruler is in inches', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(() => {
      const { MessageFormat, Formatter } = window.tools;
      window.stage.say = new MessageFormat(new Formatter('en'), 'in', 'USD');
    });
    await page.locator('.item').focus();
    await page.keyboard.press('ArrowRight');
    expect((await numbers(page)).xMm).toBe(1.59); // 25.4 / 16 = 1.5875, written to 0.01 mm
    await page.keyboard.press('Shift+ArrowDown');
    expect((await numbers(page)).yMm).toBe(162.7);
  });

  it('a held key is one change', async () => {
    const page = await opened();
    await putStage(page);
    await page.locator('.item').focus();
    await stage.told();
    // Sent together: a busy machine must not part them by more than what still counts as one change.
    await Promise.all(Array.from({ length: 12 }, () => page.keyboard.down('ArrowRight')));
    await page.keyboard.up('ArrowRight');
    const told = await stage.told();
    expect(told.filter((one) => one.type === 'input')).toHaveLength(12);
    expect(told.filter((one) => one.type === 'change')).toHaveLength(1);
    expect((await numbers(page)).xMm).toBe(12);
  });

  it('leaves the keys of a page field alone, and says where the artwork is', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(() => document.body.append(document.createElement('input')));
    await clickItem(page);
    await page.locator('input').focus();
    await page.keyboard.press('Delete');
    await page.keyboard.press('ArrowRight');
    expect((await stage.told()).filter((one) => one.type === 'remove' || one.type === 'change')).toEqual([]);
    await page.locator('.item').focus();
    await page.keyboard.press('ArrowRight');
    await expect
      .poll(() => page.locator('[role=status]').textContent())
      .toBe('1 mm right of center, 150 mm from the top, 120 mm wide');
    expect(await page.locator('.item').getAttribute('aria-label')).toBe(
      'art.png on Full front: 120 × 90 mm, 1 mm right of center, 150 mm from the top',
    );
  });
});

describe('limits', () => {
  it('marks an artwork that leaves the area of the chosen sizes or touches a keep-out', async () => {
    const page = await opened();
    await putStage(page);
    const label = async (more: object, sizes: string[] = []) =>
      page.evaluate(
        async ([change, chosen]) => {
          window.stage.sizes = chosen as string[];
          window.stage.placements = [window.tools.placement('art', change as object)];
          await window.stage.updateComplete;
          return window.stage.renderRoot.querySelector('.item')!.getAttribute('aria-label');
        },
        [more, sizes] as const,
      );
    expect(await label({ widthMm: 280 })).not.toContain('reaches over');
    expect(await label({ widthMm: 280 }, ['s'])).toContain('extends past the printable area');
    expect(await label({ xMm: 100 })).toContain('extends past the printable area');
    expect(await label({ yMm: 340 })).toContain('touches hem seam');
  });

  it('no gesture can lose an artwork out of sight', async () => {
    const page = await opened();
    await putStage(page);
    await drag(page, 3000, 3000);
    const { xMm, yMm } = await numbers(page);
    expect(xMm).toBeLessThanOrEqual(300);
    expect(yMm).toBeLessThanOrEqual(560);
  });
});

describe('files', () => {
  it('takes a dropped file, with the face and the place it was dropped on', async () => {
    const page = await opened();
    await putStage(page);
    await page.evaluate(() => {
      const surface = window.stage.renderRoot.querySelector('.surface')!;
      const box = surface.getBoundingClientRect();
      const dataTransfer = new DataTransfer();
      dataTransfer.items.add(new File(['x'], 'mark.png', { type: 'image/png' }));
      const at = {
        clientX: box.left + box.width / 2,
        clientY: box.top + box.height / 2,
        bubbles: true,
        cancelable: true,
      };
      surface.dispatchEvent(new DragEvent('dragover', { dataTransfer, ...at }));
      surface.dispatchEvent(new DragEvent('drop', { dataTransfer, ...at }));
    });
    const [drop] = await stage.told();
    expect(drop).toMatchObject({ type: 'drop', detail: { face: 'front' } });
    expect(Math.abs(drop!.detail['xMm'] as number)).toBeLessThan(2);
  });

  it('offers to add artwork on an empty face', async () => {
    const page = await opened();
    await page.evaluate(() => {
      window.stage = window.tools.makeStage();
      document.body.append(window.stage);
    });
    await page.getByRole('button', { name: 'Drop artwork here or choose a file' }).click();
    expect(await stage.told()).toEqual([{ type: 'add', detail: { face: 'front' } }]);
  });
});
