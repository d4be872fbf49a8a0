/** WCAG 2.2 AA in every state of the slip: screen readers, keyboard, contrast, small screens. */
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  bringTo,
  type KnownArtworks,
  type Scene,
  SLIP_STATES,
  type SlipState,
  sendArtworks,
} from './slip-states.ts';
import { accessibilityFaults, startTestSite, type TestSite, type Visitor } from './test-site.ts';

let site: TestSite;
let art: KnownArtworks;
beforeAll(async () => {
  site = await startTestSite();
  art = await sendArtworks(site.server.url);
});
afterAll(() => site?.close());

const state = (name: string): SlipState => {
  const found = SLIP_STATES.find((one) => one.name === name);
  if (!found) throw new Error(`there is no state "${name}"`);
  return found;
};

const at = async (name: string, visitor: Visitor = {}): Promise<Scene> =>
  bringTo(await site.page(visitor), site.server.url, state(name), art);

const setLanguageAndTheme = (page: Page, lang: string, theme: string): Promise<void> =>
  page.evaluate(
    async ({ lang, theme }) => {
      const slip = document.querySelector('platen-order') as HTMLElement & {
        updateComplete: Promise<unknown>;
      };
      document.documentElement.dataset['theme'] = theme;
      slip.setAttribute('theme', theme);
      slip.setAttribute('lang', lang);
      const root = () => slip.shadowRoot?.querySelector('.root')?.getAttribute('lang');
      while (root() !== lang) await new Promise((done) => setTimeout(done, 30));
      await slip.updateComplete;
    },
    { lang, theme },
  );

const CONTRAST = ['color-contrast'];
/** Elements that can be clicked or focused, in the slip and its drawing. */
const CONTROLS = 'button, input:not([type="file"]), select, textarea, a[href]';

// Each in a page of its own: while one is checked the next is opened.
describe.concurrent('every state', () => {
  it.each(SLIP_STATES.map((one) => one.name))('%s: axe finds nothing', async (name) => {
    // Roles, names and structure are checked once, contrast in every look. Chromium forces the colors of everything only
    // in a page that was opened with forced colors.
    const { page } = await at(name, { forcedColors: true });
    expect(await accessibilityFaults(page, 'platen-order', CONTRAST), 'forced colors').toEqual([]);
    await page.emulateMedia({ forcedColors: 'none' });
    await setLanguageAndTheme(page, 'ar', 'dark');
    expect(await accessibilityFaults(page, 'platen-order'), 'ar, dark').toEqual([]);
    await setLanguageAndTheme(page, 'en', 'light');
    if (name === 'opened') expect(await accessibilityFaults(page), 'the page, en, light').toEqual([]);
    else expect(await accessibilityFaults(page, 'platen-order', CONTRAST), 'en, light').toEqual([]);

    // WCAG 2.5.8: 24 px; a radio or checkbox is pressed by its label, and links within a sentence are exempt.
    const small = await page.evaluate((controls) => {
      const slip = document.querySelector('platen-order')!.shadowRoot!;
      const stage = [...slip.querySelectorAll('*')].flatMap((one) =>
        one.shadowRoot ? [one.shadowRoot] : [],
      );
      return [slip, ...stage].flatMap((root) =>
        [...root.querySelectorAll<HTMLElement>(controls)]
          .filter((one) => one.checkVisibility())
          .flatMap((one) => {
            const { width, height } = (one.closest('label') ?? one).getBoundingClientRect();
            const reach = one.matches('.item') ? 24 : 0; // an artwork's target is widened by a pseudo-element
            return Math.max(width, reach) < 24 || Math.max(height, reach) < 24
              ? [`${one.outerHTML.slice(0, 80)} is ${width} x ${height}`]
              : [];
          }),
      );
    }, CONTROLS);
    expect(small).toEqual([]);
    await page.close();
  });
});

describe('contrast', () => {
  // WCAG 2.2, 1.4.3 (text: 4.5) and 1.4.11 (controls and their states: 3); relative luminance as defined there.
  const TEXT: readonly (readonly [string, string])[] = [
    ['--p-ink', '--p-paper'],
    ['--p-ink', '--p-field'],
    ['--p-ink', '--p-desk'],
    ['--p-ink', '--p-sheet'],
    ['--p-ink-soft', '--p-paper'],
    ['--p-ink-soft', '--p-field'],
    ['--p-ink-soft', '--p-sheet'],
    ['--p-accent', '--p-paper'],
    ['--p-accent', '--p-desk'],
    ['--p-accent-ink', '--p-accent'],
    ['--p-stop', '--p-paper'],
    ['--p-warn', '--p-paper'],
    ['--p-good', '--p-paper'],
  ];
  const MARKS: readonly (readonly [string, string])[] = [
    ['--p-field-edge', '--p-paper'],
    ['--p-field-edge', '--p-field'],
    ['--p-focus', '--p-paper'],
    ['--p-focus', '--p-desk'],
    ['--p-focus', '--p-sheet'],
    ['--p-accent', '--p-field'],
    ['--p-good', '--p-field'],
    ['--p-stop', '--p-field'],
  ];
  const luminance = (channels: readonly number[]): number => {
    const [r = 0, g = 0, b = 0] = channels.map((value) => {
      const share = value / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const contrast = (one: readonly number[], other: readonly number[]): number => {
    const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
    return (light + 0.05) / (dark + 0.05);
  };

  it('of known pairs is as published: black on white 21, #767676 on white 4.54', () => {
    expect(contrast([0, 0, 0], [255, 255, 255])).toBeCloseTo(21, 5);
    expect(contrast([118, 118, 118], [255, 255, 255])).toBeCloseTo(4.54, 2);
  });

  it.each(['light', 'dark'])('of every pair of colors suffices, %s', async (theme) => {
    const { page } = await at('opened');
    await setLanguageAndTheme(page, 'en', theme);
    const tokens = [...new Set([...TEXT, ...MARKS].flat())];
    const colors = await page.evaluate((names) => {
      // The slip's own colors, not those that the shop's page sets.
      const slip = document.querySelector<HTMLElement>('platen-order')!;
      slip.style.setProperty('--platen-desk', 'initial');
      const canvas = document.createElement('canvas').getContext('2d')!;
      const probe = slip.shadowRoot!.querySelector('.root')!.appendChild(document.createElement('i'));
      return Object.fromEntries(
        names.map((name) => {
          probe.style.color = `var(${name})`;
          canvas.fillStyle = getComputedStyle(probe).color;
          canvas.fillRect(0, 0, 1, 1);
          return [name, [...canvas.getImageData(0, 0, 1, 1).data].slice(0, 3)];
        }),
      );
    }, tokens);
    const low = (pairs: typeof TEXT, least: number): string[] =>
      pairs.flatMap(([ink, ground]) => {
        const found = contrast(colors[ink]!, colors[ground]!);
        return found < least ? [`${ink} on ${ground}: ${found.toFixed(2)} of ${least}`] : [];
      });
    expect(low(TEXT, 4.5)).toEqual([]);
    expect(low(MARKS, 3)).toEqual([]);
    await page.close();
  });
});

describe('the keyboard', () => {
  it.each([
    ['two-artworks', 360],
    ['why', 360],
    ['refusal', 360],
    ['calendar', 1280],
    ['ordering', 768],
  ])(
    'in %s at %i px: what has the focus is visible, never under the foot (2.4.11)',
    async (name, widthPx) => {
      const { page } = await at(name, { widthPx, heightPx: 780 });
      const hidden: string[] = [];
      let stops = 0;
      await page.evaluate(() => document.querySelector<HTMLElement>('nav a')?.focus());
      for (; stops < 140; stops++) {
        await page.keyboard.press('Tab');
        const found = await page.evaluate(() => {
          let focused = document.activeElement;
          while (focused?.shadowRoot?.activeElement) focused = focused.shadowRoot.activeElement;
          if (!focused?.getRootNode() || focused.getRootNode() === document) return null;
          const foot = document.querySelector('platen-order')!.shadowRoot!.querySelector('.foot');
          const box = (focused.closest('label') ?? focused).getBoundingClientRect();
          const under = foot?.contains(focused)
            ? 0
            : Math.min(box.bottom, innerHeight) - (foot?.getBoundingClientRect().top ?? innerHeight);
          const ring = getComputedStyle(
            focused.matches('.pick input, .swatch input') ? focused.nextElementSibling! : focused,
          );
          return {
            text: focused.outerHTML.slice(0, 90),
            out: box.bottom < 1 || box.top > innerHeight - 1,
            // The drawing is beside the slip, not under its foot.
            covered: !focused.closest('.surface, .views, .drawing') && under > Math.max(0, box.height - 24),
            ring: ring.outlineStyle !== 'none' && Number.parseFloat(ring.outlineWidth) >= 2,
          };
        });
        if (found === null && stops > 20) break;
        if (found && (found.out || found.covered || !found.ring)) hidden.push(JSON.stringify(found));
      }
      expect(stops).toBeGreaterThan(15);
      expect(hidden).toEqual([]);
      await page.close();
    },
  );

  it('goes to the first faulty field; each has a name and a description (3.3.1, 3.3.3)', async () => {
    const { page, slip } = await at('ordering-faults');
    const name = slip.locator('input[name="name"]');
    await expect.poll(() => name.evaluate((one) => one.matches(':focus'))).toBe(true);
    for (const field of ['name', 'email', 'approved']) {
      const input = slip.locator(`input[name="${field}"]`);
      expect(await input.getAttribute('aria-invalid')).toBe('true');
      const said = await input.getAttribute('aria-describedby');
      expect(await slip.locator(`[id="${said}"]`).innerText()).toMatch(/\w{3,}/);
    }
    // The fault is the field's description and no part of its name.
    expect(await slip.getByLabel('Name', { exact: true }).getAttribute('name')).toBe('name');
    await name.fill('Ada Quillfeather');
    expect(await name.getAttribute('aria-invalid')).toBe('false');
    expect(await slip.locator('#fault-name').count()).toBe(0);
    // What was proofed is ordered: undo keys do not change the slip behind the order.
    const before = await slip.evaluate((one) => (one as HTMLElement & { value: string }).value);
    await slip.locator('[part="order"] input[name="email"]').press('Control+z');
    await slip.locator('[part="order"] .acts button').press('Control+z');
    expect(await slip.evaluate((one) => (one as HTMLElement & { value: string }).value)).toBe(before);
    await slip.evaluate((one) => one.toggleAttribute('disabled', true));
    await expect.poll(() => slip.locator('.slip :is(input, textarea, .main):enabled').count()).toBe(0);
    await page.close();
  });

  it('keeps its place when lines and artworks are removed, and never leaves the slip', async () => {
    const { page, slip } = await at('several-lines');
    const place = () =>
      page.evaluate(() => {
        let focused = document.activeElement;
        while (focused?.shadowRoot?.activeElement) focused = focused.shadowRoot.activeElement;
        if (!focused || focused === document.body) return 'nowhere';
        const { top, bottom } = (focused.closest('label') ?? focused).getBoundingClientRect();
        const name = focused.getAttribute('aria-label') ?? focused.closest('label')?.innerText;
        return bottom < 0 || top > innerHeight ? 'out of sight' : (name ?? focused.textContent ?? '').trim();
      });
    const press = async (button: string | RegExp, key = 'Enter'): Promise<void> => {
      await slip.getByRole('button', { name: button }).first().press(key);
      await slip.evaluate(async (one) => {
        const { updateComplete } = one as HTMLElement & { readonly updateComplete: Promise<boolean> };
        await updateComplete;
        await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
      });
      await page.waitForTimeout(60);
    };
    await press('Stoneware mug');
    expect(await place()).toBe('Stoneware mug'); // though the line above it collapsed
    await press('Copy this line');
    expect(await place()).toBe('Stoneware mug');
    await press('Remove this line');
    expect(await place()).not.toMatch(/nowhere|out of sight/);
    await press('Add another item');
    expect(await place()).toBe('Everyday cotton tee');
    await press('Remove this line');
    expect(await place()).not.toMatch(/nowhere|out of sight/);
    await press(/^Remove: /);
    expect(await place()).toBe('Add artwork');
    for (let presses = 0; presses < 12 && (await place()).startsWith('Undo'); presses++) await press('Undo');
    await press('Undo');
    expect(await place()).not.toMatch(/nowhere|out of sight/);
    await page.close();
  });

  it('reads of an invalid count beside its field until it is corrected', async () => {
    const { page, slip } = await at('size-fault');
    const field = slip.locator('[part~="sizes"] [aria-invalid="true"]');
    const said = await field.getAttribute('aria-describedby');
    expect(await slip.locator(`[id="${said}"]`).innerText()).toBe('A whole number up to 10,000');
    await slip.locator('[part~="sizes"] input').nth(2).fill('١٢');
    expect(await slip.locator(`[id="${said}"]`).innerText()).toBe('');
    await expect.poll(() => slip.locator('[part~="sizes"] .chosen').innerText()).toBe('18 pieces');
    await page.close();
  });
});

describe('the live region', () => {
  it('announces price and day once for a burst of changes, and nothing when they stay the same', async () => {
    const { page, slip } = await at('ladder');
    // The first answer is not announced.
    await page.waitForTimeout(1000);
    expect(await slip.locator('.root > [role="status"]').textContent()).toBe('');
    await page.evaluate(() => {
      const region = document
        .querySelector('platen-order')!
        .shadowRoot!.querySelector('.root > [role="status"]')!;
      const said: string[] = [];
      (window as unknown as { said: string[] }).said = said;
      new MutationObserver(() => said.push(region.textContent ?? '')).observe(region, {
        childList: true,
        characterData: true,
        subtree: true,
      });
    });
    const said = () => page.evaluate(() => (window as unknown as { said: string[] }).said);
    // In one task of the page, so that a busy machine cannot spread the burst over several messages.
    await slip
      .locator('[part~="sizes"] input')
      .nth(3)
      .evaluate((field: HTMLInputElement) => {
        for (const text of ['1', '12', '120']) {
          field.value = text;
          field.dispatchEvent(new InputEvent('input', { bubbles: true, composed: true }));
        }
      });
    await expect.poll(said).toHaveLength(1);
    expect((await said())[0]).toMatch(
      /^\$\d+\.\d\d each, \$[\d,]+\.\d\d in total, ready \w{3}, \w{3} \d+( \d things? noticed)?$/,
    );
    // An answer with the same price and day is not announced.
    await slip.locator('.swatch input').nth(5).check();
    await page.waitForTimeout(1800);
    const after = await said();
    expect(after.length - 1).toBeLessThanOrEqual(new Set(after).size - 1);
    await page.close();
  });
});

describe('other ways of reading', () => {
  it.each(['opened', 'two-artworks', 'several-lines', 'calendar', 'why', 'ordering', 'placed', 'refusal'])(
    '%s reflows at 320 px without scrolling sideways, in English, German and Arabic (1.4.10)',
    async (name) => {
      const { page } = await at(name, { widthPx: 320, heightPx: 256 });
      for (const lang of ['en', 'de', 'ar']) {
        await setLanguageAndTheme(page, lang, 'light');
        const wide = await page.evaluate(() => {
          const slip = document.querySelector('platen-order')!.shadowRoot!;
          const over = [...slip.querySelectorAll<HTMLElement>('.slip *')].filter((one) => {
            const box = one.getBoundingClientRect();
            return box.width > 1 && (box.right > innerWidth + 1 || box.left < -1);
          });
          return {
            page: document.documentElement.scrollWidth,
            over: over.map((one) => one.outerHTML.slice(0, 80)),
            foot: getComputedStyle(slip.querySelector('.foot') ?? document.body).position,
          };
        });
        expect(wide.over, lang).toEqual([]);
        expect(wide.page, lang).toBeLessThanOrEqual(320);
        expect(wide.foot, 'a sticky foot would cover a screen this low').toBe('static');
      }
      await page.close();
    },
  );

  it('cuts no word off with wider spacing (1.4.12)', async () => {
    const { page } = await at('two-artworks', { widthPx: 360, heightPx: 780 });
    const cut = await page.evaluate(() => {
      const root = document.querySelector('platen-order')!.shadowRoot!;
      const sheet = new CSSStyleSheet();
      // The values of the criterion.
      sheet.replaceSync(
        '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }',
      );
      root.adoptedStyleSheets = [...root.adoptedStyleSheets, sheet];
      return [...root.querySelectorAll<HTMLElement>('.slip *')]
        .filter((one) => one.checkVisibility() && one.children.length === 0 && !one.closest('.sr, svg'))
        .filter((one) => {
          const clips =
            getComputedStyle(one).overflow !== 'visible' && !one.matches('input, textarea, select');
          return clips && (one.scrollWidth > one.clientWidth + 1 || one.scrollHeight > one.clientHeight + 1);
        })
        .map((one) => one.outerHTML.slice(0, 90));
    });
    expect(cut).toEqual([]);
    await page.close();
  });

  it('has no transitions or animations with reduced motion', async () => {
    const { page } = await at('why', { reducedMotion: true });
    const moving = await page.evaluate(() => {
      const root = document.querySelector('platen-order')!.shadowRoot!;
      return [...root.querySelectorAll('*')].filter((one) => {
        const { transitionDuration, animationName } = getComputedStyle(one);
        return transitionDuration !== '0s' || animationName !== 'none';
      }).length;
    });
    expect(moving).toBe(0);
    await page.close();
  });

  it('gives everything that can be operated a role and a name', async () => {
    const { page, slip } = await at('artwork-placed');
    const tree = await slip.ariaSnapshot();
    expect(tree).toMatch(/region "Line 1: Everyday cotton tee"/);
    for (const group of ['Item', 'Color', 'Sizes', 'Artwork', 'Finish', 'Delivery', 'Needed by'])
      expect(tree).toMatch(new RegExp(`group "${group}`));
    const nameless = tree
      .split('\n')
      .filter((line) => /^\s*- (button|radio|checkbox|textbox|combobox|link|img)\b(?! ")/.test(line));
    expect(nameless).toEqual([]);
    // The fields of a print are grouped under its name.
    expect(tree).toMatch(/group "kettle-roundel\.png, Full front"/);
    // A fault goes when the drawing changes the field's value.
    const width = slip.getByLabel(/^Width/);
    await width.fill('broad');
    await width.press('Tab');
    expect(await width.getAttribute('aria-invalid')).toBe('true');
    await slip.locator('.item').press('+');
    await expect.poll(() => width.getAttribute('aria-invalid')).toBe('false');
    expect(await slip.locator('[part="placement"] [data-faults]').innerText()).toBe('');
    // After removal by key, the place for the next artwork has the focus.
    await slip.locator('.item').press('Delete');
    await expect.poll(() => slip.locator('.add').evaluate((add) => add.matches(':focus'))).toBe(true);
    // In a low window the sticky drawing is visible as a whole.
    await page.setViewportSize({ width: 1366, height: 560 });
    expect((await slip.locator('[part="drawing"]').boundingBox())?.height).toBeLessThan(548);
    await page.close();
  });

  it('mirrors the slip but not the drawing in Arabic', async () => {
    const { page, slip } = await at('artwork-placed');
    const places = () =>
      page.evaluate(() => {
        const root = document.querySelector('platen-order')!.shadowRoot!;
        const stage = [...root.querySelectorAll('*')].find((one) => one.shadowRoot)!.shadowRoot!;
        const sheet = stage.querySelector('.surface')!.getBoundingClientRect();
        const item = stage.querySelector('.item')!.getBoundingClientRect();
        const ruler = stage.querySelector('.ruler.left')!.getBoundingClientRect();
        return {
          slipLeft: root.querySelector('.slip')!.getBoundingClientRect().left,
          drawingLeft: root.querySelector('.drawing')!.getBoundingClientRect().left,
          itemInSheet: Math.round(item.left - sheet.left),
          rulerBeforeSheet: ruler.right <= sheet.left + 1,
        };
      });
    const english = await places();
    await setLanguageAndTheme(page, 'ar', 'light');
    const arabic = await places();
    expect(english.drawingLeft).toBeLessThan(english.slipLeft);
    expect(arabic.drawingLeft).toBeGreaterThan(arabic.slipLeft);
    expect(arabic.itemInSheet).toBe(english.itemInSheet);
    expect(arabic.rulerBeforeSheet).toBe(true);
    expect(await slip.locator('[part~="placement"] .what .note').innerText()).toMatch(/8\.66\s*بوصة/);
    await page.close();
  });
});
