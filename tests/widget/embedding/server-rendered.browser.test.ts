/** A shop's server that imports the widget's modules and renders its tag into pages as text. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { afterAll, beforeAll, expect, inject, it } from 'vitest';
import { startTestSite, type TestSite } from '../../e2e/test-site.ts';
import { requestResource } from '../../tools/setup/broker.ts';

let rig: TestSite;
/** The shop's own project, with the package installed. */
let project: string;
beforeAll(async () => {
  project = await requestResource(inject('packageBroker'));
  rig = await startTestSite();
});
afterAll(() => rig?.close());

const line = (color: string): string =>
  JSON.stringify({
    format: 1,
    lines: [
      {
        id: 'line-1',
        blank: 'cotton-tee',
        color,
        counts: [{ size: 'm', count: 7 }],
        placements: [],
        names: null,
        finish: 'standard',
        method: null,
      },
    ],
    neededBy: null,
    delivery: 'pick-up',
    rush: false,
  });

/**
 * The shop's server: imports both entries of the package in Node and renders pages as strings, with one slip set by
 * attributes and one by properties before the tag is defined.
 */
const shopServer = (api: string): string => `
  import { createServer } from 'node:http';
  const { PlatenOrder } = await import('peel-and-platen/element');
  const tag = await import('peel-and-platen');
  if (typeof PlatenOrder !== 'function' || PlatenOrder.formAssociated !== true) throw new Error('no class');
  const quoted = (text) => text.replaceAll('&', '&amp;').replaceAll('"', '&quot;');
  const slip = (id, attributes, inside) =>
    \`<platen-order id="\${id}" api=${JSON.stringify(api)} shop="quill-and-kettle" forgetful \${Object.entries(attributes)
      .map(([name, value]) => \`\${name}="\${quoted(value)}"\`)
      .join(' ')}>\${inside}</platen-order>\`;
  const page = () => \`<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Shop</title><link rel="icon" href="data:,">
    <style>platen-order:not(:defined) { display: block; min-height: 900px }</style></head><body>
    <form>\${slip('written', { value: ${JSON.stringify(line('navy'))}, name: 'slip', lang: 'de' }, '<span slot="heading">Our own heading</span><p slot="after">Our own words</p>')}</form>
    \${slip('set', {}, '')}
    <script>
      const set = document.querySelector('#set');
      set.value = JSON.parse(\${JSON.stringify(JSON.stringify(JSON.parse(${JSON.stringify(line('coral'))})))});
      set.units = 'mm';
      set.disabled = true;
      window.known = customElements.get('platen-order') !== undefined;
      const box = document.querySelector('#written').getBoundingClientRect();
      window.roomBefore = box.height;
    </script>
    <script type="module" src="${api}/widget/platen-order.js"></script></body></html>\`;
  const server = createServer((request, response) => {
    response.setHeader('content-type', 'text/html; charset=utf-8');
    response.end(page());
  });
  server.listen(0, '127.0.0.1', () => process.send({ port: server.address().port, exports: Object.keys(tag) }));
  process.once('disconnect', () => process.exit());
`;

it('a rendered tag keeps its attributes, its children and properties set before it was defined', async () => {
  const api = new URL(rig.server.url).origin;
  const shop = spawn(process.execPath, ['--input-type=module', '--eval', shopServer(api)], {
    cwd: project,
    stdio: ['ignore', 'inherit', 'pipe', 'ipc'],
    env: { ...process.env, NODE_OPTIONS: '' },
  });
  let complaints = '';
  shop.stderr?.on('data', (chunk: Buffer) => {
    complaints += chunk.toString();
  });
  try {
    const [{ port }] = (await Promise.race([
      once(shop, 'message'),
      once(shop, 'exit').then(() => {
        throw new Error(`the shop's server ended: ${complaints}`);
      }),
    ])) as [{ port: number }];
    const page = await rig.page();
    const errors: string[] = [];
    page.on('pageerror', (error) => errors.push(error.message));
    await page.goto(`http://127.0.0.1:${port}/`);
    const written = page.locator('#written');
    const set = page.locator('#set');

    await expect.poll(() => written.getByRole('radio', { name: 'Marine' }).isChecked()).toBe(true);
    expect(await written.getByRole('textbox', { name: 'M', exact: true }).inputValue()).toBe('7');
    expect(
      await written.locator('[part="slip"] h2').evaluate((title) =>
        title
          .querySelector('slot')!
          .assignedNodes()
          .map((node) => node.textContent),
      ),
    ).toEqual(['Our own heading']);
    expect(await written.getByText('Our own words').isVisible()).toBe(true);

    await expect.poll(() => set.getByRole('radio', { name: 'Coral' }).isChecked()).toBe(true);
    const seen = await page.evaluate(() => {
      const of = (id: string) =>
        document.getElementById(id) as HTMLElement & { value: string; units: string; disabled: boolean };
      const { known, roomBefore } = globalThis as unknown as { known: boolean; roomBefore: number };
      return {
        known,
        roomBefore,
        sent: new FormData(document.querySelector('form')!).get('slip') === of('written').value,
        // an own property would hide the class's setter
        own: ['value', 'units', 'disabled'].filter((name) => Object.hasOwn(of('set'), name)),
        units: of('set').units,
        disabled: of('set').hasAttribute('disabled'),
        color: JSON.parse(of('set').value).lines[0].color,
      };
    });
    expect(seen).toEqual({
      known: false,
      roomBefore: 900,
      sent: true,
      own: [],
      units: 'mm',
      disabled: true,
      color: 'coral',
    });
    expect(await set.getByLabel('M', { exact: true }).isDisabled()).toBe(true);

    await page.evaluate((slip) => {
      (document.getElementById('set') as HTMLElement & { value: string }).value = slip;
    }, line('black'));
    await expect.poll(() => set.getByRole('radio', { name: 'Black' }).isChecked()).toBe(true);
    expect(errors).toEqual([]);
    expect(complaints).toBe('');
    await page.close();
  } finally {
    shop.disconnect();
  }
});
