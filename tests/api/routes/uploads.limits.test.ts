import { mkdtemp, rm } from 'node:fs/promises';
import { connect, type Socket } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type RunningServer, startServer } from '../../../api/server.ts';
import { BASE } from '../test-api.ts';

const LIMIT = 1024 * 1024;
const CHUNK = Buffer.alloc(64 * 1024, 0x41);

let dir: string;
let server: RunningServer;
let port: number;
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'platen-limit-'));
  server = await startServer({ port: 0, dataDir: dir, logLevel: 'silent', fileMib: 1 });
  port = Number(new URL(server.url).port);
});
afterAll(async () => {
  await server.close();
  await rm(dir, { recursive: true, force: true });
});

type Answer = { readonly status: number; readonly body: Record<string, unknown> };

/**
 * A client that sends everything before it reads, as many do, on its own socket.
 * @returns what it read; rejects if the connection was reset first
 */
async function send(headers: readonly string[], bytes: number, chunked: boolean): Promise<Answer> {
  const socket = connect(port, '127.0.0.1');
  const answer = collect(socket);
  await write(
    socket,
    `POST ${BASE}/artworks HTTP/1.1\r\nHost: x\r\nContent-Type: image/png\r\n${headers.join('\r\n')}\r\n\r\n`,
  );
  for (let sent = 0; sent < bytes; sent += CHUNK.length) {
    if (chunked) await write(socket, `${CHUNK.length.toString(16)}\r\n`);
    await write(socket, CHUNK);
    if (chunked) await write(socket, '\r\n');
  }
  if (chunked) await write(socket, '0\r\n\r\n');
  const text = await answer;
  socket.destroy();
  const [head = '', body = ''] = text.split('\r\n\r\n', 2);
  return { status: Number(head.split(' ')[1]), body: JSON.parse(body) as Record<string, unknown> };
}

function write(socket: Socket, data: string | Buffer): Promise<void> {
  return new Promise((done, fail) => socket.write(data, (error) => (error ? fail(error) : done())));
}

/** The first complete answer on a socket. */
function collect(socket: Socket): Promise<string> {
  return new Promise((done, fail) => {
    let text = '';
    socket.on('data', (data) => {
      text += data.toString();
      const end = text.indexOf('\r\n\r\n');
      const length = /content-length: (\d+)/i.exec(text)?.[1];
      if (end >= 0 && length !== undefined && text.length >= end + 4 + Number(length))
        done(text.slice(0, end + 4 + Number(length)));
    });
    socket.on('error', fail);
    socket.on('close', () => fail(new Error(`closed after ${text.length} characters`)));
  });
}

describe('a file over the limit', () => {
  it.each([2, 20])(
    '%i times the limit, with its length told, is refused where the sender reads it',
    async (times) => {
      const { status, body } = await send([`Content-Length: ${times * LIMIT}`], times * LIMIT, false);
      expect(status).toBe(413);
      expect(body).toMatchObject({ code: 'too-large', limitBytes: LIMIT });
    },
  );

  it.each([2, 20])(
    '%i times the limit, in chunks, is refused so that the sender reads the answer',
    async (times) => {
      const { status, body } = await send(['Transfer-Encoding: chunked'], times * LIMIT, true);
      expect(status).toBe(413);
      expect(body).toMatchObject({ code: 'too-large', limitBytes: LIMIT });
    },
  );

  it('with a length declared too low is read no further', async () => {
    // By HTTP the body ends there: the truncated file is refused, and the rest is not a request.
    const { status, body } = await send([`Content-Length: ${LIMIT / 2}`], LIMIT / 2, false);
    expect(status).toBe(415);
    expect(body).toMatchObject({ code: 'unsupported-file' });
    const socket = connect(port, '127.0.0.1');
    const answer = collect(socket);
    const head = `POST ${BASE}/artworks HTTP/1.1\r\nHost: x\r\nContent-Type: image/png\r\nContent-Length: 1000\r\n\r\n`;
    await write(socket, head);
    for (let sent = 0; sent < 2 * LIMIT; sent += CHUNK.length) await write(socket, CHUNK).catch(() => {});
    const text = await answer;
    expect(text).toMatch(/^HTTP\/1\.1 4/);
    expect(text).toContain('application/problem+json');
    socket.destroy();
  });

  it('in a form is refused, too', async () => {
    const form = new FormData();
    form.set('file', new Blob([Buffer.alloc(3 * LIMIT)]), 'big.png');
    const response = await fetch(`${server.url}${BASE}/artworks`, { method: 'POST', body: form });
    expect(response.status).toBe(413);
    const json = await fetch(`${server.url}${BASE}/quotes`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ slip: 'x'.repeat(9 * LIMIT) }),
    });
    expect(json.status).toBe(413);
  });
});
