import { createHash } from 'node:crypto';
import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { DEFAULT_LIMITS } from '../../../api/deps.ts';
import { type FilePool, openFilePool } from '../../../api/files/index.ts';
import { type RunningServer, startServer } from '../../../api/server.ts';
import { ArtworkAnswer } from '../../../src/contract/index.ts';
import { largePng } from '../../tools/generators/large-png.ts';
import { type CuttingProxy, openCuttingProxy } from '../../tools/servers/cutting-proxy.ts';
import { BASE, openTestApi, problemOf, type TestApi } from '../test-api.ts';

const TUS = { 'tus-resumable': '1.0.0' };
const PART = { ...TUS, 'content-type': 'application/offset+octet-stream' };
const HOUR_MS = 3_600_000;

let pool: FilePool;
let rig: TestApi;
let png: Buffer;
beforeAll(async () => {
  pool = await openFilePool({ size: 1 });
  rig = await openTestApi({ pool });
  png = await largePng(150_000);
});
afterAll(async () => {
  await rig.close();
  await pool.close();
});

const sha256 = (bytes: Uint8Array): string => createHash('sha256').update(bytes).digest('hex');
const base64 = (text: string): string => Buffer.from(text).toString('base64');

async function begin(length: number, metadata = '', at: TestApi = rig): Promise<string> {
  const response = await at.fetch(`${BASE}/uploads`, {
    method: 'POST',
    headers: {
      ...TUS,
      'upload-length': String(length),
      ...(metadata ? { 'upload-metadata': metadata } : {}),
    },
  });
  expect(response.status).toBe(201);
  expect(response.headers.get('tus-resumable')).toBe('1.0.0');
  return response.headers.get('location')!;
}

const send = (
  address: string,
  offset: number,
  bytes: Uint8Array,
  headers: Record<string, string> = {},
  at: TestApi = rig,
) =>
  at.fetch(address, {
    method: 'PATCH',
    headers: { ...PART, 'upload-offset': String(offset), ...headers },
    body: new Uint8Array(bytes),
  });

const standing = async (address: string, at: TestApi = rig): Promise<number> => {
  const response = await at.fetch(address, { method: 'HEAD', headers: TUS });
  expect(response.status).toBe(200);
  expect(response.headers.get('cache-control')).toBe('no-store');
  return Number(response.headers.get('upload-offset'));
};

describe('an artwork sent in parts', () => {
  it('is the same artwork as one sent whole, with its name', async () => {
    const address = await begin(png.length, `filename ${base64('Größe.png')},sha256 ${base64(sha256(png))}`);
    expect(await standing(address)).toBe(0);
    const first = await send(address, 0, png.subarray(0, 5000));
    expect([first.status, first.headers.get('upload-offset')]).toEqual([204, '5000']);
    expect(first.headers.get('content-location')).toBeNull();
    expect(await standing(address)).toBe(5000);
    const last = await send(address, 5000, png.subarray(5000));
    expect([last.status, last.headers.get('upload-offset')]).toEqual([204, String(png.length)]);
    const artwork = ArtworkAnswer.parse(
      await (await rig.fetch(last.headers.get('content-location')!)).json(),
    );
    expect(artwork).toMatchObject({ id: sha256(png), name: 'Größe.png', source: { bytes: png.length } });
    // A lost answer can be requested again.
    const again = await rig.fetch(address, { method: 'HEAD', headers: TUS });
    expect(again.headers.get('upload-offset')).toBe(String(png.length));
    expect(again.headers.get('content-location')).toBe(last.headers.get('content-location'));
    const empty = await send(address, png.length, new Uint8Array());
    expect([empty.status, empty.headers.get('content-location')]).toEqual([
      204,
      last.headers.get('content-location'),
    ]);
  });

  it('takes a part only at its offset, and one of two with the same offset', async () => {
    const address = await begin(png.length);
    await send(address, 0, png.subarray(0, 1000));
    for (const offset of [0, 999, 1001, png.length]) {
      const problem = await problemOf(await send(address, offset, png.subarray(0, 10)));
      expect(problem).toMatchObject({ status: 409, code: 'upload-offset', body: { offset: 1000 } });
    }
    const both = await Promise.all([1, 2, 3].map(() => send(address, 1000, png.subarray(1000, 2000))));
    expect(both.map(({ status }) => status).sort()).toEqual([204, 409, 409]);
    expect(await standing(address)).toBe(2000);
  });

  it('takes no more bytes than declared', async () => {
    const address = await begin(100);
    const over = await problemOf(await send(address, 0, png.subarray(0, 101)));
    expect(over).toMatchObject({ status: 413, code: 'too-large' });
    expect(await standing(address)).toBe(0);
  });

  it('is refused if altered: a part by its checksum, the file by its hash', async () => {
    const address = await begin(png.length, `sha256 ${base64('0'.repeat(64))}`);
    const part = png.subarray(0, 3000);
    const checksum = `sha1 ${createHash('sha1').update(part).digest('base64')}`;
    const wrong = await problemOf(
      await send(address, 0, png.subarray(1, 3001), { 'upload-checksum': checksum }),
    );
    expect(wrong).toMatchObject({ status: 460, code: 'upload-altered' });
    expect(await standing(address)).toBe(0);
    expect((await send(address, 0, part, { 'upload-checksum': checksum })).status).toBe(204);
    const whole = await problemOf(await send(address, 3000, png.subarray(3000)));
    expect(whole).toMatchObject({ status: 460, code: 'upload-altered' });
    expect((await rig.fetch(address, { headers: TUS })).status).toBe(404);
  });

  it('is refused like one sent whole, and then not stored', async () => {
    const page = Buffer.from('<!doctype html><p>x');
    const address = await begin(page.length);
    expect(await problemOf(await send(address, 0, page))).toMatchObject({
      status: 415,
      code: 'unsupported-file',
    });
    expect((await rig.fetch(address, { headers: TUS })).status).toBe(404);
  });

  it('is kept while too many files are being read', async () => {
    let busy = true;
    const taken: FilePool = {
      ...pool,
      read: (...args) =>
        busy ? Promise.resolve({ refused: 'busy', params: { retryAfterS: 2 } } as never) : pool.read(...args),
    };
    const other = await openTestApi({ pool: taken });
    try {
      const address = await begin(png.length, '', other);
      const refused = await send(address, 0, png, {}, other);
      expect([refused.status, refused.headers.get('retry-after')]).toEqual([503, '2']);
      expect(await standing(address, other)).toBe(png.length);
      busy = false;
      expect((await send(address, png.length, new Uint8Array(), {}, other)).status).toBe(204);
    } finally {
      await other.close();
    }
  });

  it('can be cancelled', async () => {
    const address = await begin(1000);
    expect((await rig.fetch(address, { method: 'DELETE', headers: TUS })).status).toBe(204);
    expect((await rig.fetch(address, { method: 'DELETE', headers: TUS })).status).toBe(404);
    expect((await send(address, 0, png.subarray(0, 1000))).status).toBe(404);
  });
});

describe('the tus protocol', () => {
  // tus resumable upload protocol 1.0.0: "Core protocol" and its extensions
  it('is described by OPTIONS', async () => {
    const options = await rig.fetch(`${BASE}/uploads`, { method: 'OPTIONS' });
    expect(options.status).toBe(204);
    expect(Object.fromEntries(options.headers)).toMatchObject({
      'tus-resumable': '1.0.0',
      'tus-version': '1.0.0',
      'tus-extension': 'creation,expiration,termination,checksum',
      'tus-max-size': String(DEFAULT_LIMITS.fileBytes),
      'tus-checksum-algorithm': 'sha1,sha256',
    });
  });

  it('requires its version', async () => {
    for (const headers of [{}, { 'tus-resumable': '0.2.2' }]) {
      const response = await rig.fetch(`${BASE}/uploads`, {
        method: 'POST',
        headers: { ...headers, 'upload-length': '10' } as Record<string, string>,
      });
      expect(response.headers.get('tus-version')).toBe('1.0.0');
      expect(await problemOf(response)).toMatchObject({ status: 412, code: 'upload-protocol' });
    }
  });

  it.each([
    ['no length', {}, 'upload-length'],
    ['a length that is put off', { 'upload-defer-length': '1' }, 'upload-length'],
    ['a length of words', { 'upload-length': '1e3' }, 'upload-length'],
    ['a negative length', { 'upload-length': '-1' }, 'upload-length'],
    ['nothing at all', { 'upload-length': '0' }, 'upload-length'],
    [
      'a name that is not Base64',
      { 'upload-length': '9', 'upload-metadata': 'filename %%%' },
      'upload-metadata',
    ],
    [
      'a hash that is none',
      { 'upload-length': '9', 'upload-metadata': `sha256 ${base64('x')}` },
      'upload-metadata',
    ],
    [
      'a novel',
      { 'upload-length': '9', 'upload-metadata': `filename ${'A'.repeat(5000)}` },
      'upload-metadata',
    ],
  ])("refuses %s, with the header's name", async (_, headers, at) => {
    const problem = await problemOf(
      await rig.fetch(`${BASE}/uploads`, {
        method: 'POST',
        headers: { ...TUS, ...headers } as Record<string, string>,
      }),
    );
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(problem.faults[0]!.at).toBe(at);
  });

  it('refuses a file over the limit before it is sent', async () => {
    const response = await rig.fetch(`${BASE}/uploads`, {
      method: 'POST',
      headers: { ...TUS, 'upload-length': String(DEFAULT_LIMITS.fileBytes + 1) },
    });
    expect(await problemOf(response)).toMatchObject({
      status: 413,
      code: 'too-large',
      body: { limitBytes: DEFAULT_LIMITS.fileBytes },
    });
  });

  it('refuses a part of another type, with no offset, or with an unknown checksum', async () => {
    const address = await begin(10);
    expect(
      (await problemOf(await send(address, 0, png.subarray(0, 1), { 'content-type': 'image/png' }))).code,
    ).toBe('unsupported-media');
    expect(
      (await problemOf(await send(address, 0, png.subarray(0, 1), { 'upload-offset': 'x' }))).faults[0]!.at,
    ).toBe('upload-offset');
    expect(
      (await problemOf(await send(address, 0, png.subarray(0, 1), { 'upload-checksum': 'crc32 AAAA' })))
        .faults[0]!.at,
    ).toBe('upload-checksum');
    expect(await standing(address)).toBe(0);
  });

  it.each(['../../etc/passwd', '..%2f..%2fstore', 'x', `new-1-${'0'.repeat(32)}`, '0'.repeat(32)])(
    'knows no upload %s',
    async (name) => {
      expect((await rig.fetch(`${BASE}/uploads/${name}`, { headers: TUS })).status).toBe(404);
    },
  );

  it('can be used by pages of other origins', async () => {
    const preflight = await rig.fetch(`${BASE}/uploads/${'0'.repeat(32)}`, {
      method: 'OPTIONS',
      headers: {
        origin: 'https://shop.test',
        'access-control-request-method': 'PATCH',
        'access-control-request-headers': 'tus-resumable,upload-offset,content-type',
      },
    });
    const allowed = preflight.headers.get('access-control-allow-headers')!.toLowerCase();
    for (const header of [
      'tus-resumable',
      'upload-offset',
      'upload-length',
      'upload-metadata',
      'upload-checksum',
    ])
      expect(allowed).toContain(header);
    const answer = await rig.fetch(`${BASE}/uploads`, {
      method: 'POST',
      headers: { ...TUS, origin: 'https://shop.test', 'upload-length': '5' },
    });
    const shown = answer.headers.get('access-control-expose-headers')!.toLowerCase();
    for (const header of ['location', 'content-location', 'upload-offset', 'upload-expires'])
      expect(shown).toContain(header);
  });
});

describe('an upload that is never completed', () => {
  it('is limited in number and size, and removed once it is old', async () => {
    const partial = { count: 3, bytes: 10_000, ageMs: 24 * HOUR_MS, idleAgeMs: HOUR_MS, parts: 3 };
    const { openPartialUploads } = await import('../../../api/files/index.ts');
    const dir = await mkdtemp(join(tmpdir(), 'platen-partial-'));
    const small = await openTestApi({
      pool,
      deps: {
        limits: { ...DEFAULT_LIMITS, perMinute: null, partial },
        partialsOf: () => openPartialUploads(dir, partial),
      },
    });
    try {
      const started = await begin(4000, '', small);
      await send(started, 0, png.subarray(0, 500), {}, small);
      await begin(6000, '', small);
      const tooMuch = await small.fetch(`${BASE}/uploads`, {
        method: 'POST',
        headers: { ...TUS, 'upload-length': '1' },
      });
      expect(Number(tooMuch.headers.get('retry-after'))).toBeGreaterThan(0);
      expect(await problemOf(tooMuch)).toMatchObject({ status: 503, code: 'busy' });
      // An hour later, the upload without any part is gone and there is room.
      small.clock.ms += HOUR_MS;
      await begin(1, '', small);
      await begin(1, '', small);
      expect((await readdir(dir)).length).toBe(3);
      expect(
        (await small.fetch(`${BASE}/uploads`, { method: 'POST', headers: { ...TUS, 'upload-length': '1' } }))
          .status,
      ).toBe(503);
      await send(started, 500, png.subarray(500, 600), {}, small);
      const fourth = await problemOf(await send(started, 600, png.subarray(600, 700), {}, small));
      expect(fourth).toMatchObject({ status: 400, code: 'invalid-input' });
      small.clock.ms += 24 * HOUR_MS;
      expect((await small.fetch(started, { headers: TUS })).status).toBe(404);
      expect(await small.deps.partialsOf('any').sweep(small.clock.ms)).toBe(3);
      expect(await readdir(dir)).toEqual([]);
    } finally {
      await small.close();
      await rm(dir, { recursive: true, force: true });
    }
  });
});

describe('over a connection that breaks', () => {
  let dir: string;
  let one: RunningServer;
  let two: RunningServer;
  let line: CuttingProxy;
  let big: Buffer;
  beforeAll(async () => {
    dir = await mkdtemp(join(tmpdir(), 'platen-uploads-'));
    const options = { port: 0, dataDir: dir, logLevel: 'silent', rateLimits: false, fileMib: 4 };
    one = await startServer(options);
    two = await startServer(options);
    line = await openCuttingProxy(one.url);
    big = await largePng(2_500_000);
  });
  afterAll(async () => {
    await line?.close();
    await one?.close();
    await two?.close();
    await rm(dir, { recursive: true, force: true });
  });

  it('resumes at its offset', async () => {
    const begun = await fetch(`${line.url}${BASE}/uploads`, {
      method: 'POST',
      headers: { ...TUS, 'upload-length': String(big.length) },
    });
    const address = `${line.url}${begun.headers.get('location')}`;
    const before = line.sent;
    line.cutAfter(1_200_000);
    let offset = 0;
    const offsets: number[] = [];
    let answer: Response | null = null;
    while (answer === null && offsets.length < 5) {
      offsets.push(offset);
      answer = await fetch(address, {
        method: 'PATCH',
        headers: { ...PART, 'upload-offset': String(offset) },
        body: new Uint8Array(big.subarray(offset)),
      }).catch(() => null);
      if (answer === null) {
        const head = await fetch(address, { method: 'HEAD', headers: TUS });
        offset = Number(head.headers.get('upload-offset'));
      }
    }
    expect([line.cuts, offsets.length]).toEqual([1, 2]);
    expect(answer?.headers.get('content-location')).toBe(`${BASE}/artworks/${sha256(big)}`);
    // What arrived before the break was not sent again (except data in flight).
    expect(offsets[1]).toBeGreaterThan(800_000);
    expect(line.sent - before).toBeLessThan(big.length + 400_000);
  });

  it('resumes in another process', async () => {
    const other = await largePng(1_900_000);
    let turn = 0;
    const address = (
      await fetch(`${one.url}${BASE}/uploads`, {
        method: 'POST',
        headers: { ...TUS, 'upload-length': String(other.length) },
      })
    ).headers.get('location')!;
    const piece = 400_000;
    let answer: Response | null = null;
    for (let offset = 0; offset < other.length; offset += piece) {
      turn++;
      const server = turn % 2 === 0 ? one : two;
      const head = await fetch(`${server.url}${address}`, { method: 'HEAD', headers: TUS });
      expect(head.headers.get('upload-offset')).toBe(String(offset));
      answer = await fetch(`${server.url}${address}`, {
        method: 'PATCH',
        headers: { ...PART, 'upload-offset': String(offset) },
        body: new Uint8Array(other.subarray(offset, offset + piece)),
      });
      expect(answer.status).toBe(204);
    }
    expect(turn).toBeGreaterThan(3);
    expect(answer?.headers.get('content-location')).toBe(`${BASE}/artworks/${sha256(other)}`);
  });

  it("a sender's HEAD request ends its own dead connection", async () => {
    const begun = await fetch(`${one.url}${BASE}/uploads`, {
      method: 'POST',
      headers: { ...TUS, 'upload-length': '1000' },
    });
    const address = begun.headers.get('location');
    const socket = connect(Number(new URL(one.url).port), '127.0.0.1');
    socket.on('error', () => {});
    socket.write(
      `PATCH ${address} HTTP/1.1\r\nHost: x\r\nTus-Resumable: 1.0.0\r\nUpload-Offset: 0\r\nContent-Type: application/offset+octet-stream\r\nContent-Length: 1000\r\n\r\n${'x'.repeat(300)}`,
    );
    // The socket stays open and silent, like a phone without signal.
    const offset = async () =>
      (await fetch(`${one.url}${address}`, { method: 'HEAD', headers: TUS })).headers.get('upload-offset');
    await expect.poll(offset).toBe('300');
    socket.destroy();
  });

  it('a part that is too long is refused so that the sender reads the answer', async () => {
    const begun = await fetch(`${one.url}${BASE}/uploads`, {
      method: 'POST',
      headers: { ...TUS, 'upload-length': '1000' },
    });
    const { port } = new URL(one.url);
    const socket = connect(Number(port), '127.0.0.1');
    const text = await new Promise<string>((done, fail) => {
      let got = '';
      socket.on('data', (chunk) => {
        got += chunk.toString();
        if (got.includes('}')) done(got);
      });
      socket.on('error', fail);
      socket.write(
        `PATCH ${begun.headers.get('location')} HTTP/1.1\r\nHost: x\r\nTus-Resumable: 1.0.0\r\nUpload-Offset: 0\r\nContent-Type: application/offset+octet-stream\r\nTransfer-Encoding: chunked\r\n\r\n`,
      );
      const chunk = Buffer.alloc(65_536, 65);
      for (let sent = 0; sent < 8_000_000; sent += chunk.length) {
        socket.write(`${chunk.length.toString(16)}\r\n`);
        socket.write(chunk);
        socket.write('\r\n');
      }
      socket.write('0\r\n\r\n');
    });
    socket.destroy();
    expect(text).toMatch(/^HTTP\/1\.1 413/);
    expect(text).toContain('"too-large"');
  });
});
