import { readFile } from 'node:fs/promises';
import { basename } from 'node:path';
import type { Locator, Page } from 'playwright';
import { demoArtwork } from './slip-page.ts';

/** Every state of the slip. Usable in any language: elements are found by parts, roles and values, never by words. */

const SHOP = 'quill-and-kettle';
const FILES = [
  'kettle-roundel.png',
  'roundel-white-box.jpg',
  'hey-yard-shadow.png',
  'evening-hills.jpg',
] as const;
type FileName = (typeof FILES)[number];

/** Ids of the demo shop's artworks, once a server has them. */
export type KnownArtworks = Readonly<Record<FileName, string>>;

/** Uploads the demo shop's artworks to a server, so that slips can refer to them. */
export async function sendArtworks(origin: string): Promise<KnownArtworks> {
  const sent = FILES.map(async (name) => {
    const form = new FormData();
    form.set('file', new Blob([await readFile(demoArtwork(name))]), basename(name));
    const answer = await fetch(`${origin}/v1/shops/${SHOP}/artworks`, { method: 'POST', body: form });
    if (!answer.ok) throw new Error(`${name} was refused: ${answer.status} ${await answer.text()}`);
    const { id } = (await answer.json()) as { id: string };
    return [name, id] as const;
  });
  return Object.fromEntries(await Promise.all(sent)) as KnownArtworks;
}

export type SlipState = {
  /** kebab-case; also the name of its screenshot. */
  readonly name: string;
  /** prepares the page before it is opened. */
  readonly before?: (page: Page) => Promise<void>;
  /** attributes of the element, as the page's markup would set them. */
  readonly attributes?: Readonly<Record<string, string>>;
  /** the stored slip. */
  readonly slip?: (art: KnownArtworks) => object;
  /** what the customer does then; resolves once the state is reached. */
  readonly reach: (at: Scene) => Promise<void>;
  /** CSS selector of the part that the screenshot must show, where it is further down. */
  readonly about?: string;
};

export type Scene = { readonly page: Page; readonly slip: Locator; readonly art: KnownArtworks };

type Line = Readonly<Record<string, unknown>>;

const placed = (artwork: string, more: object = {}): object => ({
  id: 'art-1',
  face: 'front',
  artwork,
  remedies: [],
  xMm: 0,
  yMm: 110,
  widthMm: 220,
  angleDeg: 0,
  ...more,
});

const tee = (placements: readonly object[], more: Line = {}): Line => ({
  id: 'line-1',
  blank: 'cotton-tee',
  color: 'navy',
  counts: [
    { size: 'm', count: 8 },
    { size: 'l', count: 4 },
    { size: '2xl', count: 2 },
  ],
  placements,
  names: null,
  finish: 'standard',
  method: null,
  ...more,
});
const cap = (art: KnownArtworks): Line =>
  tee([placed(art['kettle-roundel.png'], { face: 'front-panel', yMm: 29, widthMm: 50 })], {
    id: 'line-2',
    blank: 'cap',
    color: 'stone',
    counts: [{ size: 'one', count: 5 }],
  });
const mug = (art: KnownArtworks): Line =>
  tee([placed(art['evening-hills.jpg'], { face: 'wrap', xMm: 0, yMm: 36, widthMm: 92 })], {
    id: 'line-3',
    blank: 'mug',
    color: 'white',
    counts: [{ size: '330', count: 6 }],
  });
const slipOf = (lines: readonly Line[], more: object = {}): object => ({
  format: 1,
  lines,
  neededBy: null,
  delivery: 'pick-up',
  rush: false,
  ...more,
});
const roundelTee = (art: KnownArtworks, more: object = {}): object =>
  slipOf([tee([placed(art['kettle-roundel.png'])])], more);

/** Waits until the foot shows an answer for the slip as it is. */
async function answered({ slip }: Scene): Promise<void> {
  await slip.locator('.foot .answer[aria-busy="false"]:not([data-stale])').first().waitFor();
  await slip.locator('[part~="order-button"]:enabled, [part~="place-order"]:enabled').first().waitFor();
}

/** Waits until the picture is on the drawing. */
async function drawn({ slip }: Scene): Promise<void> {
  await slip.locator('.pictures canvas').first().waitFor({ state: 'attached' });
  await slip.locator('.item:not(.waiting)').first().waitFor();
}

/** Expands a message that came too late to expand by itself. */
async function unfolded({ slip }: Scene, line: string, whole: string): Promise<void> {
  await slip.locator(`${line}, ${whole}`).first().waitFor();
  const button = slip.locator(`${line}[aria-expanded="false"]`).first();
  if (await button.isVisible()) await button.click();
  await slip.locator(whole).first().waitFor();
}
const findingSeen = (scene: Scene): Promise<void> => unfolded(scene, '.told button', '[part~="finding"]');

async function openOrder(scene: Scene): Promise<void> {
  await answered(scene);
  await scene.slip.locator('[part~="order-button"]').click();
  await scene.slip.locator('[part~="order"]').waitFor();
}
async function proofSeen(scene: Scene): Promise<void> {
  await openOrder(scene);
  await scene.slip.locator('[part~="order"] img').first().waitFor();
}
async function fillContact({ slip }: Scene): Promise<void> {
  await slip.locator('[part~="order"] input[name="name"]').fill('Ada Quillfeather');
  await slip.locator('[part~="order"] input[name="email"]').fill('ada@quill.example');
}
async function placeOrder(scene: Scene): Promise<void> {
  await proofSeen(scene);
  await fillContact(scene);
  await scene.slip.locator('[part~="order"] input[type="checkbox"]').check();
  await scene.slip.locator('[part~="place-order"]').click();
}
const never = async (page: Page, address: string): Promise<void> =>
  void (await page.route(address, () => {}));
const failing = async (page: Page, address: string, status: number, body: object): Promise<void> => {
  await page.route(address, (route) =>
    route.fulfill({ status, contentType: 'application/problem+json', body: JSON.stringify(body) }),
  );
};
const changedCatalog = async (
  page: Page,
  change: (catalog: Record<string, unknown>) => object,
): Promise<void> => {
  await page.route('**/v1/shops/*/catalog', async (route) => {
    const response = await route.fetch();
    await route.fulfill({ response, json: change((await response.json()) as Record<string, unknown>) });
  });
};
const TODAY = new Date().toISOString().slice(0, 10);

export const SLIP_STATES: readonly SlipState[] = [
  { name: 'opened', reach: async ({ slip }) => slip.locator('[part~="item"] input').first().waitFor() },
  {
    name: 'item-picked',
    reach: async ({ slip }) => {
      await slip.locator('[part~="item"] label').first().click();
      await slip.locator('[part~="color"]').waitFor();
    },
  },
  {
    name: 'sizes',
    slip: () => slipOf([tee([], { color: 'sage' })]),
    reach: async ({ slip }) => slip.locator('[part~="sizes"] input').first().waitFor(),
    about: '[part~="sizes"]',
  },
  {
    name: 'size-fault',
    slip: () => slipOf([tee([], { color: 'coral' })]),
    reach: async ({ slip }) => {
      await slip.locator('[part~="sizes"] input').nth(2).fill('12x');
      await slip.locator('[part~="sizes"] [aria-invalid="true"]').waitFor();
    },
    about: '[part~="sizes"]',
  },
  {
    name: 'artwork-placed',
    slip: (art) => slipOf([tee([placed(art['kettle-roundel.png'])], { color: 'forest' })]),
    reach: async (scene) => {
      await answered(scene);
      await drawn(scene);
      await scene.slip.locator('[part~="placement"] [aria-expanded]').click();
      await scene.slip.locator('[part~="placement"] select').waitFor();
    },
    about: '[part~="placement"]',
  },
  {
    name: 'two-artworks',
    slip: (art) =>
      slipOf([
        tee(
          [
            placed(art['hey-yard-shadow.png'], { yMm: 190, widthMm: 250 }),
            placed(art['kettle-roundel.png'], {
              id: 'art-2',
              face: 'left-chest',
              xMm: 0,
              yMm: 50,
              widthMm: 80,
            }),
            placed(art['kettle-roundel.png'], {
              id: 'art-3',
              face: 'sleeve',
              xMm: 0,
              yMm: 33,
              widthMm: 50,
              angleDeg: 12,
            }),
          ],
          { color: 'heather' },
        ),
      ]),
    reach: async (scene) => {
      await answered(scene);
      await drawn(scene);
    },
    about: '[part~="artwork"]',
  },
  {
    name: 'dragged',
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await answered(scene);
      await drawn(scene);
      const box = await scene.slip.locator('.item').first().boundingBox();
      if (!box) throw new Error('the artwork is not on the drawing');
      const { mouse } = scene.page;
      await mouse.move(box.x + box.width / 2, box.y + box.height / 2);
      await mouse.down();
      await mouse.move(box.x + box.width / 2 + 24, box.y + box.height / 2 + 40, { steps: 6 });
    },
  },
  {
    name: 'off-the-area',
    slip: (art) =>
      slipOf([tee([placed(art['kettle-roundel.png'], { xMm: 130, yMm: 60 })], { color: 'sand' })]),
    reach: async ({ slip }) => slip.locator('[part~="refusal"]').waitFor(),
  },
  {
    name: 'findings',
    slip: (art) => slipOf([tee([placed(art['roundel-white-box.jpg'])])]),
    reach: async (scene) => {
      await answered(scene);
      await findingSeen(scene);
    },
    about: '[part~="placement"]',
  },
  {
    name: 'remedy-tried',
    slip: (art) => slipOf([tee([placed(art['roundel-white-box.jpg'])])]),
    reach: async (scene) => {
      await answered(scene);
      await findingSeen(scene);
      await scene.slip.locator('[part~="finding"] button').first().click();
      await scene.slip.locator('[part~="finding"] button.box:enabled').waitFor();
    },
    about: '[part~="finding"]',
  },
  {
    name: 'remedy-applied',
    slip: (art) => slipOf([tee([placed(art['roundel-white-box.jpg'])])]),
    reach: async (scene) => {
      await answered(scene);
      await findingSeen(scene);
      await scene.slip.locator('[part~="finding"] button').first().click();
      await scene.slip.locator('[part~="finding"] button.box:enabled').click();
      await answered(scene);
      await drawn(scene);
    },
    about: '[part~="placement"]',
  },
  {
    name: 'names',
    before: (page) =>
      changedCatalog(page, (catalog) => ({
        ...catalog,
        fonts: (catalog['fonts'] as unknown[] | undefined)?.length
          ? catalog['fonts']
          : [{ id: 'bitter', name: 'Bitter' }],
      })),
    slip: () => slipOf([tee([])]),
    reach: async ({ slip }) => {
      await slip.locator('.acts:has(+ [part~="finish"]) button').first().click();
      await slip.locator('[part~="names"]').waitFor();
    },
    about: '[part~="names"]',
  },
  {
    name: 'several-lines',
    slip: (art) => slipOf([tee([placed(art['kettle-roundel.png'])]), cap(art), mug(art)]),
    reach: async (scene) => answered(scene),
  },
  {
    name: 'cap',
    slip: (art) => slipOf([{ ...cap(art), id: 'line-1' }]),
    reach: async (scene) => {
      await answered(scene);
      await drawn(scene);
    },
  },
  {
    name: 'mug',
    slip: (art) => slipOf([{ ...mug(art), id: 'line-1' }]),
    reach: async (scene) => {
      await answered(scene);
      await drawn(scene);
    },
  },
  {
    name: 'why',
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await answered(scene);
      await scene.slip.locator('.foot [aria-expanded]').first().click();
      await scene.slip.locator('[part~="why"] li').first().waitFor();
    },
  },
  {
    name: 'ladder',
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await answered(scene);
      await scene.slip.locator('[part~="ladder"] [aria-expanded]').click();
      await scene.slip.locator('[part~="ladder"] .delta:not(:empty)').nth(6).waitFor();
    },
    about: '[part~="ladder"]',
  },
  {
    name: 'calendar',
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await answered(scene);
      await scene.slip.locator('[part~="needed-by"] button').first().click();
      await scene.slip.locator('.days button').first().waitFor();
    },
    about: '[part~="needed-by"]',
  },
  {
    name: 'refusal',
    slip: (art) => roundelTee(art, { neededBy: TODAY }),
    reach: (scene) => unfolded(scene, '.stopped button', '[part~="refusal"] li'),
  },
  {
    // Messages that arrive later than any action of the customer: one line each.
    name: 'told',
    slip: (art) => slipOf([tee([placed(art['roundel-white-box.jpg'])])], { neededBy: TODAY }),
    reach: async ({ slip }) => {
      await slip.locator('.stopped [aria-expanded="false"]').waitFor();
      await slip.locator('.told [aria-expanded="false"]').waitFor();
    },
    about: '[part~="placement"]',
  },
  {
    name: 'uploading',
    before: (page) => never(page, '**/v1/shops/*/{artworks,uploads}**'),
    slip: () => slipOf([tee([])]),
    reach: async ({ slip }) => {
      await slip
        .locator('input[type="file"][multiple]')
        .first()
        .setInputFiles(demoArtwork('kettle-roundel.png'));
      await slip.locator('[part~="placement"] progress').waitFor();
    },
    about: '[part~="artwork"]',
  },
  {
    name: 'file-refused',
    before: (page) =>
      failing(page, '**/v1/shops/*/{artworks,uploads}**', 415, {
        type: 'about:blank',
        title: 'This kind of file cannot be used',
        status: 415,
        code: 'unsupported-file',
        detail: 'the file is HEIC; send PNG, JPEG, WebP, AVIF, TIFF, GIF, SVG or PDF',
      }),
    slip: () => slipOf([tee([])]),
    reach: async (scene) => {
      await scene.slip
        .locator('input[type="file"][multiple]')
        .first()
        .setInputFiles(demoArtwork('kettle-roundel.png'));
      await unfolded(scene, '.told button', '[part~="placement"] .alert');
    },
    about: '[part~="artwork"]',
  },
  {
    name: 'line-cut',
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await answered(scene);
      await scene.page.route('**/v1/shops/*/quotes', (route) => route.abort('internetdisconnected'));
      await scene.slip.locator('[part~="sizes"] input').first().fill('3');
      await unfolded(scene, '.stopped button', '.foot .alert');
    },
  },
  {
    name: 'shop-not-reached',
    before: (page) =>
      failing(page, '**/v1/shops/*/catalog', 500, {
        type: 'about:blank',
        title: 'fault',
        status: 500,
        code: 'server-fault',
        detail: 'x',
      }),
    reach: async ({ slip }) => slip.locator('.alert').waitFor(),
  },
  {
    name: 'empty-catalog',
    before: (page) => changedCatalog(page, (catalog) => ({ ...catalog, blanks: [] })),
    reach: async ({ slip }) => slip.locator('[part~="slip"][part] p').first().waitFor(),
  },
  {
    name: 'loading',
    before: (page) => never(page, '**/v1/shops/*/catalog'),
    reach: async ({ slip }) => slip.locator('[part~="slip"][aria-busy="true"]').waitFor(),
  },
  {
    name: 'ordering',
    slip: (art) => roundelTee(art),
    reach: proofSeen,
  },
  {
    name: 'ordering-faults',
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await proofSeen(scene);
      await scene.slip.locator('[part~="order"] input[name="email"]').fill('ada at quill');
      await scene.slip.locator('[part~="place-order"]').click();
      await scene.page.waitForTimeout(200);
    },
  },
  {
    name: 'proof-missing',
    before: async (page) => {
      await page.route('**/v1/shops/*/proofs', (route) => route.abort());
    },
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await openOrder(scene);
      await scene.page.waitForTimeout(200);
    },
  },
  {
    name: 'day-not-kept',
    before: (page) =>
      failing(page, '**/v1/shops/*/orders', 409, {
        type: 'about:blank',
        title: 'day',
        status: 409,
        code: 'day-not-kept',
        detail: 'x',
      }),
    slip: (art) => roundelTee(art),
    reach: async (scene) => {
      await placeOrder(scene);
      await unfolded(scene, '.stopped button', '.foot .alert');
    },
  },
  {
    name: 'placed',
    slip: (art) => slipOf([tee([placed(art['kettle-roundel.png'])]), cap(art)]),
    reach: async (scene) => {
      await placeOrder(scene);
      await scene.slip.locator('.stamp').waitFor();
    },
  },
  {
    name: 'disabled',
    attributes: { disabled: '' },
    slip: (art) => roundelTee(art),
    reach: async ({ slip }) => slip.locator('[part~="sizes"] input:disabled').first().waitFor(),
  },
];

/**
 * Opens a page that holds the slip and brings it into a state.
 *
 * @param address the page, such as the demo shop's with its language in the query
 */
export async function bringTo(
  page: Page,
  address: string,
  state: SlipState,
  art: KnownArtworks,
): Promise<Scene> {
  await state.before?.(page);
  const kept = state.slip?.(art);
  await page.addInitScript(
    ({ kept, attributes }) => {
      new MutationObserver((_, observer) => {
        const slip = document.querySelector('platen-order');
        if (!slip) return;
        observer.disconnect();
        for (const [name, value] of Object.entries(attributes)) slip.setAttribute(name, value);
        slip.toggleAttribute('forgetful', true);
        if (kept) (slip as unknown as { value: object }).value = kept;
      }).observe(document, { childList: true, subtree: true });
    },
    { kept: kept ?? null, attributes: state.attributes ?? {} },
  );
  const answer = await page.goto(address);
  if (!answer?.ok()) throw new Error(`${address} answers ${answer?.status() ?? 'nothing'}`);
  const scene = { page, slip: page.locator('platen-order'), art };
  try {
    await state.reach(scene);
  } catch (error) {
    throw new Error(`the slip did not reach "${state.name}": ${String(error)}`, { cause: error });
  }
  return scene;
}
