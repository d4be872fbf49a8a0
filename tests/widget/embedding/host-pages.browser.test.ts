/** The slip embedded in pages: forms, shadow roots, dialogs, policies, hostile styles, two copies of the script. */
import type { Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoArtwork, SlipPage } from '../../e2e/slip-page.ts';
import { startTestSite, type TestSite } from '../../e2e/test-site.ts';
import { type HostPage, SCRIPT, SLIP, serveHost, visitHost } from './host-page.ts';

let rig: TestSite;
beforeAll(async () => {
  rig = await startTestSite();
});
afterAll(() => rig?.close());

const FINISHED = JSON.stringify({
  format: 1,
  lines: [
    {
      id: 'line-1',
      blank: 'cotton-tee',
      color: 'navy',
      counts: [{ size: 'm', count: 3 }],
      placements: [],
      names: null,
      finish: 'standard',
      method: null,
    },
  ],
  neededBy: null,
  delivery: 'parcel',
  rush: false,
});

describe('as a form field', () => {
  it('submits its value, is emptied by a reset and follows a disabled fieldset', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: SCRIPT,
      body: `<form><fieldset><platen-order name="design" shop="quill-and-kettle"></platen-order></fieldset></form>`,
    });
    const hand = new SlipPage(page);
    await hand.pickItem('Stoneware mug');
    const sent = () => page.evaluate(() => new FormData(document.forms[0]).get('design'));
    expect(JSON.parse(String(await sent())).lines[0].blank).toBe('mug');
    await page.evaluate(() => {
      document.querySelector('fieldset')!.disabled = true;
    });
    await expect.poll(() => hand.slip.getByRole('radio').first().isDisabled()).toBe(true);
    // keys and dropped files change nothing
    const before = await hand.slip.evaluate((slip) => {
      const dropped = new DataTransfer();
      dropped.items.add(new File(['GIF89a'], 'a.gif', { type: 'image/gif' }));
      const drop = new DragEvent('drop', { dataTransfer: dropped, bubbles: true, cancelable: true });
      slip.shadowRoot!.querySelector('.drop')!.dispatchEvent(drop);
      return (slip as HTMLElement & { value: string }).value;
    });
    await hand.slip.getByRole('button', { name: 'Print the slip' }).press('Control+z');
    expect(await hand.slip.evaluate((slip) => (slip as HTMLElement & { value: string }).value)).toBe(before);
    expect(await hand.slip.locator('.arriving, [part="placement"]').count()).toBe(0);
    await page.evaluate(() => {
      document.querySelector('fieldset')!.disabled = false;
      document.forms[0]!.reset();
    });
    expect(await sent()).toBeNull();
    expect(faults).toEqual([]);
    await leave();
  });

  it('can be used again after the page sets `disabled` back to false', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: SCRIPT,
      body: `<form><fieldset><platen-order name="design" shop="quill-and-kettle"></platen-order></fieldset></form>`,
    });
    const hand = new SlipPage(page);
    const item = hand.slip.getByRole('radio', { name: 'Stoneware mug' });
    await item.waitFor();
    const set = (on: 'platen-order' | 'fieldset', disabled: boolean) =>
      page.evaluate(
        ([selector, to]) => {
          (document.querySelector(selector) as HTMLFieldSetElement).disabled = to;
        },
        [on, disabled] as const,
      );
    await set('platen-order', true);
    await expect.poll(() => item.isDisabled()).toBe(true);
    await set('platen-order', false);
    await expect.poll(() => item.isEnabled()).toBe(true);
    // the slip stays disabled while its fieldset is
    await set('platen-order', true);
    await set('fieldset', true);
    await set('platen-order', false);
    await expect.poll(() => hand.slip.evaluate((slip) => slip.hasAttribute('disabled'))).toBe(false);
    expect(await item.isDisabled()).toBe(true);
    await set('fieldset', false);
    await item.check();
    expect(faults).toEqual([]);
    await leave();
  });

  it('prevents submission while required and unfinished, with the focus and a message', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: SCRIPT,
      body: `<form action="/never"><platen-order name="d" required shop="quill-and-kettle"></platen-order><button>Send</button></form>`,
    });
    await new SlipPage(page).slip.getByRole('radio').first().waitFor();
    const outcome = await page.evaluate(() => {
      const slip = document.querySelector('platen-order') as HTMLElement & {
        validity: ValidityState;
        validationMessage: string;
      };
      document.forms[0]!.requestSubmit();
      return {
        missing: slip.validity.valueMissing,
        message: slip.validationMessage,
        focused: document.activeElement === slip,
      };
    });
    expect(outcome).toEqual({ missing: true, message: expect.stringMatching(/\w/), focused: true });
    expect(page.url()).toMatch(/host\.html$/);
    expect(faults).toEqual([]);
    await leave();
  });

  it('has the same value in another component’s shadow root, with the form inside or outside', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: SCRIPT,
      body: `<shop-frame id="in"></shop-frame><form id="f"><shop-frame id="out"></shop-frame></form><script src="/frame.js"></script>`,
      files: {
        '/frame.js': {
          type: 'text/javascript',
          body: `document.documentElement.lang = 'de'; customElements.define('shop-frame', class extends HTMLElement { connectedCallback() { const inside = this.id === 'in'; this.attachShadow({ mode: 'open' }).innerHTML = inside ? '<form><platen-order name="d" shop="quill-and-kettle" forgetful></platen-order></form>' : '<platen-order name="d" shop="quill-and-kettle" forgetful></platen-order>'; } });`,
        },
      },
    });
    const values = await page.evaluate(async (text) => {
      await customElements.whenDefined('platen-order');
      return ['in', 'out'].map((id) => {
        const root = document.getElementById(id)!.shadowRoot!;
        const slip = root.querySelector('platen-order') as HTMLElement & { value: string };
        let heard = 0;
        document.addEventListener('platen-change', () => heard++);
        slip.value = text;
        const form = root.querySelector('form');
        return { value: slip.value, sent: form ? new FormData(form).get('d') : null, heard };
      });
    }, FINISHED);
    expect(values[0]?.sent).toBe(values[0]?.value);
    expect(values[1]?.value).toBe(values[0]?.value);
    expect(values.map((entry) => entry.heard)).toEqual([0, 0]);
    // the page's language applies there, too
    await page.locator('#in').getByRole('radio', { name: 'Marine', exact: true }).waitFor();
    expect(faults).toEqual([]);
    await leave();
  });
});

describe('before and beside other scripts', () => {
  it('takes properties set before it is defined, and later', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      body: `<platen-order></platen-order><script src="/before.js"></script>${SCRIPT}`,
      files: {
        '/before.js': {
          type: 'text/javascript',
          body: `const el = document.querySelector('platen-order'); el.shop = 'quill-and-kettle'; el.units = 'cubits'; el.value = ${JSON.stringify(FINISHED)};`,
        },
      },
    });
    const hand = new SlipPage(page);
    await expect.poll(() => hand.slip.getByRole('radio', { name: 'Navy' }).isChecked()).toBe(true);
    const later = await page.evaluate((text) => {
      const slip = document.querySelector('platen-order') as HTMLElement & { value: string };
      slip.value = text.replace('"navy"', '"black"');
      return JSON.parse(slip.value).lines[0].color;
    }, FINISHED);
    expect(later).toBe('black');
    await expect.poll(() => hand.slip.getByRole('radio', { name: 'Black' }).isChecked()).toBe(true);
    // invalid units are ignored
    await hand.slip.locator('[part="drawing"]').hover();
    expect(await hand.slip.locator('.corner').innerText()).toBe('in');
    // another shop has other items, and an unknown shop has none
    const setShop = (shop: string) => hand.slip.evaluate((slip, to) => slip.setAttribute('shop', to), shop);
    await setShop('no-such-shop');
    await hand.slip.getByRole('alert').waitFor();
    expect(await hand.slip.getByRole('radio').count()).toBe(0);
    await setShop('quill-and-kettle');
    await expect.poll(() => hand.slip.getByRole('radio', { name: 'Black' }).isChecked()).toBe(true);
    expect(faults).toEqual([]);
    await leave();
  });

  it('keeps the first definition when loaded twice, without an error', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: `<script type="module" src="/widget/platen-order.js?v=1"></script><script type="module" src="/widget/platen-order.js?v=2"></script><script type="module" src="/third.js"></script>`,
      body: SLIP,
      files: { '/third.js': { type: 'text/javascript', body: 'window.ok = 1;' } },
    });
    await new SlipPage(page).slip.getByRole('radio').first().waitFor();
    expect(await page.evaluate(() => (window as unknown as { ok: number }).ok)).toBe(1);
    expect(faults).toEqual([]);
    await leave();
  });

  it('keeps a draft for each of two slips on a page', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: SCRIPT,
      body: `<platen-order id="a" shop="quill-and-kettle"></platen-order><platen-order id="b" shop="quill-and-kettle"></platen-order>`,
    });
    await page.locator('#a').getByRole('radio', { name: 'Stoneware mug' }).check();
    await page.locator('#b').getByRole('radio', { name: 'Six-panel cap' }).check();
    const blanks = (): Promise<string[]> =>
      page.evaluate(() =>
        [...document.querySelectorAll('platen-order')].map(
          (slip) => JSON.parse((slip as unknown as { value: string }).value).lines[0].blank,
        ),
      );
    expect(await blanks()).toEqual(['mug', 'cap']);
    await page.waitForTimeout(400);
    await page.reload();
    await page.locator('#b').getByRole('radio').first().waitFor();
    await expect.poll(blanks).toEqual(['mug', 'cap']);
    expect(faults).toEqual([]);
    await leave();
  });

  it('keeps its keys from the page’s shortcuts, and ignores the page’s Delete key', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: SCRIPT,
      body: `<input id="mine">${SLIP}<script src="/keys.js"></script>`,
      files: {
        '/keys.js': {
          type: 'text/javascript',
          body: `window.heard = []; document.addEventListener('keydown', (event) => { if (event.target.tagName !== 'INPUT') window.heard.push(event.key); });`,
        },
      },
    });
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 2);
    await hand.addArtwork(demoArtwork('kettle-roundel.png'));
    await hand.fresh();
    await hand.slip.getByLabel('M', { exact: true }).focus();
    for (const key of ['1', 's', 'Space', 'Backspace', 'Backspace', 'Delete', 'Delete'])
      await page.keyboard.press(key);
    expect(await hand.slip.getByLabel('M', { exact: true }).inputValue()).toMatch(/^\d+$/);
    // also on controls other than text fields
    await hand.slip.getByRole('button', { name: 'Choose a day' }).focus();
    await page.keyboard.press('Space');
    await hand.slip.getByRole('radio', { name: 'Left chest', exact: true }).focus();
    await page.keyboard.press('Space');
    await page.keyboard.press('s');
    expect(await hand.slip.locator('[part="placement"]').count()).toBe(1);
    expect(await page.evaluate(() => (window as unknown as { heard: string[] }).heard)).toEqual([]);
    await page.locator('#mine').focus();
    await page.keyboard.press('Delete');
    await page.keyboard.press('Backspace');
    expect(await hand.slip.locator('[part="placement"]').count()).toBe(1);
    expect(faults).toEqual([]);
    await leave();
  });
});

/** The slip's height once all deferred parts are there: when it is the same three times in a row. */
async function settledHeight(hand: SlipPage): Promise<number> {
  await hand.slip.locator('[part="ladder"]').waitFor();
  await hand.page.waitForLoadState('networkidle');
  // expands the findings in either case, whether they came promptly or late
  const noticed = hand.slip.locator('.told button');
  await noticed.waitFor();
  do await noticed.click();
  while ((await noticed.getAttribute('aria-expanded')) !== 'true');
  let height = -1;
  for (let same = 0; same < 3; ) {
    await hand.page.waitForTimeout(150);
    const now = Math.round((await hand.slip.boundingBox())?.height ?? 0);
    same = now === height ? same + 1 : 0;
    height = now;
  }
  return height;
}

describe('while its code is loading', () => {
  const CATALOG = '**/v1/shops/*/catalog';

  /** Opens a page whose slip code loads only after `release()`; `requested` has the names of all files requested. */
  async function openWithHeldCode(host: HostPage, before: (page: Page) => Promise<unknown> = async () => {}) {
    const visit = await rig.visit('/healthz');
    const { page } = visit;
    const requested: string[] = [];
    page.on('request', (request) => requested.push(new URL(request.url()).pathname.split('/').at(-1) ?? ''));
    let release: () => void = () => {};
    const go = new Promise<void>((resolve) => {
      release = resolve;
    });
    await page.route('**/widget/chunks/slip-*.js', async (route) => {
      await go;
      await route.continue();
    });
    await before(page);
    await serveHost(page, rig.server.url, host);
    await page.goto(new URL('/host.html', rig.server.url).href, { waitUntil: 'commit' });
    return { ...visit, requested, release };
  }

  it('the catalog of each slip and the messages of its language are requested once', async () => {
    const api = `${new URL(rig.server.url).origin}//`;
    const { page, requested, release, faults, leave } = await openWithHeldCode({
      head: `<script type="module" src="/widget/platen-order.js?v=1"></script><script type="module" src="/widget/platen-order.js?v=2"></script>`,
      body: `<p lang="de-AT"><platen-order api="${api}" shop="quill-and-kettle"></platen-order></p><platen-order lang="ES" shop="quill-and-kettle"></platen-order><p lang="fr"><platen-order shop="no/such shop"></platen-order></p><platen-order></platen-order>`,
    });
    const counts = () => {
      const of = (name: RegExp) => requested.filter((file) => name.test(file)).length;
      return [/^catalog$/, /^slip-/, /^de-/, /^es-/, /^en-/, /^(ar|ja)-/].map(of);
    };
    await expect.poll(counts).toEqual([3, 1, 1, 1, 1, 0]);
    expect(await page.evaluate(() => customElements.get('platen-order'))).toBeUndefined();
    release();
    await page.locator('platen-order').nth(0).getByRole('radio', { name: 'Steingutbecher' }).waitFor();
    await page.locator('platen-order').nth(1).getByRole('radio').first().waitFor();
    await page.locator('platen-order').nth(2).getByRole('alert').waitFor();
    // only the later messages are loaded besides, for the refusal
    expect(counts()).toEqual([3, 1, 1, 1, 2, 0]);
    const scripts = requested.filter((file) => /-[\w-]{8}\.js$/.test(file));
    expect(new Set(scripts).size).toBe(scripts.length);
    // the code is loaded directly, not by the entry that exports the class
    expect(requested).not.toContain('platen-order.class.js');
    expect(faults).toEqual([]);
    await leave();
  });

  it('a catalog request that fails meanwhile is repeated', async () => {
    let times = 0;
    const { page, release, faults, leave } = await openWithHeldCode(
      { head: SCRIPT, body: SLIP },
      async (page) => {
        await page.clock.install();
        await page.route(CATALOG, (route) => {
          times++;
          if (times === 1) return route.abort('internetdisconnected');
          return times === 2 ? route.fulfill({ status: 503, body: 'busy' }) : route.continue();
        });
      },
    );
    const failed = page.waitForEvent('requestfailed');
    await failed;
    release();
    const { slip } = new SlipPage(page);
    await slip.getByRole('alert').waitFor();
    expect(times).toBe(1);
    await page.clock.runFor(2_000);
    await expect.poll(() => times).toBe(2);
    await slip.getByRole('button', { name: 'Try again' }).click();
    await slip.getByRole('radio').first().waitFor();
    expect(times).toBe(3);
    expect(faults.filter((fault) => /uncaught/.test(fault))).toEqual([]);
    await leave();
  });

  it('a catalog that arrives after the slip was moved is ignored', async () => {
    let answerLate: () => void = () => {};
    let times = 0;
    const { page, release, faults, leave } = await openWithHeldCode({ head: SCRIPT, body: SLIP }, (page) =>
      page.route(CATALOG, async (route) => {
        times++;
        if (times > 1) return route.continue();
        await new Promise<void>((resolve) => {
          answerLate = resolve;
        });
        const catalog = await (await route.fetch()).json();
        await route.fulfill({ json: { ...catalog, blanks: [] } });
      }),
    );
    release();
    await page.evaluate(async () => {
      await customElements.whenDefined('platen-order');
      const slip = document.querySelector('platen-order') as HTMLElement & {
        updateComplete: Promise<unknown>;
      };
      await slip.updateComplete;
      document.body.append(slip);
    });
    const { slip } = new SlipPage(page);
    await slip.getByRole('radio').first().waitFor();
    const late = page.waitForResponse(CATALOG);
    answerLate();
    await (await late).finished();
    await page.evaluate(() => new Promise(requestAnimationFrame));
    expect(await slip.getByRole('radio').count()).toBeGreaterThan(0);
    expect(times).toBe(2);
    expect(faults).toEqual([]);
    await leave();
  });
});

describe('under a strict policy', () => {
  it('looks the same without a violation, uploads, quotes and orders', async () => {
    const policy =
      "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; font-src 'self'; worker-src 'self'; trusted-types lit-html platen-worker; require-trusted-types-for 'script'";
    const watch = {
      '/watch.js': {
        type: 'text/javascript',
        body: `window.broken = []; addEventListener('securitypolicyviolation', (event) => window.broken.push(event.violatedDirective + ' ' + event.blockedURI));`,
      },
    };
    const heights: number[] = [];
    for (const headers of [{ 'content-security-policy': policy }, {}]) {
      const { page, faults, leave } = await visitHost(rig, {
        head: `<script src="/watch.js"></script>${SCRIPT}`,
        body: SLIP,
        headers: headers as Record<string, string>,
        files: watch,
      });
      const hand = new SlipPage(page);
      await hand.pickItem('Everyday cotton tee');
      await hand.count('L', 2);
      await hand.addArtwork(demoArtwork('evening-hills.jpg'));
      await hand.fresh();
      heights.push(await settledHeight(hand));
      if (heights.length === 1)
        expect(await hand.order('Ada Quillfeather', 'ada@quill.example')).toMatch(/^\d+$/);
      expect(await page.evaluate(() => (window as unknown as { broken: string[] }).broken)).toEqual([]);
      expect(faults).toEqual([]);
      await leave();
    }
    expect(Math.abs((heights[0] ?? 0) - (heights[1] ?? 1))).toBeLessThanOrEqual(2);
  });
});

describe('in a page with hostile styles', () => {
  it('takes its colors from custom properties of any name', async () => {
    const names = ['ink', 'paper', 'desk', 'accent', 'rule', 'focus'];
    const { page, faults, leave } = await visitHost(rig, {
      head: `<link rel="stylesheet" href="/own.css">${SCRIPT}`,
      body: SLIP,
      files: {
        '/own.css': {
          type: 'text/css',
          body: `:root{${names.map((name, at) => `--${name}:rgb(${at + 1} 2 3);`).join('')}} platen-order{${names.map((name) => `--platen-${name}:var(--${name});`).join('')}}`,
        },
      },
    });
    const hand = new SlipPage(page);
    await hand.slip.locator('[part~="slip"] h2').waitFor();
    const seen = await hand.slip.evaluate((slip) => {
      const of = (selector: string) => getComputedStyle(slip.shadowRoot!.querySelector(selector)!);
      return [of('h2').color, of('.slip').backgroundColor, of('.root').backgroundColor, of('.number').color];
    });
    expect(seen).toEqual(['rgb(1, 2, 3)', 'rgb(2, 2, 3)', 'rgb(3, 2, 3)', 'rgb(4, 2, 3)']);
    expect(faults).toEqual([]);
    await leave();
  });

  /** The computed styles of all texts and the sizes of all targets of the slip, on a page with these styles. */
  async function computedLook(styles: string) {
    const { page, faults, leave } = await visitHost(rig, {
      head: `<link rel="stylesheet" href="/hostile.css">${SCRIPT}`,
      body: SLIP,
      files: { '/hostile.css': { type: 'text/css', body: styles } },
    });
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.slip.locator('[part="finish"]').waitFor();
    const seen = await hand.slip.evaluate((slip) => {
      const root = slip.shadowRoot!;
      const shown = (element: Element): boolean =>
        element.getClientRects().length > 0 && !element.closest('.sr');
      const texts = [...root.querySelectorAll('button, label, legend, h2, h3, .label, .value, p')].filter(
        shown,
      );
      const targets = [...root.querySelectorAll<HTMLElement>('button, select, input')].filter(
        (element) => shown(element) && element.tabIndex >= 0,
      );
      return {
        texts: texts.map((element) => {
          const set = getComputedStyle(element);
          return [
            element.localName,
            set.fontFamily,
            set.fontSize,
            set.lineHeight,
            set.letterSpacing,
            set.textTransform,
            set.color,
            set.webkitTextFillColor,
            set.textShadow,
            set.textIndent,
            set.wordBreak,
            set.whiteSpace,
            set.writingMode,
            set.cursor,
            element.clientHeight,
          ].join(' ');
        }),
        smallText: texts.filter((element) => Number.parseFloat(getComputedStyle(element).fontSize) < 12)
          .length,
        smallTargets: targets
          .filter((element) => {
            const box = element.getBoundingClientRect();
            const label = element.closest('label')?.getBoundingClientRect();
            return (
              Math.max(box.height, label?.height ?? 0) < 24 || Math.max(box.width, label?.width ?? 0) < 24
            );
          })
          .map((element) => element.outerHTML.slice(0, 90)),
      };
    });
    expect(faults).toEqual([]);
    await leave();
    return seen;
  }
  let plain: Awaited<ReturnType<typeof computedLook>> | undefined;

  it.each(['62.5%', '8px', '200%'])(
    'is not changed by a root font size of %s and rules for every element',
    async (size) => {
      plain ??= await computedLook('');
      const seen = await computedLook(
        `html{font-size:${size}} body{line-height:0;letter-spacing:9px} body, body *{line-height:0!important;letter-spacing:9px!important;text-transform:uppercase;font-family:fantasy;color:lime;-webkit-text-fill-color:lime;text-shadow:1px 1px red;text-indent:40px!important;word-break:break-all;white-space:nowrap!important;writing-mode:vertical-rl;cursor:wait} button,input,label{display:none!important}`,
      );
      expect(seen.texts.length).toBeGreaterThan(15);
      expect(seen).toEqual(plain);
      expect(seen.smallText).toBe(0);
      expect(seen.smallTargets).toEqual([]);
    },
  );
});

describe('in unusual places', () => {
  it('works in a hidden tab, in a dialog opened later and after being moved', async () => {
    const { page, faults, leave } = await visitHost(rig, {
      head: SCRIPT,
      body: `<dialog id="d"></dialog><div id="tab" hidden>${SLIP}</div>`,
    });
    await page.waitForTimeout(300);
    await page.evaluate(() => {
      document.getElementById('tab')!.hidden = false;
    });
    const hand = new SlipPage(page);
    await hand.pickItem('Everyday cotton tee');
    await hand.count('M', 4);
    await page.evaluate(() => {
      const dialog = document.getElementById('d') as HTMLDialogElement;
      dialog.append(document.querySelector('platen-order')!);
      dialog.showModal();
    });
    await hand.addArtwork(demoArtwork('kettle-roundel.png'));
    await hand.fresh();
    expect(await hand.slip.getByLabel('M', { exact: true }).inputValue()).toBe('4');
    // where a page sizes it by its content, it still has a width
    const widths = await page.evaluate(() => {
      const slip = document.querySelector<HTMLElement>('platen-order')!;
      const around = { dialog: slip.offsetWidth } as Record<string, number>;
      document.querySelector('dialog')!.close();
      for (const style of [
        'display:flex',
        'display:flex;flex-direction:column;align-items:center',
        'display:grid;justify-items:center',
        'float:left',
        'display:inline-block',
        'position:absolute',
        'display:table',
        'writing-mode:vertical-rl',
      ]) {
        const box = document.createElement('div');
        box.style.cssText = style;
        document.body.append(box);
        box.append(slip);
        around[style] = slip.offsetWidth;
      }
      document.body.append(slip);
      return around;
    });
    for (const [where, width] of Object.entries(widths)) expect(width, where).toBeGreaterThan(700);
    await hand.fresh();
    expect(faults).toEqual([]);
    await leave();
  });

  it('needs no horizontal scrolling at 320 px and at 200 % zoom', async () => {
    for (const widthPx of [320, 640]) {
      const { page, faults, leave } = await visitHost(
        rig,
        { head: `<style>body{margin:0}</style>${SCRIPT}`, body: SLIP },
        { widthPx, heightPx: 800, pixelRatio: widthPx === 640 ? 2 : 1 },
      );
      const hand = new SlipPage(page);
      await hand.pickItem('Everyday cotton tee');
      await hand.count('M', 2);
      await hand.addArtwork(demoArtwork('kettle-roundel.png'));
      await hand.fresh();
      const wide = await page.evaluate(() => ({
        page: document.documentElement.scrollWidth - innerWidth,
        parts: [...document.querySelector('platen-order')!.shadowRoot!.querySelectorAll('.slip *')]
          .filter((part) => !part.closest('.sr, svg') && part.getBoundingClientRect().right > innerWidth + 1)
          .map((part) => part.outerHTML.slice(0, 80)),
      }));
      expect(wide).toEqual({ page: 0, parts: [] });
      expect(faults).toEqual([]);
      await leave();
    }
  });
});
