import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { accessibilityFaults, type Rig, startRig } from './rig.ts';
import { demoArtwork, SlipHand } from './slip-hand.ts';

let rig: Rig;
beforeAll(async () => {
  rig = await startRig();
});
afterAll(() => rig?.close());

const ITEMS = [
  {
    item: 'Everyday cotton tee',
    color: 'Navy',
    counts: { M: 2, L: 1 },
    file: 'kettle-roundel.png',
    finish: 'Soft hand',
    method: 'Direct to garment',
  },
  {
    item: 'Six-panel cap',
    color: 'Stone',
    counts: { 'One size': 5 },
    file: 'kettle-roundel.svg',
    finish: 'Standard',
    method: 'White-toner transfer',
  },
  {
    item: 'Stoneware mug',
    color: 'White',
    counts: { '330 ml': 4 },
    file: 'evening-hills.jpg',
    finish: 'Standard',
    method: 'White-toner transfer',
  },
] as const;

describe('a customer orders', () => {
  it.each(ITEMS)('$item, with the mouse', async ({ item, color, counts, file, finish, method }) => {
    const visit = await rig.visit('/', { widthPx: 1280, heightPx: 900 });
    const hand = new SlipHand(visit.page);
    await hand.pickItem(item);
    await hand.pickColor(color);
    for (const [size, count] of Object.entries(counts)) await hand.count(size, count);
    await hand.addArtwork(demoArtwork(file));
    await hand.pickFinish(finish);

    expect(await hand.answer('method')).toBe(method);
    const unit = await hand.answer('unit-price');
    const total = await hand.answer('total');
    expect(unit).toMatch(/^\$\d+\.\d\d$/);
    expect(total).toMatch(/^\$\d+\.\d\d$/);
    expect(await hand.answer('ready-day')).toMatch(/\d/);

    await hand.slip.getByRole('button', { name: 'Why', exact: true }).click();
    await hand.slip.locator('[part="why"] li').first().waitFor();
    expect(await accessibilityFaults(visit.page, 'platen-order')).toEqual([]);

    const number = await hand.order('Ada Quillfeather', 'ada@quill.example');
    expect(number).toMatch(/\S{4,}/);
    await hand.slip.getByRole('link').click();
    await visit.page.locator('platen-order .stamp').waitFor();
    expect(await visit.page.locator('platen-order .stamp').innerText()).toContain(number);
    expect(await visit.page.locator('platen-order .root').innerText()).toContain(total);
    expect(visit.faults).toEqual([]);
    await visit.leave();
  });

  it('moves, scales and turns the artwork, and the answer follows each change', async () => {
    const visit = await rig.visit('/', { widthPx: 1280, heightPx: 900 });
    const hand = new SlipHand(visit.page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('L', 3);
    await hand.addArtwork(demoArtwork('kettle-roundel.png'));
    await hand.fresh();
    const place = (): Promise<{ xMm: number; yMm: number; widthMm: number; angleDeg: number }> =>
      visit.page.evaluate(() => {
        const slip = JSON.parse(
          (document.querySelector('platen-order') as unknown as { value: string }).value,
        );
        return slip.lines[0].placements[0];
      });
    const before = await place();
    const artwork = hand.slip
      .getByRole('button', { name: /kettle-roundel\.png on Full front/ })
      .or(hand.slip.locator('.item[data-id="art-1"]'));
    const box = await artwork.first().boundingBox();
    if (!box) throw new Error('the artwork is not on the drawing');
    await visit.page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await visit.page.mouse.down();
    await visit.page.mouse.move(box.x + box.width / 2 + 40, box.y + box.height / 2 + 60, { steps: 8 });
    await visit.page.mouse.up();
    const moved = await place();
    expect(moved.xMm).toBeGreaterThan(before.xMm);
    expect(moved.yMm).toBeGreaterThan(before.yMm);

    await artwork.first().focus();
    await visit.page.keyboard.press('ArrowLeft');
    await visit.page.keyboard.press(']');
    await expect.poll(async () => (await place()).angleDeg).not.toBe(moved.angleDeg);
    await hand.fresh();

    await visit.page.keyboard.press('Delete');
    await expect.poll(() => hand.slip.locator('[part="placement"]').count()).toBe(0);
    await hand.slip.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => hand.slip.locator('[part="placement"]').count()).toBe(1);
    expect(visit.faults).toEqual([]);
    await visit.leave();
  });

  it('finds the slip as it was after a reload, artwork and all', async () => {
    const visit = await rig.visit('/', { widthPx: 1280, heightPx: 900 });
    const hand = new SlipHand(visit.page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 7);
    await hand.addArtwork(demoArtwork('hey-yard-shadow.png'));
    const total = await hand.answer('total');
    const value = await visit.page.evaluate(
      () => (document.querySelector('platen-order') as unknown as { value: string }).value,
    );
    await visit.page.reload();
    expect(await hand.answer('total')).toBe(total);
    expect(
      await visit.page.evaluate(
        () => (document.querySelector('platen-order') as unknown as { value: string }).value,
      ),
    ).toBe(value);
    expect(visit.faults).toEqual([]);
    await visit.leave();
  });
});

describe('with the keyboard alone', () => {
  it.each(ITEMS)('$item', async ({ item, color, counts, file, finish, method }) => {
    const visit = await rig.visit('/', { widthPx: 1280, heightPx: 900 });
    const { page } = visit;
    const hand = new SlipHand(page);
    await hand.slip.getByRole('radio', { name: item, exact: true }).first().waitFor();

    /** Tabs until what has the focus carries the wanted name; fails when the page's end comes first. */
    const tabTo = async (name: string | RegExp): Promise<void> => {
      for (let presses = 0; presses < 160; presses++) {
        const focused = await page.evaluate(() => {
          let element: Element | null = document.activeElement;
          while (element?.shadowRoot?.activeElement) element = element.shadowRoot.activeElement;
          if (!element) return { name: '', seen: true };
          const labels = [...((element as HTMLInputElement).labels ?? [])].map(
            (label) => label.textContent ?? '',
          );
          const box = element.getBoundingClientRect();
          return {
            name: (element.getAttribute('aria-label') ?? (labels.join(' ') || element.textContent) ?? '')
              .replace(/\s+/g, ' ')
              .trim(),
            seen: box.bottom > 0 && box.top < innerHeight,
          };
        });
        // what grew above the focus may have pushed it away; the next Tab must bring it back
        if (presses > 0) expect(focused.seen, `focus on "${focused.name}" is out of sight`).toBe(true);
        if (typeof name === 'string' ? focused.name.startsWith(name) : name.test(focused.name)) return;
        await page.keyboard.press('Tab');
      }
      throw new Error(`Tab never came to ${name}`);
    };
    /** In a radio group the arrow keys choose. */
    const arrowTo = async (group: string, name: string): Promise<void> => {
      const radio = hand.slip
        .getByRole('group', { name: group })
        .getByRole('radio', { name: new RegExp(`^${name}`) });
      for (let presses = 0; presses < 12 && !(await radio.isChecked()); presses++)
        await page.keyboard.press('ArrowDown');
      expect(await radio.isChecked()).toBe(true);
    };

    await tabTo('Everyday cotton tee');
    await page.keyboard.press('Space');
    await arrowTo('Item', item);
    await tabTo(/White|Stone/);
    await arrowTo('Color', color);
    for (const [size, count] of Object.entries(counts)) {
      await tabTo(size);
      await page.keyboard.press('Control+A');
      await page.keyboard.type(String(count));
    }
    await tabTo('Add artwork');
    const chooser = page.waitForEvent('filechooser');
    await page.keyboard.press('Enter');
    await (await chooser).setFiles(demoArtwork(file));
    await hand.slip.locator('[part="placement"]').waitFor();
    await tabTo('Standard');
    await arrowTo('Finish', finish);
    expect(await hand.answer('method')).toBe(method);
    await hand.fresh();
    await tabTo('To the order');
    await page.keyboard.press('Enter');
    await tabTo('Name');
    await page.keyboard.type('Bo Kettleby');
    await page.keyboard.press('Tab');
    await page.keyboard.type('bo@kettle.example');
    await hand.slip.locator('[part="order"] img').first().waitFor();
    await tabTo(/looked at the proof/);
    await page.keyboard.press('Space');
    await hand.fresh();
    await tabTo(/^Order for/);
    await page.keyboard.press('Enter');
    await hand.slip.locator('.stamp').waitFor();
    expect(await hand.slip.locator('.stamp').innerText()).toMatch(/^Order \S+/);
    expect(visit.faults).toEqual([]);
    await visit.leave();
  });
});
