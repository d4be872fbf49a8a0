import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoCatalog } from '../../../demo/catalog.ts';
import {
  BASE,
  type Json,
  type MutableCatalog,
  type MutableSlip,
  openTestApi,
  orderBody,
  placed,
  type TestApi,
} from '../test-api.ts';

/**
 * No cost can be learned from a customer's answers: two shops that differ only in their costs give the same answers, byte
 * for byte. Prices are listed and far above the margin floor; where the floor binds, the price depends on the cost, and
 * only the price differs.
 */

function shopOf(change: (catalog: MutableCatalog) => unknown): MutableCatalog {
  const catalog = structuredClone(demoCatalog) as MutableCatalog;
  catalog.prices.floorMargin = '0';
  catalog.prices.choose = 'lowest-price';
  change(catalog);
  return catalog;
}

/** Raises all costs slightly, so that no other method becomes cheaper. */
function dearer(catalog: MutableCatalog): void {
  const up = (amount: string): string => (Number(amount) * 1.01).toFixed(8);
  for (const blank of catalog.blanks) {
    for (const size of blank.sizes) size.cost = up(size.cost);
    for (const color of blank.colors) color.extraCost = up(color.extraCost ?? '0');
  }
  for (const method of catalog.methods) for (const each of method.consumables) each.price = up(each.price);
  for (const station of catalog.stations) station.ratePerHour = up(station.ratePerHour);
  catalog.crew.wagePerHour = up(catalog.crew.wagePerHour);
  catalog.prices.margin = '0.61';
}

let cheap: TestApi;
let dear: TestApi;
beforeAll(async () => {
  cheap = await openTestApi({ catalog: shopOf(() => {}) });
  dear = await openTestApi({ catalog: shopOf(dearer) });
});
afterAll(() => Promise.all([cheap.close(), dear.close()]));

/** An answer without its random parts: request ids, keys and signatures. */
async function bodies(ask: (rig: TestApi) => Promise<Response>): Promise<[one: string, other: string]> {
  const read = async (rig: TestApi): Promise<string> => {
    const response = await ask(rig);
    const text = await response.text();
    const headers = [...response.headers].filter(([name]) => name !== 'x-request-id');
    return `${response.status} ${JSON.stringify(headers)} ${text}`
      .replace(/"token":"[^"]*"/g, '"token":""')
      .replace(/"(requestId|instance|orderKey|statusUrl|status)":"[^"]*"/g, '"$1":""');
  };
  return [await read(cheap), await read(dear)];
}

const quoteOf = (change: (slip: MutableSlip) => unknown) => (rig: TestApi) =>
  rig.post(`${BASE}/quotes`, { slip: rig.slip((slip) => void change(slip)) });

const many = (count: number) => (slip: MutableSlip) =>
  Object.assign(line(slip), { counts: [{ size: 'm', count }] });
const line = (slip: MutableSlip) => slip.lines[0]!;

describe('two shops that differ only in costs', () => {
  it.each<[string, (slip: MutableSlip) => unknown]>([
    ['a few', () => {}],
    ['many', many(250)],
    ['more than a break would cost', many(11)],
    ['dark', (slip) => Object.assign(line(slip), { color: 'black' })],
    ['a soft hand', (slip) => Object.assign(line(slip), { finish: 'soft-hand' })],
    ['a method asked for', (slip) => Object.assign(line(slip), { method: 'white-toner-transfer' })],
    ['a day', (slip) => Object.assign(slip, { neededBy: '2026-03-20' })],
    ['a day too early', (slip) => Object.assign(slip, { neededBy: '2026-03-02' })],
    ['rush', (slip) => Object.assign(slip, { rush: true })],
    ['too large', (slip) => Object.assign(line(slip).placements![0]!, { widthMm: 900 })],
    ['nothing to print', (slip) => Object.assign(line(slip), { placements: [] })],
    ['an unknown blank', (slip) => Object.assign(line(slip), { blank: 'sock' })],
    ['a count that is none', (slip) => Object.assign(line(slip).counts[0]!, { count: 0 })],
    [
      'two placements',
      (slip) =>
        void line(slip).placements!.push({
          ...line(slip).placements![0]!,
          id: 'back',
          face: 'back',
          widthMm: 60,
        }),
    ],
  ])('%s: the same answer', async (_, change) => {
    const [one, other] = await bodies(quoteOf(change));
    expect(other).toBe(one);
  });

  it('the same catalog, order, state of the order and description', async () => {
    for (const path of [`${BASE}/catalog`, '/openapi.json', `${BASE}/orders/none?key=none`, '/healthz']) {
      const [one, other] = await bodies((rig) => rig.fetch(path));
      expect(other, path).toBe(one);
    }
    const states = await Promise.all(
      [cheap, dear].map(async (rig) => {
        const order = await placed(await rig.order(rig.slip()));
        const { statusUrl, ...rest } = order as unknown as Json;
        const key = new URL(String(statusUrl), 'http://x').searchParams.get('key');
        const status = await (await rig.fetch(`${BASE}/orders/${order.number}?key=${key}`)).json();
        return { rest: Object.keys(rest), order: order.number, status };
      }),
    );
    expect(states[1]).toEqual(states[0]);
  });

  it('the same refusal of an order, with its new quote where the day can no longer be kept', async () => {
    // After the cut-off, what was quoted before is promised for a later day.
    const [quotedAt, orderedAt] = [3.5 * 3_600_000, 4.2 * 3_600_000];
    const slip = (rig: TestApi) => rig.slip(many(3));
    const began = cheap.clock.ms;
    for (const rig of [cheap, dear]) rig.clock.ms = began + quotedAt;
    const tokens = new Map<TestApi, string>();
    for (const rig of [cheap, dear]) tokens.set(rig, (await rig.quote(slip(rig))).token);
    for (const rig of [cheap, dear]) rig.clock.ms = began + orderedAt;
    const order = (token: (rig: TestApi) => string) =>
      bodies((rig) =>
        rig.post(`${BASE}/orders`, orderBody(token(rig), slip(rig)), { 'idempotency-key': '"late"' }),
      );
    const [one, other] = await order((rig) => tokens.get(rig)!);
    expect(one).toMatch(/^409 .*"day-not-kept"/);
    expect(other).toBe(one);
    const [altered, alteredToo] = await order((rig) => `${tokens.get(rig)!.slice(0, -6)}AAAAAA`);
    expect(altered).toMatch(/^4\d\d .*"quote-altered"/);
    expect(alteredToo).toBe(altered);
    for (const rig of [cheap, dear]) rig.clock.ms = began;
  });

  it('the owner sees the difference', async () => {
    const bills = await Promise.all(
      [cheap, dear].map(async (rig) => {
        const { number } = await placed(await rig.order(rig.slip()));
        return JSON.stringify(await (await rig.own(`/orders/${number}`)).json());
      }),
    );
    expect(bills[0]).toContain('"set-up-crew"');
    expect(bills[1]).not.toBe(bills[0]);
  });
});

describe('where the margin floor binds', () => {
  it('only prices differ; no reason names a floor, a cost or a margin', async () => {
    const floor = (catalog: MutableCatalog) => Object.assign(catalog.prices, { floorMargin: '0.9' });
    const one = await openTestApi({ catalog: shopOf(floor) });
    const other = await openTestApi({
      catalog: shopOf((catalog) => {
        floor(catalog);
        dearer(catalog);
      }),
    });
    const answers = await Promise.all(
      [one, other].map(async (rig) =>
        JSON.stringify(await rig.quote(rig.slip())).replace(/"token":"[^"]*"/, ''),
      ),
    );
    const withoutAmounts = answers.map((text) => text.replace(/"-?\d+\.\d{2}"/g, '""'));
    expect(answers[1]).not.toBe(answers[0]);
    expect(withoutAmounts[1]).toBe(withoutAmounts[0]);
    for (const text of answers) expect(text).not.toMatch(/floor|cost|margin(?!-rate)|wage|spoilage/i);
    await Promise.all([one.close(), other.close()]);
  });
});
