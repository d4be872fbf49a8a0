import { randomBytes, randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { serve } from '@hono/node-server';
import { Hono } from 'hono';
import { pino } from 'pino';
import { createApp } from '../../../api/app.ts';
import { DEFAULT_LIMITS } from '../../../api/deps.ts';
import { type FilePool, openFileStore, openPartialUploads } from '../../../api/files/index.ts';
import { createShop } from '../../../api/services/create-shop.ts';
import { openStore, type Store } from '../../../api/store/store.ts';
import { demoCatalog } from '../../../demo/catalog.ts';
import { measureArtwork } from '../../../src/artwork/index.ts';
import { type OrderPlaced, type QuoteAnswer, QuoteRequest } from '../../../src/contract/index.ts';
import { DISC, quoteSlip } from './quotes-slip.ts';

/**
 * A server process for benchmarks; it reports its addresses over IPC. It serves the real app on a store with the given
 * number of bookings, and on another port the baseline: a route that only parses and validates the same body.
 */
const SHOP = 'bench';
const BOOKINGS = Number(process.argv[2] ?? 2000);

const dir = await mkdtemp(join(tmpdir(), 'platen-bench-'));
const store = await openStore({ path: join(dir, 'store.sqlite') }, new Date().toISOString());
const opened = await createShop(store, SHOP, demoCatalog, { now: Date.now, randomBytes });
if (opened.kind !== 'opened') throw new Error('the shop was not opened');
await shelveDisc(store);

const none = (): never => {
  throw new Error('no file is read here');
};
const pool: FilePool = {
  read: none,
  preview: none,
  proof: none,
  load: () => ({ running: 0, waiting: 0, size: 0 }),
  ready: async () => {},
  close: async () => {},
};
const app = createApp({
  store,
  pool,
  filesOf: (shop) => openFileStore(join(dir, shop)),
  partialsOf: (shop) => openPartialUploads(join(dir, shop, 'partial'), DEFAULT_LIMITS.partial),
  now: Date.now,
  randomBytes,
  requestId: randomUUID,
  // As in production: every request is logged.
  logger: pino({ level: 'info' }, pino.destination({ dest: '/dev/null', sync: false })),
  // All load comes from one address: requests are counted as in production, but never refused.
  limits: { ...DEFAULT_LIMITS, perMinute: { files: 1e9, orders: 1e9, others: 1e9 } },
  origins: '*',
  ownerOrigins: [],
  trustedProxies: 0,
  publicUrl: '',
  pages: null,
});
const booked = await fillPlan();

const empty = new Hono();
empty.post('/', async (c) => {
  const request = QuoteRequest.parse(await c.req.json());
  return c.json({ lines: request.slip.lines.length });
});

const [quotes, least] = await Promise.all([listen(app.fetch), listen(empty.fetch)]);
process.send?.({ quotes: `${quotes}/v1/shops/${SHOP}/quotes`, empty: `${least}/`, booked });
process.once('disconnect', async () => {
  await store.close();
  await rm(dir, { recursive: true, force: true });
  process.exit();
});

function listen(fetch: Parameters<typeof serve>[0]['fetch']): Promise<string> {
  return new Promise((done) => {
    const server = serve({ fetch, port: 0, hostname: '127.0.0.1' }, () =>
      done(`http://127.0.0.1:${(server.address() as AddressInfo).port}`),
    );
  });
}

async function shelveDisc(to: Store): Promise<void> {
  const [width, height] = [1600, 1200];
  const data = new Uint8Array(4 * width * height);
  for (let at = 0; at < width * height; at++)
    if (((at % width) - 800) ** 2 + (Math.floor(at / width) - 600) ** 2 < 600 ** 2)
      data.set([200, 30, 40, 255], 4 * at);
  const facts = measureArtwork({ width, height, data });
  await to.write(SHOP, async (parts) => {
    await parts.artworks.add(SHOP, {
      id: DISC,
      name: 'disc.png',
      source: { kind: 'png', bytes: 1000, naturalMm: null, notes: [] },
      createdAt: new Date().toISOString(),
    });
    await parts.artworks.putRaster(SHOP, {
      artwork: DISC,
      // SHA-256 of "[]": no remedies
      remediesHash: '4f53cda18c2baa0c0354bb5f9a3ecbe5ed12ab4d8e11ba873c2f11161202b945',
      remedies: [],
      facts,
      raster: 'a'.repeat(64),
      preview: 'b'.repeat(64),
    });
  });
}

/** Orders until the plan holds enough bookings. */
async function fillPlan(): Promise<number> {
  const post = (path: string, body: unknown) =>
    app.request(`/v1/shops/${SHOP}${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', 'idempotency-key': `"${randomUUID()}"` },
      body: JSON.stringify(body),
    });
  let count = 0;
  for (let n = 0; count < BOOKINGS; n++) {
    const slip = quoteSlip(n, 4);
    const quote = (await (await post('/quotes', { slip, brief: true })).json()) as QuoteAnswer;
    const contact = { name: 'Ada Example', email: 'ada@example.org' };
    const answer = await post('/orders', { token: quote.token, slip, contact });
    if (answer.status !== 201) throw new Error(`not booked: ${await answer.text()}`);
    const { number } = (await answer.json()) as OrderPlaced;
    count += (await store.orders.bookings(SHOP, [number])).get(number)?.length ?? 0;
  }
  return count;
}
