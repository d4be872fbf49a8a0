import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { BASE, openTestApi, placed, problemOf, SHOP, type TestApi } from '../../test-api.ts';

describe('keys', () => {
  let rig: TestApi;
  beforeEach(async () => {
    rig = await openTestApi();
  });
  afterEach(() => rig.close());

  const as = (key: string, path: string, init: RequestInit = {}) =>
    rig.fetch(`${BASE}/owner${path}`, {
      ...init,
      headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' },
    });
  const add = async (name: string, role: string) =>
    (await (await rig.own('/keys', { method: 'POST', body: JSON.stringify({ name, role }) })).json()) as {
      id: string;
      key: string;
    };

  it('are stored as hashes and shown once', async () => {
    const { key, id } = await add('office', 'owner');
    const secret = key.split('.')[1]!;
    const listed = await (await rig.own('/keys')).text();
    expect(listed).toContain(id);
    expect(listed).not.toContain(secret);
    expect(JSON.stringify(await rig.store.keys.all(SHOP))).not.toContain(secret);
    expect((await as(key, '/orders')).status).toBe(200);
  });

  it("open nothing once revoked; the owner's last key cannot be revoked", async () => {
    const { key, id } = await add('office', 'owner');
    const { keys } = (await (await rig.own('/keys')).json()) as { keys: { id: string; name: string }[] };
    const first = keys.find(({ name }) => name === 'first owner');
    expect((await as(key, `/keys/${first!.id}`, { method: 'DELETE' })).status).toBe(204);
    expect(await problemOf(await rig.own('/orders'))).toMatchObject({ status: 401, code: 'wrong-key' });
    expect(await problemOf(await as(key, `/keys/${id}`, { method: 'DELETE' }))).toMatchObject({
      status: 403,
      code: 'not-allowed',
    });
    expect((await as(key, `/keys/${first!.id}`, { method: 'DELETE' })).status).toBe(404);
  });

  it('of the floor see the plan and tickets, not prices, costs or customers', async () => {
    const { number } = await placed(await rig.order(rig.slip()));
    const { key } = await add('press', 'floor');
    for (const path of ['/plan', '/plan.ics']) expect((await as(key, path)).status, path).toBe(200);
    for (const path of ['/orders', `/orders/${number}`, '/catalog', '/catalog/versions', '/keys'])
      expect((await problemOf(await as(key, path))).code, path).toBe('not-allowed');
    const plan = await (await as(key, '/plan')).text();
    expect(plan).not.toContain('ada@example.org');
    const packed = await as(key, `/orders/${number}`, { method: 'PATCH', body: '{"state":"packed"}' });
    expect(await packed.json()).toEqual({ number, state: 'packed' });
  });

  it('for signing can be rotated: earlier quotes stay valid, unless all are revoked', async () => {
    const slip = rig.slip();
    const before = await rig.quote(slip);
    await rig.own('/signing-keys', { method: 'POST', body: '{}' });
    const after = await rig.quote(slip);
    const kid = (token: string) => JSON.parse(Buffer.from(token.split('.')[0]!, 'base64url').toString()).kid;
    expect(kid(after.token)).not.toBe(kid(before.token));
    const order = (token: string, key: string) =>
      rig.post(
        `${BASE}/orders`,
        { token, slip, contact: { name: 'A', email: 'a@example.org' } },
        { 'idempotency-key': `"${key}"` },
      );
    expect((await order(before.token, 'a')).status).toBe(201);
    rig.clock.ms++;
    await rig.own('/signing-keys', { method: 'POST', body: '{"now":true}' });
    // A process without the old secret in its cache does not find it in the store.
    const second = await openRigOn(rig);
    const taken = await second(`${BASE}/orders`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'idempotency-key': '"b"' },
      body: JSON.stringify({ token: after.token, slip, contact: { name: 'A', email: 'a@example.org' } }),
    });
    expect((await problemOf(taken)).code).toBe('quote-altered');
    expect((await problemOf(await order(after.token, 'c'))).code).toBe('quote-altered');
  });
});

async function openRigOn(rig: TestApi): Promise<(path: string, init: RequestInit) => Promise<Response>> {
  const { createApp } = await import('../../../../api/app.ts');
  const app = createApp(rig.deps);
  return async (path, init) => app.request(path, init);
}
