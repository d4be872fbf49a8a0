import { randomBytes } from 'node:crypto';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { createShop } from '../../../api/services/create-shop.ts';
import { demoCatalog } from '../../../demo/catalog.ts';
import { OrderPlaced, OrderStatus } from '../../../src/contract/index.ts';
import {
  addArtwork,
  BASE,
  onBothStores,
  openTestApi,
  orderBody,
  placed,
  problemOf,
  SHOP,
  type TestApi,
} from '../test-api.ts';

onBothStores('ordering', (kind) => {
  let rig: TestApi;
  beforeEach(async () => {
    rig = await openTestApi({ kind });
  });
  afterEach(() => rig.close());

  it('books what was quoted and shows its status to the holder of the key', async () => {
    const slip = rig.slip((s) => {
      s.neededBy = '2026-03-29';
    });
    const quote = await rig.quote(slip);
    const response = await rig.post(`${BASE}/orders`, orderBody(quote.token, slip), {
      'idempotency-key': '"one"',
    });
    expect(response.status).toBe(201);
    const order = OrderPlaced.parse(await response.json());
    expect(order.status).toMatchObject({
      state: 'accepted',
      promisedDay: quote.promise.day,
      total: quote.total,
      pieces: 3,
    });
    const { lines, fees, tax } = order.status;
    const parts = [...lines.map((line) => line.total), ...fees.map((fee) => fee.amount)];
    if (!tax.included) parts.push(tax.amount);
    const cents = (amount: string): number => Math.round(Number(amount) * 100);
    expect(parts.map(cents).reduce((sum, part) => sum + part, 0)).toBe(cents(quote.total));

    const seen = await rig.fetch(`${BASE}/orders/${order.number}?key=${order.statusKey}`);
    expect(seen.status).toBe(200);
    expect(OrderStatus.parse(await seen.json())).toEqual(order.status);
    const stranger = await rig.fetch(`${BASE}/orders/${order.number}?key=${'x'.repeat(22)}`);
    expect((await problemOf(stranger)).code).toBe('not-found');

    const owned = (await (await rig.own(`/orders/${order.number}`)).json()) as {
      slip: { neededBy: string };
      bookings: { end: string }[];
      bill: { total: string; lines: { amount: string }[] };
    };
    expect(owned.slip.neededBy).toBe('2026-03-29');
    expect(owned.bookings.length).toBeGreaterThan(0);
    expect(owned.bill.lines.length).toBeGreaterThan(3);
    const head = await rig.store.shops.head(SHOP);
    expect(head?.planVersion).toBe(1);
  });

  it('makes one order of 20 simultaneous requests with one key', async () => {
    const slip = rig.slip();
    const { token } = await rig.quote(slip);
    const answers = await Promise.all(
      Array.from({ length: 20 }, () =>
        rig.post(`${BASE}/orders`, orderBody(token, slip), { 'idempotency-key': '"k1"' }),
      ),
    );
    expect(answers.map(({ status }) => status)).toEqual(Array.from({ length: 20 }, () => 201));
    const bodies = await Promise.all(answers.map((answer) => answer.text()));
    expect(new Set(bodies).size).toBe(1);
    const list = (await (await rig.own('/orders')).json()) as { orders: { number: string }[] };
    expect(list.orders.map(({ number }) => number)).toEqual([JSON.parse(bodies[0]!).number]);
  });

  it('refuses a key used for another order, but not one of another shop', async () => {
    const slip = rig.slip();
    const first = await placed(await rig.order(slip, 'k1'));
    const other = rig.slip((s) => {
      s.lines[0]!.counts[0]!.count = 4;
    });
    const reused = await problemOf(await rig.order(other, 'k1'));
    expect(reused).toMatchObject({ status: 422, code: 'key-reused' });

    await createShop(rig.store, 'second', demoCatalog, { now: () => rig.clock.ms, randomBytes });
    await addArtwork(rig.store, 'second', rig.artwork);
    const quote = (await (await rig.post('/v1/shops/second/quotes', { slip })).json()) as { token: string };
    const there = await placed(
      await rig.post('/v1/shops/second/orders', orderBody(quote.token, slip), { 'idempotency-key': '"k1"' }),
    );
    expect(there.statusKey).not.toBe(first.statusKey);
    // The first shop's key is not valid in the second.
    const owned = await rig.fetch('/v1/shops/second/owner/orders', {
      headers: { authorization: `Bearer ${rig.key}` },
    });
    expect((await problemOf(owned)).code).toBe('wrong-key');
  });

  it('answers a late retry as before, even after the quote has expired', async () => {
    const slip = rig.slip();
    const { token } = await rig.quote(slip);
    const send = () => rig.post(`${BASE}/orders`, orderBody(token, slip), { 'idempotency-key': '"late"' });
    const first = await (await send()).text();
    rig.clock.ms += 5 * 3_600_000;
    const again = await send();
    expect(again.status).toBe(201);
    expect(await again.text()).toBe(first);
  });

  it('requires an Idempotency-Key', async () => {
    const slip = rig.slip();
    const { token } = await rig.quote(slip);
    const none = await problemOf(await rig.post(`${BASE}/orders`, orderBody(token, slip)));
    expect(none).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(none.faults[0]!.at).toBe('headers.Idempotency-Key');
    const wrong = await problemOf(
      await rig.post(`${BASE}/orders`, orderBody(token, slip), { 'idempotency-key': '"a" "b"' }),
    );
    expect(wrong).toMatchObject({ status: 400, code: 'invalid-input' });
  });

  it('refuses a quote that was altered, is of another slip, or has expired', async () => {
    const slip = rig.slip();
    const { token } = await rig.quote(slip);
    const send = async (body: unknown) =>
      problemOf(await rig.post(`${BASE}/orders`, body, { 'idempotency-key': '"x"' }));
    const [head, payload, signature] = token.split('.') as [string, string, string];
    const claims = JSON.parse(Buffer.from(payload, 'base64url').toString()) as Record<string, unknown>;
    const cheaper = Buffer.from(JSON.stringify({ ...claims, total: '0.01' })).toString('base64url');
    expect(await send(orderBody(`${head}.${cheaper}.${signature}`, slip))).toMatchObject({
      status: 422,
      code: 'quote-altered',
    });
    const none = Buffer.from(JSON.stringify({ alg: 'none' })).toString('base64url');
    expect((await send(orderBody(`${none}.${payload}.`, slip))).code).toBe('quote-altered');
    const more = rig.slip((s) => {
      s.lines[0]!.counts[0]!.count = 30;
    });
    expect(await send(orderBody(token, more))).toMatchObject({ status: 422, code: 'slip-differs' });
    rig.clock.ms += 61 * 60_000;
    expect(await send(orderBody(token, slip))).toMatchObject({ status: 409, code: 'quote-expired' });
    expect(((await (await rig.own('/orders')).json()) as { orders: unknown[] }).orders).toEqual([]);
  });

  it('honors a quote of the previous catalog, and quotes from the new one', async () => {
    const slip = rig.slip();
    const quote = await rig.quote(slip);
    const current = await rig.own('/catalog');
    const catalog = (await current.json()) as { prices: { list: { breaks: { unit: string }[] }[] } };
    for (const entry of catalog.prices.list) for (const step of entry.breaks) step.unit = '99.00';
    const put = await rig.own('/catalog', {
      method: 'PUT',
      headers: { 'if-match': current.headers.get('etag')! },
      body: JSON.stringify(catalog),
    });
    expect(put.status).toBe(200);
    const dearer = await rig.quote(slip);
    expect(Number(dearer.total)).toBeGreaterThan(Number(quote.total));
    expect(dearer.catalogVersion).toBe(2);
    const order = await placed(
      await rig.post(`${BASE}/orders`, orderBody(quote.token, slip), { 'idempotency-key': '"old"' }),
    );
    expect(order.status.total).toBe(quote.total);
  });

  it('answers with a new quote if the day can no longer be kept, and books nothing', async () => {
    const big = rig.slip((s) => {
      s.lines[0]!.counts[0]!.count = 40;
    });
    const kept = await rig.quote(big);
    // Others order until that day is full.
    while ((await rig.quote(big)).promise.day === kept.promise.day) await placed(await rig.order(big));
    const head = await rig.store.shops.head(SHOP);
    const late = await rig.post(`${BASE}/orders`, orderBody(kept.token, big), {
      'idempotency-key': '"late"',
    });
    const refused = await problemOf(late);
    expect(refused).toMatchObject({ status: 409, code: 'day-not-kept' });
    const { quote } = refused.body as { quote: { promise: { day: string }; token: string } };
    expect(quote.promise.day > kept.promise.day).toBe(true);
    expect(await rig.store.shops.head(SHOP)).toEqual(head);
    // The new quote can be ordered.
    const instead = await placed(
      await rig.post(`${BASE}/orders`, orderBody(quote.token, big), { 'idempotency-key': '"instead"' }),
    );
    expect(instead.status.promisedDay).toBe(quote.promise.day);
  });

  it('stores amounts and days unchanged', async () => {
    // Amounts are text in the store and come back unchanged, on any database.
    const slip = rig.slip((s) => {
      s.neededBy = '2026-03-29';
    });
    const quote = await rig.quote(slip);
    const order = await placed(await rig.order(slip));
    const stored = await rig.store.orders.get(SHOP, order.number);
    expect(stored?.answer).toMatchObject({
      subtotal: quote.subtotal,
      total: quote.total,
      tax: quote.tax,
      fees: quote.fees,
      lines: quote.lines.map(({ total, unit, sizes }) => ({ total, unit, sizes })),
    });
    for (const amount of JSON.stringify(stored?.answer).matchAll(
      /"(?:total|amount|subtotal)":("[^"]*"|[^",}]+)/g,
    ))
      expect(amount[1]).toMatch(/^"-?\d+\.\d\d"$/);
    expect(stored?.slip.neededBy).toBe('2026-03-29');
  });
});
