/** The slip on pages of another origin, beside another version, in nested shadow roots, in dark mode and in print. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoArtwork, SlipPage } from '../../e2e/slip-page.ts';
import { startTestSite, type TestSite } from '../../e2e/test-site.ts';
import { SCRIPT, visitHost } from './host-page.ts';

let rig: TestSite;
beforeAll(async () => {
  rig = await startTestSite();
});
afterAll(() => rig?.close());

describe('on another origin', () => {
  let shop: Server;
  let policy = '';
  const sent: string[] = [];
  beforeAll(async () => {
    shop = createServer((request, response) => {
      sent.push(request.url ?? '');
      response.setHeader('content-type', 'text/html; charset=utf-8');
      if (policy !== '') response.setHeader('content-security-policy', policy);
      response.end(
        `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Shop</title><link rel="icon" href="data:,"><script type="module" src="${new URL('/widget/platen-order.js', rig.server.url).href}"></script></head><body><platen-order api="${rig.server.url}" shop="quill-and-kettle"></platen-order></body></html>`,
      );
    });
    await new Promise<void>((done) => shop.listen(0, '127.0.0.1', done));
  });
  afterAll(() => new Promise((done) => shop?.close(done)));

  it('an order needs one script tag and one element, and requests nothing from the page’s own server', async () => {
    const context = await rig.browser.newContext({ locale: 'en-US', viewport: { width: 1280, height: 900 } });
    const page = await context.newPage();
    const errors: string[] = [];
    page.on('pageerror', (error) => errors.push(error.message));
    page.on('console', (message) => {
      if (message.type() === 'error') errors.push(message.text());
    });
    await page.goto(`http://127.0.0.1:${(shop.address() as AddressInfo).port}/`);
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 3);
    await hand.addArtwork(demoArtwork('kettle-roundel.png'));
    expect(await hand.order('Ada Quillfeather', 'ada@quill.example')).toMatch(/^\d+$/);
    expect(errors).toEqual([]);
    expect(sent).toEqual(['/']);
    await context.close();
  });

  /** A page on the other origin, with an item chosen and a file added. */
  async function withFile(before: (page: Page) => Promise<void> = async () => {}) {
    const context = await rig.browser.newContext({ locale: 'en-US', viewport: { width: 1280, height: 900 } });
    const page = await context.newPage();
    const errors: string[] = [];
    page.on('pageerror', (error) => errors.push(error.message));
    await before(page);
    await page.goto(`http://127.0.0.1:${(shop.address() as AddressInfo).port}/`);
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.pickColor('Navy');
    await hand.count('M', 3);
    await hand.addArtwork(demoArtwork('roundel-white-box.jpg'));
    return { hand, page, errors, leave: () => context.close() };
  }
  /** Waits for the finding of a filled box, expanding the messages if it came late. */
  async function waitForBoxFinding({ slip }: SlipPage): Promise<void> {
    await expect
      .poll(
        async () => {
          const collapsed = slip.locator('.told button[aria-expanded="false"]');
          if (await collapsed.isVisible()) await collapsed.click();
          return slip.locator('[part="finding"]', { hasText: 'stands in a filled box' }).count();
        },
        { timeout: 15_000 },
      )
      .toBe(1);
  }
  const strict = (worker: string): string => {
    const { origin } = new URL(rig.server.url);
    return `default-src 'none'; script-src ${origin}; style-src ${origin}; img-src 'self' data: blob: ${origin}; connect-src ${origin}; worker-src ${worker} ${origin}; trusted-types lit-html platen-worker; require-trusted-types-for 'script'`;
  };

  it.each(['no policy', 'a strict policy that allows blob workers'])(
    'the page checks artwork by itself, before the shop has answered, under %s',
    async (which) => {
      policy = which === 'no policy' ? '' : strict('blob:');
      const { hand, errors, leave } = await withFile(async (page) => {
        await page.route('**/v1/shops/*/{artworks,uploads,quotes}**', () => {});
      });
      await waitForBoxFinding(hand);
      expect(errors).toEqual([]);
      await leave();
    },
  );

  it('the shop’s findings are shown where a policy allows no blob workers', async () => {
    policy = strict("'self'");
    const { hand, errors, leave } = await withFile();
    await waitForBoxFinding(hand);
    await hand.fresh();
    expect(errors).toEqual([]);
    await leave();
  });
});

describe('beside another version', () => {
  it('each slip keeps its own code and its own drawing', async () => {
    const { page, faults, leave } = await visitHost(rig, { body: '' });
    // the same files under another address are other modules, so this is a second copy of everything
    await page.route('**/other/**', async (route) => {
      const answer = await route.fetch({ url: route.request().url().replace('/other/', '/widget/') });
      await route.fulfill({ response: answer });
    });
    // the first copy defines the tag; the second finds it free and is defined under another name
    const separate = await page.evaluate(
      `(async () => {
        await import('/widget/platen-order.js');
        const mine = await customElements.whenDefined('platen-order');
        const { get, define } = CustomElementRegistry.prototype;
        const other = await new Promise((done) => {
          customElements.get = (tag) => (tag === 'platen-order' ? undefined : get.call(customElements, tag));
          customElements.define = (tag, made) => {
            customElements.get = get;
            customElements.define = define;
            define.call(customElements, 'other-slip', made);
            done(made);
          };
          void import('/other/platen-order.js');
        });
        for (const tag of ['platen-order', 'other-slip']) {
          const slip = document.createElement(tag);
          slip.shop = 'quill-and-kettle';
          slip.id = tag;
          document.body.append(slip);
        }
        return [mine !== other, customElements.get('platen-order') === mine];
      })()`,
    );
    expect(separate).toEqual([true, true]);
    for (const tag of ['platen-order', 'other-slip']) {
      const slip = page.locator(`#${tag}`);
      await slip.getByRole('radio', { name: 'Stoneware mug' }).check();
      await slip.locator('[part="drawing"]').hover();
      await slip.locator('[part="drawing"] .surface').waitFor();
    }
    const stages = await page.evaluate(() =>
      ['platen-order', 'other-slip'].map((id) => {
        const inside = document.getElementById(id)!.shadowRoot!.querySelectorAll('*');
        return [...inside].find((part) => part.localName.startsWith('platen-order-stage'))?.localName;
      }),
    );
    expect(new Set(stages)).toEqual(new Set(['platen-order-stage', 'platen-order-stage-2']));
    expect(faults).toEqual([]);
    await leave();
  });
});

describe('scaled, in two shadow roots of which one is closed', () => {
  it('can be used, and its events reach the page', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: `<style>body{margin:0} #far{transform:scale(.5);transform-origin:0 0;width:1280px}</style>${SCRIPT}`,
      body: `<div id="far"></div><script src="/nest.js"></script>`,
      files: {
        '/nest.js': {
          type: 'text/javascript',
          body: `window.heard = [];
            for (const type of ['platen-change', 'platen-quote']) document.addEventListener(type, (event) => heard.push([event.type, event.bubbles, event.composed, event.target.id, 'draft' in event || 'answer' in event]));
            const outer = document.getElementById('far').attachShadow({ mode: 'closed' });
            const middle = outer.appendChild(document.createElement('div'));
            const slip = document.createElement('platen-order');
            slip.shop = 'quill-and-kettle';
            middle.attachShadow({ mode: 'open' }).append(slip);
            window.slip = slip;`,
        },
      },
    });
    type Far = { slip: HTMLElement & { value: string }; heard: unknown[] };
    const inSlip = (selector: string) =>
      page.evaluateHandle(
        (css) => (window as unknown as Far).slip.shadowRoot?.querySelector<HTMLElement>(css) ?? null,
        selector,
      );
    await page.waitForFunction(() => (window as unknown as Far).slip.shadowRoot?.querySelector('input'));
    await (await inSlip('.pick input')).asElement()!.click({ force: true });
    await page.waitForFunction(() =>
      (window as unknown as Far).slip.shadowRoot?.querySelector('input.count'),
    );
    await (await inSlip('input.count')).asElement()!.fill('3');
    const chooser = page.waitForEvent('filechooser');
    await (await inSlip('.drop .box')).asElement()!.click();
    await (await chooser).setFiles(demoArtwork('kettle-roundel.png'));
    await page.waitForFunction(() =>
      (window as unknown as Far).heard.some((one) => (one as string[])[0] === 'platen-quote'),
    );
    const heard = await page.evaluate(() => (window as unknown as Far).heard);
    for (const type of ['platen-change', 'platen-quote'])
      expect(heard).toContainEqual([type, true, true, 'far', true]);
    // a drag by 40 px on the screen is 80 px on the drawing
    const art = await page.waitForFunction(() => {
      const stage = [...(window as unknown as Far).slip.shadowRoot!.querySelectorAll('*')].find((part) =>
        part.localName.startsWith('platen-order-stage'),
      );
      const item = stage?.shadowRoot?.querySelector('.item:not(.waiting)');
      if (!item) return null;
      const { x, y, width, height } = item.getBoundingClientRect();
      return { x: x + width / 2, y: y + height / 2, width };
    });
    const at = (await art.jsonValue())!;
    const placement = () =>
      page.evaluate(
        () =>
          JSON.parse((window as unknown as Far).slip.value).lines[0].placements[0] as Record<string, number>,
      );
    const before = await placement();
    await page.keyboard.down('Alt');
    await page.mouse.move(at.x, at.y);
    await page.mouse.down();
    await page.mouse.move(at.x, at.y + 20, { steps: 4 });
    await page.mouse.move(at.x, at.y + 40, { steps: 4 });
    await page.mouse.up();
    await page.keyboard.up('Alt');
    const mmPerPx = before['widthMm']! / at.width;
    await expect.poll(async () => (await placement())['yMm']! - before['yMm']!).toBeGreaterThan(0);
    // snapping may add a few px
    expect(Math.abs((await placement())['yMm']! - before['yMm']! - 40 * mmPerPx)).toBeLessThan(8 * mmPerPx);
    expect(faults).toEqual([]);
    await leave();
  });
});

describe('styled by the page', () => {
  it('takes parts, slots, theme and print from the page, and is restored by the browser', async () => {
    const { page, faults, leave } = await visitHost(
      rig,
      {
        head: `<link rel="stylesheet" href="/own.css">${SCRIPT}`,
        body: `<form><platen-order name="d" theme="auto" shop="quill-and-kettle" forgetful><b slot="heading">Make it yours</b><i slot="after">Questions? Ask us.</i></platen-order></form>`,
        files: {
          '/own.css': {
            type: 'text/css',
            body: 'platen-order::part(slip){outline:7px solid rgb(1 2 3)} platen-order::part(total){letter-spacing:3px}',
          },
        },
      },
      { colorScheme: 'dark' },
    );
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 4);
    const seen = () =>
      hand.slip.evaluate((slip) => {
        const root = slip.shadowRoot!;
        const of = (selector: string) => getComputedStyle(root.querySelector(selector)!);
        const luma = (color: string): number =>
          (color.match(/[\d.]+/g) ?? []).slice(0, 3).reduce((sum, part) => sum + Number(part), 0) / 3;
        const shown = (selector: string): number =>
          [...root.querySelectorAll(selector)].filter((part) => part.getClientRects().length > 0).length;
        return {
          outline: of('.slip').outlineWidth,
          spacing: of('[part="total"]').letterSpacing,
          light: luma(of('.slip').backgroundColor) > 128,
          slots: [...slip.children].every((child) => child.getClientRects().length > 0),
          buttons: shown('button'),
          sizes: shown('.size'),
          text: root.querySelector<HTMLElement>('.slip')!.innerText.includes('Everyday cotton tee'),
        };
      });
    expect(await seen()).toMatchObject({ outline: '7px', spacing: '3px', light: false, slots: true });
    await page.emulateMedia({ colorScheme: 'light' });
    await expect.poll(async () => (await seen()).light).toBe(true);
    await page.emulateMedia({ media: 'print', colorScheme: 'dark' });
    await expect.poll(async () => (await seen()).light).toBe(true);
    // prints only what was chosen: the one size with a count, and no buttons
    expect(await seen()).toMatchObject({ buttons: 0, sizes: 1, text: true, slots: true });
    // after leaving and going back, the browser restores the form's slip
    await page.emulateMedia({ media: 'screen' });
    await page.goto(new URL('/healthz', rig.server.url).href);
    await page.goBack();
    await expect
      .poll(() => page.evaluate(() => String(new FormData(document.forms[0]).get('d'))).catch(() => 'null'))
      .toContain('"count":4');
    // a restored value is not the initial one: a reset empties the slip
    expect(
      await page.evaluate(() => {
        document.forms[0]!.reset();
        return new FormData(document.forms[0]).get('d');
      }),
    ).toBeNull();
    expect(faults).toEqual([]);
    await leave();
  });
});
