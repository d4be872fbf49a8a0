/** A whole order by mouse, by touch and by keyboard. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoArtwork, SlipPage } from './slip-page.ts';
import { draftOn, placementOn } from './slip-value.ts';
import { accessibilityFaults, startTestSite, type TestSite } from './test-site.ts';

let site: TestSite;
beforeAll(async () => {
  site = await startTestSite();
});
afterAll(() => site?.close());

/** Expands the reasons and checks them with axe. */
async function checkReasons(hand: SlipPage): Promise<void> {
  await hand.slip.getByRole('button', { name: 'Why', exact: true }).click();
  await hand.slip.locator('[part="why"] li').first().waitFor();
  expect(await accessibilityFaults(hand.page, 'platen-order')).toEqual([]);
}

it('by mouse: a mug, from the first click to the status page of the order', async () => {
  const visit = await site.visit('/', { widthPx: 1280, heightPx: 900 });
  const hand = new SlipPage(visit.page);
  await hand.pickItem('Stoneware mug');
  await hand.pickColor('White');
  await hand.count('330 ml', 4);
  await hand.addArtwork(demoArtwork('evening-hills.jpg'));
  await hand.pickFinish('Standard');

  expect(await hand.answer('method')).toBe('White-toner transfer');
  const total = await hand.answer('total');
  expect(await hand.answer('unit-price')).toMatch(/^\$\d+\.\d\d$/);
  expect(total).toMatch(/^\$\d+\.\d\d$/);
  expect(await hand.answer('ready-day')).toMatch(/\d/);
  await checkReasons(hand);

  const number = await hand.order('Ada Quillfeather', 'ada@quill.example');
  expect(number).toMatch(/\S{4,}/);
  await hand.slip.getByRole('link').click();
  await visit.page.locator('platen-order .stamp').waitFor();
  expect(await visit.page.locator('platen-order .stamp').innerText()).toContain(number);
  const amounts = (await hand.slip.locator('.sum tr > :last-child').allInnerTexts())
    .filter((text) => text.startsWith('$'))
    .map((text) => Math.round(Number(text.slice(1)) * 100));
  expect(amounts.slice(0, -1).reduce((sum, part) => sum + part, 0)).toBe(amounts.at(-1));
  expect(await hand.slip.locator('.sum .grand').innerText()).toContain(total);
  expect(visit.faults).toEqual([]);
  await visit.leave();
});

it('by touch on a phone: a cap', async () => {
  const visit = await site.visit('/', { widthPx: 390, heightPx: 844, touch: true, pixelRatio: 3 });
  const { page } = visit;
  const hand = new SlipPage(page);
  const { slip } = hand;
  const tap = (name: string | RegExp): Promise<void> =>
    slip
      .getByRole('button', { name, exact: typeof name === 'string' })
      .first()
      .tap();
  await slip.getByRole('radio', { name: 'Six-panel cap', exact: true }).tap();
  await slip.getByRole('radio', { name: 'Brick', exact: true }).tap();
  await hand.count('One size', 5);
  const chooser = page.waitForEvent('filechooser');
  await tap('Add artwork');
  await (await chooser).setFiles(demoArtwork('kettle-roundel.svg'));
  expect(await hand.answer('method')).toBe('White-toner transfer');
  expect((await draftOn(page)).lines[0]).toMatchObject({ blank: 'cap', color: 'brick' });

  // The next count step, by its bar.
  await slip.locator('[part="ladder"] .rung').nth(3).tap();
  await hand.fresh();
  await tap('Undo');
  await tap('Continue to order');
  await slip.getByLabel('Name', { exact: true }).fill('Cy Capman');
  await slip.getByLabel('Email').fill('cy@capman.example');
  await slip.locator('[part="order"] img').first().waitFor();
  await slip.getByRole('checkbox', { name: /I have checked the proof/ }).tap();
  await hand.fresh();
  await tap(/^Order for/);
  await slip.locator('.stamp').waitFor();
  expect(await slip.locator('.root').innerText()).toContain('5 × Six-panel cap, Brick');
  expect(visit.faults).toEqual([]);
  await visit.leave();
});

it('by keyboard alone: a tee, its artwork moved on the drawing, its day chosen in the calendar', async () => {
  const visit = await site.visit('/', { widthPx: 1280, heightPx: 900 });
  const { page } = visit;
  const hand = new SlipPage(page);
  const { slip } = hand;
  const item = 'Everyday cotton tee';
  await slip.getByRole('radio', { name: item, exact: true }).first().waitFor();

  /** Presses Tab until the focused element has the given name; fails at the end of the page. */
  const tabTo = async (name: string | RegExp, key = 'Tab'): Promise<void> => {
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
      // Content that grew above the focus may have pushed it away; the next Tab must scroll it back into view.
      if (presses > 0) expect(focused.seen, `focus on "${focused.name}" is out of sight`).toBe(true);
      if (typeof name === 'string' ? focused.name.startsWith(name) : name.test(focused.name)) return;
      await page.keyboard.press(key);
    }
    throw new Error(`${key} never reached ${name}`);
  };
  /** Chooses a radio button by arrow keys. */
  const arrowTo = async (group: string, name: string): Promise<void> => {
    const radio = slip
      .getByRole('group', { name: group })
      .getByRole('radio', { name: new RegExp(`^${name}`) });
    for (let presses = 0; presses < 12 && !(await radio.isChecked()); presses++)
      await page.keyboard.press('ArrowDown');
    expect(await radio.isChecked()).toBe(true);
  };

  await tabTo(item);
  await page.keyboard.press('Space');
  await tabTo(/White/);
  await arrowTo('Color', 'Navy');
  for (const [size, count] of [
    ['M', '2'],
    ['L', '1'],
  ] as const) {
    await tabTo(size);
    await page.keyboard.press('Control+A');
    await page.keyboard.type(count);
  }
  await tabTo('Add artwork');
  const chooser = page.waitForEvent('filechooser');
  await page.keyboard.press('Enter');
  await (await chooser).setFiles(demoArtwork('kettle-roundel.png'));
  await slip.locator('[part="placement"]').waitFor();
  await hand.fresh();

  // What a drag does, by keys; then undone by keys.
  const before = await placementOn(page);
  await tabTo(/^kettle-roundel\.png on Full front/, 'Shift+Tab');
  await page.keyboard.press('ArrowRight');
  await page.keyboard.press('Shift+ArrowDown');
  await page.keyboard.press('-');
  await page.keyboard.press(']');
  const after = await placementOn(page);
  expect(after.xMm - before.xMm).toBeCloseTo(25.4 / 16, 1);
  expect(after.yMm - before.yMm).toBeCloseTo(25.4 / 2, 1);
  expect(after.widthMm - before.widthMm).toBeCloseTo(-25.4 / 4, 1);
  expect(after.angleDeg).toBe(1);
  await page.keyboard.press('Delete');
  await expect.poll(() => slip.locator('[part="placement"]').count()).toBe(0);
  await tabTo('Undo');
  await page.keyboard.press('Enter');
  expect(await placementOn(page)).toEqual(after);

  await tabTo('Standard');
  await arrowTo('Finish', 'Soft hand');
  expect(await hand.answer('method')).toBe('Direct to garment');
  const ready = await hand.answer('ready-day');
  await tabTo('Choose a day');
  await page.keyboard.press('Enter');
  const first = slip.locator('.days button.first');
  await slip.locator('.days button').first().waitFor();
  if ((await first.count()) === 0) {
    await tabTo('Month after');
    await page.keyboard.press('Enter');
  }
  await tabTo((await first.getAttribute('aria-label'))!);
  await page.keyboard.press('Space');
  expect(await slip.locator('[part="needed-by"] .chosen').innerText()).toBe(ready);

  await hand.fresh();
  await tabTo('Continue to order');
  await page.keyboard.press('Enter');
  await tabTo('Name');
  await page.keyboard.type('Bo Kettleby');
  await page.keyboard.press('Tab');
  await page.keyboard.type('bo@kettle.example');
  await slip.locator('[part="order"] img').first().waitFor();
  await tabTo(/checked the proof/);
  await page.keyboard.press('Space');
  await hand.fresh();
  await tabTo(/^Order for/);
  await page.keyboard.press('Enter');
  await slip.locator('.stamp').waitFor();
  expect(await slip.locator('.stamp').innerText()).toMatch(/^Order \S+/);
  await expect.poll(() => slip.locator('.stamp').evaluate((stamp) => stamp.matches(':focus'))).toBe(true);
  expect(visit.faults).toEqual([]);
  await visit.leave();
});
