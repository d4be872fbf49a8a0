import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FilePool, openFilePool } from '../../../api/files/index.ts';
import { demoCatalog } from '../../../demo/catalog.ts';
import type { WrittenBill } from '../../../src/pricing/index.ts';
import {
  BASE,
  disc,
  type MutableCatalog,
  type MutableSlip,
  openTestApi,
  orderBody,
  placed,
  type TestApi,
} from '../test-api.ts';

/**
 * Nothing that a customer can fetch contains a cost figure: every customers' route of a shop with unique rates is called,
 * and the answers, with headers and decoded signatures, are searched for the catalog's rates and for every quantity, rate
 * and amount of the owner's bills.
 */

/** Unique figures that are no price, length or count: four odd decimals. */
function madeUp(): (about: number) => string {
  let digits = 1237;
  return (about) => {
    digits += 74;
    return `${Math.floor(about)}.${digits}`;
  };
}

function oddlyRated(): { readonly catalog: MutableCatalog; readonly rates: readonly string[] } {
  const catalog = structuredClone(demoCatalog) as MutableCatalog;
  const odd = madeUp();
  const rates: string[] = [];
  const rate = (about: string): string => {
    const made = odd(Number(about));
    rates.push(made);
    return made;
  };
  for (const { sizes, colors } of catalog.blanks) {
    for (const size of sizes) size.cost = rate(size.cost);
    for (const color of colors) color.extraCost = rate('0');
  }
  for (const { consumables } of catalog.methods)
    for (const each of consumables) each.price = rate(each.price);
  for (const station of catalog.stations) station.ratePerHour = rate(station.ratePerHour);
  catalog.crew.wagePerHour = '13.37';
  catalog.prices.margin = '0.6137';
  catalog.prices.floorMargin = '0.0739';
  return { catalog, rates: [...rates, '13.37', '0.6137', '0.0739'] };
}

const { catalog, rates } = oddlyRated();
let pool: FilePool;
let rig: TestApi;
beforeAll(async () => {
  pool = await openFilePool({ size: 1 });
  rig = await openTestApi({ pool, catalog });
});
afterAll(async () => {
  await rig.close();
  await pool.close();
});

type Walked = { readonly asked: string; readonly text: string };
const walked: Walked[] = [];

async function walk(method: string, path: string, init: RequestInit = {}): Promise<Response> {
  const response = await rig.fetch(path, { method, ...init });
  const text = (response.headers.get('content-type') ?? '').startsWith('image/')
    ? ''
    : await response.clone().text();
  const headers = [...response.headers].map(([name, value]) => `${name}: ${value}`);
  // Anyone can decode what a signature covers.
  const signed = [...text.matchAll(/"token":"[^".]*\.([^".]*)\./g)].map(([, claims]) =>
    Buffer.from(claims!, 'base64url').toString(),
  );
  walked.push({
    asked: `${method} ${path} ${response.status}`,
    text: [...headers, text, ...signed].join('\n'),
  });
  return response;
}

const json = (body: unknown, headers: Record<string, string> = {}): RequestInit => ({
  body: JSON.stringify(body),
  headers: { 'content-type': 'application/json', ...headers },
});
const TUS = { 'tus-resumable': '1.0.0' };

async function walkFiles(): Promise<string> {
  const { data, width, height } = disc(400, 300, 120);
  const png = new Uint8Array(
    await sharp(data, { raw: { width, height, channels: 4 } })
      .png()
      .toBuffer(),
  );
  const artwork = ((await (await walk('POST', `${BASE}/artworks`, { body: png })).json()) as { id: string })
    .id;
  await walk('POST', `${BASE}/artworks`, { body: png.slice(0, 60) });
  await walk('GET', `${BASE}/artworks/${artwork}`);
  await walk('GET', `${BASE}/artworks/${artwork}/preview.png`);
  const trimmed = await walk(
    'POST',
    `${BASE}/artworks/${artwork}/mended`,
    json({ remedies: [{ kind: 'trim' }] }),
  );
  const { preview } = (await trimmed.json()) as { preview?: string };
  await walk('GET', preview ?? `${BASE}/artworks/${artwork}/mended/none.png`);
  const begun = { headers: { ...TUS, 'upload-length': String(png.length) } };
  await walk('OPTIONS', `${BASE}/uploads`);
  for (const end of ['PATCH', 'DELETE']) {
    const upload = (await walk('POST', `${BASE}/uploads`, begun)).headers.get('location')!;
    for (const look of ['HEAD', 'GET']) await walk(look, upload, { headers: TUS });
    await walk(end, upload, {
      headers: { ...TUS, 'content-type': 'application/offset+octet-stream', 'upload-offset': '0' },
      ...(end === 'PATCH' ? { body: png } : {}),
    });
  }
  return artwork;
}

const bills: WrittenBill[] = [];

async function walkOrder(slip: ReturnType<TestApi['slip']>): Promise<void> {
  const quoted = await walk('POST', `${BASE}/quotes`, json({ slip }));
  const { token } = (await quoted.json()) as { token: string };
  const order = (key: string) =>
    walk('POST', `${BASE}/orders`, json(orderBody(token, slip), { 'idempotency-key': key }));
  const done = await order(`"${token.slice(-8)}"`);
  const { number, statusUrl } = await placed(done);
  const key = new URL(statusUrl, 'http://shop.example').searchParams.get('key');
  await walk('GET', `${BASE}/orders/${number}?key=${key}`);
  await walk('GET', `${BASE}/orders/${number}?key=wrong`);
  const owned = (await (await rig.own(`/orders/${number}`)).json()) as { bill: WrittenBill };
  bills.push(owned.bill);
}

describe('everything a customer can fetch', () => {
  it('holds no rate of the catalog and no figure of a bill', async () => {
    const artwork = await walkFiles();
    const slip = (change: (slip: MutableSlip, line: MutableSlip['lines'][number]) => unknown = () => {}) =>
      rig.slip((made) => {
        made.lines[0]!.placements![0]!.artwork = artwork;
        change(made, made.lines[0]!);
      });
    const black = slip((_, line) =>
      Object.assign(line, { color: 'black', counts: [{ size: 'm', count: 29 }] }),
    );
    const transfer = slip((all, line) => {
      Object.assign(line, { method: 'white-toner-transfer', counts: [{ size: 'xl', count: 7 }] });
      all.rush = true;
    });
    for (const wanted of [slip(), black, transfer]) await walkOrder(wanted);
    for (const change of [
      (line: MutableSlip['lines'][number]) => Object.assign(line.placements![0]!, { widthMm: 900 }),
      (line: MutableSlip['lines'][number]) => Object.assign(line, { blank: 'sock' }),
      (line: MutableSlip['lines'][number]) => Object.assign(line, { counts: [{ size: 'm', count: 0 }] }),
    ])
      await walk('POST', `${BASE}/quotes`, json({ slip: slip((_, line) => change(line)) }));
    await walk(
      'POST',
      `${BASE}/quotes`,
      json({ slip: slip((all) => Object.assign(all, { neededBy: '2026-03-02' })) }),
    );
    const drawn = await walk('POST', `${BASE}/proofs`, json({ slip: slip(), line: 'tees', view: 'front' }));
    await walk('GET', ((await drawn.json()) as { url: string }).url);
    await walk('POST', `${BASE}/orders`, json({ token: 'none', slip: slip() }, { 'idempotency-key': '"x"' }));
    for (const path of [`${BASE}/catalog`, '/v1/openapi.json', '/healthz', '/readyz', '/metrics'])
      await walk('GET', path);
    await walk('GET', '/v1/problems/day-not-kept');
    for (const path of ['owner/catalog', 'owner/orders', 'owner/plan']) await walk('GET', `${BASE}/${path}`);

    const found = (figures: ReadonlyMap<string, string>): string | undefined => {
      for (const { asked, text } of walked)
        for (const [figure] of text.matchAll(/\d+(\.\d+)?/g))
          if (figures.has(figure)) return `${asked} tells ${figures.get(figure)}: ${figure}`;
      return undefined;
    };
    const figures = new Map<string, string>(rates.map((rate) => [rate, 'a rate of the catalog']));
    for (const bill of bills) {
      const tell = (figure: string | number, what: string): void => {
        // Short figures, such as 3 pieces or 0.5 hours, occur everywhere.
        if (`${figure}`.replace(/\D/g, '').replace(/^0+/, '').length >= 4) figures.set(`${figure}`, what);
      };
      tell(bill.total, 'the cost');
      for (const part of bill.byLine) tell(part, 'the cost of a line');
      tell(bill.crewMinutes, 'minutes of the crew');
      for (const [station, minutes] of Object.entries(bill.stationMinutes))
        tell(minutes, `minutes of ${station}`);
      for (const { what, item, quantity, rate, amount } of bill.lines) {
        tell(quantity, `how much ${what} ${item}`);
        tell(rate, `the rate of ${what} ${item}`);
        tell(amount, `the amount of ${what} ${item}`);
      }
    }
    expect(figures.size).toBeGreaterThan(100);
    expect(walked.some(({ text }) => text.includes('"iss":'))).toBe(true);
    expect(found(figures)).toBeUndefined();
    // The search finds a figure that is there: the price.
    const price = (await rig.quote(black)).total;
    expect(found(new Map([[price, 'the price']]))).toContain('/quotes 200 tells the price');
  });

  it('is all of it: every route without a key was asked, but for what the machine alone may see', async () => {
    const document = (await (await rig.fetch('/v1/openapi.json')).json()) as {
      paths: Record<string, Record<string, unknown>>;
    };
    const asked = Object.entries(document.paths).flatMap(([path, methods]) =>
      path.includes('/owner/') || path === '/metrics'
        ? []
        : Object.keys(methods).map((method) => [method.toUpperCase(), path] as const),
    );
    expect(asked.length).toBeGreaterThan(15);
    const missed = asked.filter(([method, path]) => {
      const like = new RegExp(`^${method} ${path.replace(/\{\w+\}/g, '[^/ ?]+')}(\\?\\S*)? [23]\\d\\d$`);
      return !walked.some((each) => like.test(each.asked));
    });
    expect(missed).toEqual([]);
  });
});
