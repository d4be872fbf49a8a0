import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../api/deps.ts';
import { BASE, openTestApi, orderBody, type TestApi } from '../test-api.ts';

const SHOP_PAGE = 'https://shop.test';
const STRANGER = 'https://stranger.test';

type Provoked = { readonly path: string; readonly init?: RequestInit; readonly status: number };

/** One request for each status that a page may get. */
async function provoke(rig: TestApi): Promise<Provoked[]> {
  const slip = rig.slip();
  const { token } = await rig.quote(slip);
  const json = (body: unknown, key = 'h'): RequestInit => ({
    method: 'POST',
    headers: { 'content-type': 'application/json', 'idempotency-key': `"${key}"` },
    body: JSON.stringify(body),
  });
  return [
    { path: `${BASE}/catalog`, status: 200 },
    { path: `${BASE}/quotes`, init: json({ slip }), status: 200 },
    { path: `${BASE}/quotes`, init: json({}), status: 400 },
    { path: `${BASE}/nothing`, status: 404 },
    { path: `${BASE}/quotes`, init: { method: 'PUT' }, status: 405 },
    {
      path: `${BASE}/quotes`,
      init: {
        method: 'POST',
        headers: { 'content-type': 'application/json', 'content-length': '999999999' },
        body: '{}',
      },
      status: 413,
    },
    { path: `${BASE}/orders`, init: json(orderBody(`${token}x`, slip)), status: 422 },
    { path: `${BASE}/artworks`, init: { method: 'POST', body: new Uint8Array(10) }, status: 500 },
  ];
}

function from(origin: string, init: RequestInit = {}): RequestInit {
  return { ...init, headers: { ...(init.headers as Record<string, string>), origin } };
}

describe('an allow list of origins', () => {
  let rig: TestApi;
  beforeAll(async () => {
    rig = await openTestApi({ deps: { origins: [SHOP_PAGE], ownerOrigins: ['https://office.test'] } });
  });
  afterAll(() => rig.close());

  it('lets listed origins read every answer, including problems, and no other origin', async () => {
    for (const { path, init, status } of await provoke(rig)) {
      const ours = await rig.fetch(path, from(SHOP_PAGE, init));
      expect(ours.status, path).toBe(status);
      expect(ours.headers.get('access-control-allow-origin'), path).toBe(SHOP_PAGE);
      expect(ours.headers.get('access-control-expose-headers')).toContain('ETag');
      const theirs = await rig.fetch(path, from(STRANGER, init));
      expect(theirs.status, path).toBe(status);
      expect(theirs.headers.get('access-control-allow-origin'), path).toBeNull();
      for (const answer of [ours, theirs]) expect(answer.headers.get('vary')).toContain('Origin');
    }
  });

  it('applies to rate-limited answers, too', async () => {
    const tight = await openTestApi({
      deps: {
        origins: [SHOP_PAGE],
        limits: { ...DEFAULT_LIMITS, perMinute: { files: 1, orders: 1, others: 1 } },
      },
    });
    try {
      await tight.fetch(`${BASE}/catalog`);
      const answer = await tight.fetch(`${BASE}/catalog`, from(SHOP_PAGE));
      expect(answer.status).toBe(429);
      expect(Number(answer.headers.get('retry-after'))).toBeGreaterThan(0);
      expect(answer.headers.get('access-control-allow-origin')).toBe(SHOP_PAGE);
      expect(answer.headers.get('access-control-expose-headers')).toContain('Retry-After');
    } finally {
      await tight.close();
    }
  });

  it("has a separate list for the owner's routes", async () => {
    const key = { authorization: `Bearer ${rig.key}` };
    for (const headers of [key, {}]) {
      const office = await rig.fetch(`${BASE}/owner/orders`, from('https://office.test', { headers }));
      expect(office.status).toBe('authorization' in headers ? 200 : 401);
      expect(office.headers.get('access-control-allow-origin')).toBe('https://office.test');
      const page = await rig.fetch(`${BASE}/owner/orders`, from(SHOP_PAGE, { headers }));
      expect(page.headers.get('access-control-allow-origin')).toBeNull();
    }
  });

  it('accepts a preflight with our headers, without a shop or a key', async () => {
    const ask = (origin: string, path = `${BASE}/orders`) =>
      rig.fetch(path, {
        method: 'OPTIONS',
        headers: {
          origin,
          'access-control-request-method': 'POST',
          'access-control-request-headers': 'authorization,content-type,idempotency-key',
        },
      });
    const ours = await ask(SHOP_PAGE);
    expect(ours.status).toBe(204);
    expect(ours.headers.get('access-control-allow-origin')).toBe(SHOP_PAGE);
    expect(ours.headers.get('access-control-allow-methods')).toContain('POST');
    const allowed = (ours.headers.get('access-control-allow-headers') ?? '').toLowerCase();
    for (const header of ['authorization', 'content-type', 'idempotency-key', 'if-match'])
      expect(allowed).toContain(header);
    const theirs = await ask(STRANGER);
    expect(theirs.headers.get('access-control-allow-origin')).toBeNull();
    expect(theirs.headers.get('access-control-allow-methods')).toBeNull();
    expect(
      (await ask('https://office.test', `${BASE}/owner/orders`)).headers.get('access-control-allow-origin'),
    ).toBe('https://office.test');
  });
});

describe('without an allow list of origins', () => {
  let rig: TestApi;
  beforeAll(async () => {
    rig = await openTestApi();
  });
  afterAll(() => rig.close());

  it('allows any origin on customers’ routes, without credentials, and none on the owner’s', async () => {
    const answer = await rig.fetch(`${BASE}/catalog`, from(STRANGER));
    expect(answer.headers.get('access-control-allow-origin')).toBe('*');
    expect(answer.headers.get('access-control-allow-credentials')).toBeNull();
    const owned = await rig.fetch(`${BASE}/owner/orders`, from(STRANGER));
    expect(owned.headers.get('access-control-allow-origin')).toBeNull();
    expect(
      (await rig.fetch('/healthz', from(STRANGER))).headers.get('access-control-allow-origin'),
    ).toBeNull();
  });

  it('sends security headers and a request id with every answer', async () => {
    for (const { path, init } of await provoke(rig)) {
      const answer = await rig.fetch(path, init);
      expect(answer.headers.get('x-content-type-options')).toBe('nosniff');
      expect(answer.headers.get('referrer-policy')).toBe('no-referrer');
      const id = answer.headers.get('x-request-id') ?? '';
      expect(id).toMatch(/^[0-9a-f-]{36}$/);
      if (answer.status >= 400) expect(await answer.json()).toMatchObject({ instance: `urn:uuid:${id}` });
    }
    const given = '8e03978e-40d5-43e8-bc93-6894a57f9324';
    const ours = await rig.fetch('/healthz', { headers: { 'x-request-id': given } });
    expect(ours.headers.get('x-request-id')).toBe(given);
    const forged = await rig.fetch('/healthz', { headers: { 'x-request-id': 'x"} evil {"' } });
    expect(forged.headers.get('x-request-id')).not.toContain('evil');
  });
});

describe('the catalog', () => {
  let rig: TestApi;
  beforeAll(async () => {
    rig = await openTestApi();
  });
  afterAll(() => rig.close());

  it('is answered with 304 while it is unchanged', async () => {
    const first = await rig.fetch(`${BASE}/catalog`);
    const etag = first.headers.get('etag')!;
    for (const tags of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
      const again = await rig.fetch(`${BASE}/catalog`, { headers: { 'if-none-match': tags } });
      expect(again.status).toBe(304);
      expect(await again.text()).toBe('');
      expect(again.headers.get('etag')).toBe(etag);
    }
    const other = await rig.fetch(`${BASE}/catalog`, { headers: { 'if-none-match': '"other"' } });
    expect(other.status).toBe(200);
    const head = await rig.fetch(`${BASE}/catalog`, { method: 'HEAD' });
    expect(head.status).toBe(200);
    expect(await head.text()).toBe('');
  });

  it('is compressed for clients that accept it', async () => {
    const plain = await (await rig.fetch(`${BASE}/catalog`)).text();
    const answer = await rig.fetch(`${BASE}/catalog`, { headers: { 'accept-encoding': 'gzip, br' } });
    expect(answer.headers.get('content-encoding')).toBe('gzip');
    expect(answer.headers.get('vary')).toBe('Origin, Accept-Encoding');
    const packed = Buffer.from(await answer.arrayBuffer());
    expect(packed.length).toBeLessThan(plain.length / 3);
    expect(gunzipSync(packed).toString()).toBe(plain);
    const etag = answer.headers.get('etag')!;
    const again = await rig.fetch(`${BASE}/catalog`, {
      headers: { 'if-none-match': etag, 'accept-encoding': 'gzip' },
    });
    expect(again.status).toBe(304);
  });

  it('holds no cost, rate, wage or margin', async () => {
    const text = await (await rig.fetch(`${BASE}/catalog`)).text();
    for (const word of ['cost', 'wage', 'rate', 'margin', 'spoilage', 'consumables', 'stations', 'crew'])
      expect(text.toLowerCase()).not.toContain(`"${word}`);
    expect(JSON.parse(text).blanks.length).toBeGreaterThan(3);
  });
});
