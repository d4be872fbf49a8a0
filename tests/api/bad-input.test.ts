import { createServer } from 'node:http';
import type { AddressInfo } from 'node:net';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BASE, openTestApi, orderBody, problemOf, type TestApi } from './test-api.ts';

let rig: TestApi;
const logged: string[] = [];
beforeAll(async () => {
  const logger = pino({ level: 'warn' }, { write: (line: string) => void logged.push(line) });
  rig = await openTestApi({ deps: { logger } });
});
afterAll(() => rig.close());

const ROUTES = [`${BASE}/orders`, `${BASE}/quotes`];

function send(path: string, body: BodyInit, type = 'application/json'): Promise<Response> {
  return rig.fetch(path, {
    method: 'POST',
    headers: { 'content-type': type, 'idempotency-key': '"bad"' },
    body,
  });
}

describe('broken JSON', () => {
  const broken: readonly (readonly [string, BodyInit])[] = [
    ['a cut-off object', '{"a":'],
    ['nothing', ''],
    ['two values', '{"a":1}{"b":2}'],
    ['bytes FF FE', new Uint8Array([0xff, 0xfe])],
    ['no UTF-8 inside a text', new Uint8Array([0x22, 0xc3, 0x28, 0x22])],
    ['null', 'null'],
    ['a list', '[]'],
    ['a text', '"x"'],
  ];
  it.each(broken)('%s is answered with 400, and no server fault is logged', async (_, body) => {
    logged.length = 0;
    for (const path of ROUTES) {
      const problem = await problemOf(await send(path, body));
      expect(problem.status).toBe(400);
      expect(['malformed-json', 'invalid-input']).toContain(problem.code);
    }
    expect(logged).toEqual([]);
  });

  it('differs from valid JSON of the wrong shape', async () => {
    expect((await problemOf(await send(ROUTES[0]!, '{"a":'))).code).toBe('malformed-json');
    expect((await problemOf(await send(ROUTES[0]!, '[]'))).code).toBe('invalid-input');
  });

  it('is only read with a JSON content type', async () => {
    const slip = rig.slip();
    for (const type of ['text/plain', 'application/xml', 'multipart/form-data; boundary=x']) {
      const problem = await problemOf(await send(`${BASE}/quotes`, JSON.stringify({ slip }), type));
      expect(problem).toMatchObject({ status: 415, code: 'unsupported-media' });
    }
    const charset = await send(`${BASE}/quotes`, JSON.stringify({ slip }), 'application/json; charset=utf-8');
    expect(charset.status).toBe(200);
  });
});

describe('a server fault', () => {
  it('is logged with its stack and the request id of the answer', async () => {
    logged.length = 0;
    // The pool under test throws.
    const problem = await problemOf(await send(`${BASE}/artworks`, new Uint8Array(10), 'image/png'));
    expect(problem).toMatchObject({ status: 500, code: 'server-fault' });
    const line = logged.map((text) => JSON.parse(text)).find(({ err }) => err !== undefined);
    expect(line.err.message).toBe('this test reads no files');
    expect(line.err.stack).toContain('test-api.ts');
    expect(problem.body['instance']).toBe(`urn:uuid:${line.requestId}`);
  });
});

describe('values of the wrong type are never coerced', () => {
  it.each(['', null, ' ', true, [], '1e2', 1.5, -1, 0, 1e308, '3', {}])(
    'a count of %j is refused with its path',
    async (count) => {
      const slip = rig.slip();
      const text = JSON.stringify({ slip }).replace('"count":3', `"count":${JSON.stringify(count)}`);
      const problem = await problemOf(await send(`${BASE}/quotes`, text));
      expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
      expect(problem.faults[0]).toMatchObject({
        at: 'slip.lines.0.counts.0.count',
        message: 'a count is a whole number from 1 to 10000',
      });
    },
  );

  it.each(['1e400', '-1e400', '123456789012345678901234567890'])(
    'a count of %s is refused',
    async (count) => {
      const text = JSON.stringify({ slip: rig.slip() }).replace('"count":3', `"count":${count}`);
      expect((await problemOf(await send(`${BASE}/quotes`, text))).faults[0]!.at).toBe(
        'slip.lines.0.counts.0.count',
      );
    },
  );

  it.each(['false', 0, null, 'true', 1])('a flag of %j is refused', async (rush) => {
    const problem = await problemOf(await rig.post(`${BASE}/quotes`, { slip: { ...rig.slip(), rush } }));
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(problem.faults.map(({ at }) => at)).toEqual(['slip.rush']);
  });

  it.each([
    '2026-02-29',
    '2026-02-30T09:00:00Z',
    '2026-04-31',
    '2026-13-01',
    '2026-00-10',
    '2026-1-5',
    '20260105',
    20260105,
    '',
  ])('a day of %j is refused', async (neededBy) => {
    const problem = await problemOf(await rig.post(`${BASE}/quotes`, { slip: { ...rig.slip(), neededBy } }));
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(problem.faults[0]).toMatchObject({ at: 'slip.neededBy', value: neededBy });
  });

  it('accepts 29 February 2028', async () => {
    const response = await rig.post(`${BASE}/quotes`, { slip: { ...rig.slip(), neededBy: '2028-02-29' } });
    expect(response.status).toBe(200);
  });

  it('lists every fault, with what is allowed', async () => {
    const slip = { ...rig.slip(), delivery: '<x>', rush: 'no', lines: [] };
    const { faults } = await problemOf(await rig.post(`${BASE}/quotes`, { slip, brief: 3 }));
    expect(faults.map(({ at }) => at).sort()).toEqual(['brief', 'slip.delivery', 'slip.lines', 'slip.rush']);
    for (const fault of faults) expect(fault.message).not.toBe('');
  });
});

describe('names from clients', () => {
  it('an unknown id is refused with the known ones', async () => {
    const slip = rig.slip((s) => {
      s.lines[0]!.blank = 'no-such-blank';
    });
    const problem = await problemOf(await rig.post(`${BASE}/quotes`, { slip }));
    expect(problem).toMatchObject({ status: 422, code: 'unknown-id' });
    expect(problem.faults[0]).toMatchObject({ at: 'slip.lines.0.blank', value: 'no-such-blank' });
    expect(problem.faults[0]!.allowed).toContain('cotton-tee');
  });

  it('an unknown artwork is refused with its path', async () => {
    const slip = rig.slip((s) => {
      s.lines[0]!.placements![0]!.artwork = 'f'.repeat(64);
    });
    const problem = await problemOf(await rig.post(`${BASE}/quotes`, { slip }));
    expect(problem).toMatchObject({ status: 422, code: 'unknown-artwork' });
    expect(problem.faults[0]!.at).toBe('slip.lines.0.placements.0.artwork');
  });

  it('a member __proto__ has no effect anywhere', async () => {
    const slip = rig.slip();
    const plain = await rig.quote(slip);
    const evil = '"__proto__":{"unitPrice":"0","isAdmin":true,"total":"0","x":1},';
    const text = JSON.stringify({ slip });
    const places = [...text.matchAll(/\{/g)].map(({ index }) => index);
    expect(places.length).toBeGreaterThan(4);
    for (const place of places) {
      const poisoned = `${text.slice(0, place + 1)}${evil}${text.slice(place + 1)}`;
      expect(() => JSON.parse(poisoned)).not.toThrow();
      const response = await send(`${BASE}/quotes`, poisoned);
      const body = (await response.json()) as { total?: string };
      if (response.status === 200) expect(body.total).toBe(plain.total);
      else expect(response.status).toBe(400);
      expect(({} as Record<string, unknown>)['x']).toBeUndefined();
      expect(({} as Record<string, unknown>)['isAdmin']).toBeUndefined();
    }
  });

  it.each(['__proto__', 'constructor', 'toString', 'hasOwnProperty'])('%s is not an id', async (name) => {
    for (const change of [
      (s: Record<string, unknown>) => (s['delivery'] = name),
      (s: Record<string, unknown>) => ((s['lines'] as Record<string, unknown>[])[0]!['blank'] = name),
      (s: Record<string, unknown>) => ((s['lines'] as Record<string, unknown>[])[0]!['color'] = name),
    ]) {
      const slip = rig.slip() as Record<string, unknown>;
      change(slip);
      const response = await rig.post(`${BASE}/quotes`, { slip });
      expect([400, 422]).toContain(response.status);
    }
    expect((await rig.fetch(`/v1/shops/${name}/catalog`)).status).toBe(404);
  });

  it('no URL in a slip is ever fetched', async () => {
    const asked: string[] = [];
    const listener = createServer((request, response) => {
      asked.push(request.url ?? '');
      response.end();
    });
    await new Promise<void>((done) => listener.listen(0, '127.0.0.1', done));
    const { port } = listener.address() as AddressInfo;
    try {
      const quote = await rig.quote(rig.slip());
      for (const address of [
        `http://127.0.0.1:${port}/a.png`,
        'file:///etc/passwd',
        `//127.0.0.1:${port}/a.png`,
        `data:image/png;base64,${'A'.repeat(100_000)}`,
        '../../etc/passwd',
      ]) {
        const slips = ['artwork', 'picture', 'pattern', 'background', 'overlay', 'clipPath', 'font'].map(
          (member) => {
            const slip = rig.slip();
            return {
              ...slip,
              lines: [
                {
                  ...slip.lines[0],
                  placements: [{ ...slip.lines[0]!.placements![0], [member]: address }],
                },
              ],
            };
          },
        );
        for (const slip of slips) {
          expect((await rig.post(`${BASE}/quotes`, { slip })).status).toBe(400);
          const ordered = await rig.post(
            `${BASE}/orders`,
            { ...orderBody(quote.token, rig.slip()), slip },
            { 'idempotency-key': '"address"' },
          );
          expect(ordered.status).toBe(400);
        }
      }
      expect(asked).toEqual([]);
    } finally {
      await new Promise((done) => listener.close(done));
    }
  });
});

describe('addresses', () => {
  it.each([
    ['/v1/shops/nobody/catalog', 'unknown-shop'],
    ['/v1/shops/%2e%2e/catalog', 'not-found'],
    [`${BASE}/nothing`, 'not-found'],
    [`${BASE}/artworks/../catalog/x`, 'not-found'],
    [`${BASE}/artworks/xyz`, 'not-found'],
    [`${BASE}/orders/1001;drop`, 'not-found'],
    ['/nothing', 'not-found'],
  ])('%s is not found', async (path, code) => {
    expect(await problemOf(await rig.fetch(path))).toMatchObject({ status: 404, code });
  });

  it('a wrong method is answered with the allowed ones', async () => {
    const response = await rig.fetch(`${BASE}/quotes`, { method: 'DELETE' });
    expect(response.headers.get('allow')).toBe('POST');
    expect(await problemOf(response)).toMatchObject({ status: 405, code: 'method-not-allowed' });
    const description = await rig.fetch('/v1/openapi.json', { method: 'POST' });
    expect(description.headers.get('allow')).toBe('GET, HEAD');
    expect(await problemOf(description)).toMatchObject({ status: 405, code: 'method-not-allowed' });
  });

  it('an unknown query parameter is named', async () => {
    const response = await rig.own('/orders?hue=red');
    expect(await problemOf(response)).toMatchObject({ status: 400, faults: [{ at: 'query.hue' }] });
  });

  it('the type of a problem is an address that describes it', async () => {
    const { body } = await problemOf(await rig.fetch('/nothing'));
    const meaning = await rig.fetch(String(body['type']));
    expect(await meaning.json()).toEqual({ code: 'not-found', status: 404, title: 'There is nothing here' });
  });
});
