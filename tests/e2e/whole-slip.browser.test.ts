/** Everything a customer does by mouse between an empty slip and an order of three items. */
import type { Locator } from 'playwright';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { demoArtwork, SlipPage } from './slip-page.ts';
import { draftOn, placementOn, valueOn } from './slip-value.ts';
import { startTestSite, type TestSite } from './test-site.ts';

let site: TestSite;
beforeAll(async () => {
  site = await startTestSite();
});
afterAll(() => site?.close());

/** "$1,234.50" in cents. */
const cents = (text: string): number =>
  Math.round(Number(/-?[\d,]+\.\d\d/.exec(text)?.[0].replace(/,/g, '')) * 100);
const centsMore = (text: string): number => cents(text) * (text.includes('-') ? -1 : 1);

it('a tee, a cap and a mug on one slip, from an empty page to three proofs and an order', async () => {
  const visit = await site.visit('/', { widthPx: 1280, heightPx: 900 });
  const { page, context } = visit;
  await context.grantPermissions(['clipboard-read', 'clipboard-write']);
  const hand = new SlipPage(page);
  const { slip } = hand;
  const button = (name: string | RegExp, within: Locator = slip): Locator =>
    within.getByRole('button', { name, exact: typeof name === 'string' }).first();
  const placement = (n: number): Locator => slip.locator('[part="placement"]').nth(n);
  const field = (label: string): Locator => slip.getByLabel(label, { exact: true });
  const type = async (label: string, text: string): Promise<void> => {
    await field(label).fill(text);
    await field(label).blur();
  };

  // Swatches have names.
  await hand.pickItem('Everyday cotton tee');
  await hand.pickColor('Forest');
  expect(await slip.locator('[part="color"] .chosen').innerText()).toBe('Forest');

  // A block copied from a spreadsheet fills the grid; a cell that cannot be read is reported.
  await page.evaluate(() => navigator.clipboard.writeText('Size\tPieces\nS\t3\nM\t5\n2XL\t4\nXL\tmany'));
  await slip.getByRole('textbox', { name: /^XS( |$)/ }).focus();
  await page.keyboard.press('Control+V');
  await expect.poll(() => slip.locator('[part="sizes"] .chosen').innerText()).toBe('12 pieces');
  expect(await slip.locator('[part="sizes"]').innerText()).toContain('Row 5, column 2: “many” was ignored');
  expect((await draftOn(page)).lines[0]!.counts).toEqual([
    { size: 's', count: 3 },
    { size: 'm', count: 5 },
    { size: '2xl', count: 4 },
  ]);

  // Two artworks on four faces: a file, the same file again, a copy, and another file.
  await hand.addArtwork(demoArtwork('kettle-roundel.png'));
  await hand.fresh();
  await slip.getByRole('radio', { name: 'Left chest', exact: true }).check();
  await button('Use kettle-roundel.png again').click();
  await button('Copy to Back').click();
  await slip.getByRole('radio', { name: 'Left sleeve', exact: true }).check();
  await hand.addArtwork(demoArtwork('roundel-white-box.jpg'));
  await hand.fresh();
  const faces = (await draftOn(page)).lines[0]!.placements;
  expect(faces.map((one) => one.face)).toEqual(['front', 'left-chest', 'back', 'sleeve']);
  expect(new Set(faces.map((one) => one.artwork)).size).toBe(2);

  // A finding offers a remedy with a picture before and after; it is applied.
  const sleeve = placement(3);
  const box = sleeve.locator('[part="finding"]', { hasText: 'stands in a filled box' });
  // A finding that arrives late is one line until it is pressed.
  const noticed = button(/thing noticed/, sleeve);
  await noticed.waitFor();
  if ((await noticed.getAttribute('aria-expanded')) === 'false') await noticed.click();
  await button('Remove the background', box).click();
  const pictures = box.locator('image');
  const address = (nth: number): Promise<string | null> => pictures.nth(nth).getAttribute('href');
  await expect.poll(async () => (await address(0)) !== (await address(1))).toBe(true);
  await button('Apply: Remove the background', box).click();
  await expect.poll(() => box.count()).toBe(0);
  expect(await sleeve.innerText()).toContain('Fixed: Remove the background');
  await hand.fresh();

  // Every change of a placement is one step to undo.
  await slip.getByRole('radio', { name: 'Full front', exact: true }).check();
  await button(/^Adjust: kettle-roundel\.png, Full front/).click();
  const states = [await valueOn(page)];
  const step = async (done: () => Promise<unknown>): Promise<void> => {
    await done();
    await expect.poll(() => valueOn(page)).not.toBe(states.at(-1));
    states.push(await valueOn(page));
  };
  await step(() => type('Width (in)', '3.5'));
  expect((await placementOn(page)).widthMm).toBe(88.9);
  await button('Millimeters').click();
  expect(await field('Width (mm)').inputValue()).toBe('88.9');
  await step(() => type('Width (mm)', '87.3'));
  await step(() => type('From center (mm)', '-12.34'));
  await step(() => type('From top (mm)', '150'));
  await step(() => type('Angle (°)', '33.333'));
  expect(await placementOn(page)).toMatchObject({ xMm: -12.34, yMm: 150, widthMm: 87.3, angleDeg: 33.33 });
  await field('Width (mm)').fill('wide');
  await field('Width (mm)').blur();
  expect(await field('Width (mm)').getAttribute('aria-invalid')).toBe('true');
  expect(await placement(0).innerText()).toContain('From 1 mm to 3,000 mm');
  expect(await valueOn(page)).toBe(states.at(-1));

  const art = slip.locator('.item[data-id="art-1"]');
  const middle = async (): Promise<{ x: number; y: number }> => {
    await art.scrollIntoViewIfNeeded();
    const at = (await art.boundingBox())!;
    return { x: at.x + at.width / 2, y: at.y + at.height / 2 };
  };
  await step(() => type('Angle (°)', '0'));
  // Page px per mm of the drawing, from the upright artwork's width.
  const scale = (await art.boundingBox())!.width / 87.3;
  // A drag to within 3 px of the center line snaps to it; distances are shown during the drag.
  await step(async () => {
    const from = await middle();
    await page.mouse.move(from.x, from.y);
    await page.mouse.down();
    await page.mouse.move(from.x + 40, from.y + 30, { steps: 4 });
    await page.mouse.move(from.x + 12.34 * scale + 3, from.y + 30, { steps: 4 });
    const shown = (await slip.locator('.tag.measured').allTextContents()).join(' | ');
    expect(shown).toMatch(/\d mm.*87\.3 mm wide/);
    await page.mouse.up();
  });
  expect((await placementOn(page)).xMm).toBe(0);
  // Escape cancels a drag.
  const from = await middle();
  await page.mouse.move(from.x, from.y);
  await page.mouse.down();
  await page.mouse.move(from.x + 60, from.y - 20, { steps: 4 });
  await page.keyboard.press('Escape');
  await page.mouse.up();
  expect(await valueOn(page)).toBe(states.at(-1));
  await step(async () => {
    const at = await middle();
    await page.mouse.move(at.x + 2, at.y);
    await page.mouse.move(at.x, at.y);
    await page.mouse.wheel(0, -200);
    await expect.poll(async () => (await placementOn(page)).widthMm).toBeGreaterThan(94);
    await page.waitForTimeout(600); // wheel turns within half a second are one step
  });
  await art.focus();
  for (const [key, axis, by] of [
    ['ArrowRight', 'xMm', 1],
    ['Shift+ArrowDown', 'yMm', 10],
    ['ArrowUp', 'yMm', -1],
  ] as const) {
    const before = (await placementOn(page))[axis];
    await step(() => page.keyboard.press(key));
    expect((await placementOn(page))[axis]).toBeCloseTo(before + by, 6);
  }
  await step(() => button('Upper chest').click());
  expect(await placementOn(page)).toMatchObject({ xMm: 0, yMm: 110, widthMm: 220, angleDeg: 0 });

  // Undo and redo of every step.
  for (const before of states.toReversed().slice(1)) {
    await button('Undo').click();
    expect(await valueOn(page)).toBe(before);
  }
  for (const after of states.slice(1)) {
    await button('Redo').click();
    expect(await valueOn(page)).toBe(after);
  }
  expect(await button('Redo').isDisabled()).toBe(true);

  // A second line takes a copy of the artwork; a third has its own.
  await button('Add another item').click();
  await hand.pickItem('Six-panel cap');
  await hand.count('One size', 5);
  await button('Everyday cotton tee').click();
  await button('Copy to Line 2: Six-panel cap').click();
  await button('Add another item').click();
  await hand.pickItem('Stoneware mug');
  await hand.count('330 ml', 4);
  await hand.addArtwork(demoArtwork('evening-hills.jpg'));
  await hand.fresh();
  const { lines } = await draftOn(page);
  expect(lines.map((one) => [one.blank, one.placements.map((each) => each.face).join()])).toEqual([
    ['cotton-tee', 'front,left-chest,back,sleeve'],
    ['cap', 'front-panel'],
    ['mug', 'wrap'],
  ]);
  expect(await hand.answer('method')).toBe('Direct to garment + White-toner transfer');

  // Finishes and count steps state beforehand what they change, and that is what happens.
  await button('Everyday cotton tee').click();
  const statedBy = async (row: Locator): Promise<{ total: number; day: string | null; hand: string }> => {
    const words = (await row.innerText()).replace(/\s+/g, ' ');
    return {
      total: cents(await hand.answer('total')) + centsMore(await row.locator('.delta').innerText()),
      day: words.includes('ready the same day') ? await hand.answer('ready-day') : null,
      hand: /(cannot be felt|barely felt|can be felt|a thick layer)/.exec(words)?.[0] ?? '',
    };
  };
  const expectAsStated = async (
    stated: Awaited<ReturnType<typeof statedBy>>,
    before: string,
  ): Promise<void> => {
    await expect.poll(() => hand.answer('total')).not.toBe(before);
    expect(cents(await hand.answer('total'))).toBe(stated.total);
    if (stated.day !== null) expect(await hand.answer('ready-day')).toBe(stated.day);
    expect(stated.hand).not.toBe('');
  };
  const soft = slip.locator('[part="finish"] .option', { hasText: 'Soft hand' });
  const atFinish = await statedBy(soft);
  const beforeFinish = await hand.answer('total');
  await hand.pickFinish('Soft hand');
  await expectAsStated(atFinish, beforeFinish);
  // Once chosen, it states the same hand.
  await expect.poll(() => soft.innerText()).toContain(atFinish.hand);
  await expect.poll(() => soft.locator('.delta').innerText()).toBe('');
  const next = slip.locator('[part="ladder"] .step').first();
  expect(await next.innerText()).toMatch(/^24 pieces/);
  const atStep = await statedBy(next);
  const beforeStep = await hand.answer('total');
  const bar = slip.locator('[part="ladder"] .rung', { hasText: /^\s*24/ });
  const promisedUnit = await bar.locator('span').last().innerText();
  await bar.click();
  await expectAsStated(atStep, beforeStep);
  expect(await slip.locator('.rung[aria-pressed="true"]').innerText()).toContain(promisedUnit);
  await expect.poll(() => slip.locator('[part="sizes"] .chosen').innerText()).toBe('24 pieces');
  // Expanded, every count is a step, smaller ones too.
  const bars = slip.locator('[part="ladder"] .rung');
  const steps = slip.locator('[part="ladder"] .step');
  expect(await steps.count()).toBe(2);
  await button('What each count changes').click();
  await expect.poll(() => steps.locator('.delta:not(:empty)').count()).toBe((await bars.count()) - 1);
  for (const step of await steps.all()) expect((await statedBy(step)).hand).not.toBe('');
  const fewer = steps.filter({ hasText: /^\s*6 pieces/ });
  const atFewer = await statedBy(fewer);
  const beforeFewer = await hand.answer('total');
  expect(atFewer.total).toBeLessThan(cents(beforeFewer));
  await bars.filter({ hasText: /^\s*6\b/ }).click();
  await expectAsStated(atFewer, beforeFewer);
  await button('What each count changes').click();
  await expect.poll(() => steps.count()).toBe(2);

  // The calendar offers days from the promised one on.
  const ready = await hand.answer('ready-day');
  await button('Choose a day').click();
  await slip.locator('.days button').first().waitFor();
  const first = slip.locator('.days button.first');
  for (let month = 0; month < 3 && (await first.count()) === 0; month++) await button('Month after').click();
  const days = await slip.locator('.days button').evaluateAll((all) =>
    all.map((one) => ({
      first: one.classList.contains('first'),
      off: (one as HTMLButtonElement).disabled,
    })),
  );
  const at = days.findIndex((day) => day.first);
  expect(at).toBeGreaterThanOrEqual(0);
  expect(days.map((day) => day.off)).toEqual(days.map((_, index) => index < at));
  await first.click();
  expect(await slip.locator('[part="needed-by"] .chosen').innerText()).toBe(ready);
  expect(await hand.answer('ready-day')).toBe(ready);

  // Saving and loading change nothing, however often.
  const value = await valueOn(page);
  expect(
    await page.evaluate(() => {
      const element = document.querySelector('platen-order') as unknown as { value: string; link: string };
      for (let n = 0; n < 20; n++) element.value = n % 2 ? element.link : element.value;
      return element.value;
    }),
  ).toBe(value);

  // The link opens the slip in another browser.
  await button('Copy a link to this slip').click();
  await button('Link copied').waitFor();
  const total = await hand.answer('total');
  const link = new URL(await page.evaluate(() => navigator.clipboard.readText()));
  const other = await site.visit(`${link.pathname}${link.hash}`, { widthPx: 390, heightPx: 844 });
  expect(await new SlipPage(other.page).answer('total')).toBe(total);
  expect(await valueOn(other.page)).toBe(value);
  expect(other.faults).toEqual([]);
  await other.leave();

  // A tab that crashes loses nothing.
  const crashed = page.waitForEvent('crash');
  await page.goto('chrome://crash').catch(() => {});
  await crashed;
  await page.close();
  const again = await context.newPage();
  const errors: string[] = [];
  again.on('pageerror', (error) => errors.push(error.message));
  await again.goto(site.server.url);
  const after = new SlipPage(again);
  expect(await after.answer('total')).toBe(total);
  expect(await valueOn(again)).toBe(value);

  // What was shown is ordered.
  const number = await after.order('Ada Quillfeather', 'ada@quill.example');
  await after.slip.getByRole('link').click();
  await again.locator('platen-order .stamp').waitFor();
  const status = await again.locator('platen-order .root').innerText();
  for (const text of [number, total, '6 × Everyday cotton tee', '5 × Six-panel cap', '4 × Stoneware mug'])
    expect(status).toContain(text);
  expect([...errors, ...visit.faults]).toEqual([]);
  await visit.leave();
});
