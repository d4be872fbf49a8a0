import { randomBytes, randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pino } from 'pino';
import { describe } from 'vitest';
import { createApp } from '../../api/app.ts';
import { type AppDeps, DEFAULT_LIMITS } from '../../api/deps.ts';
import { type FilePool, openFileStore, openPartialUploads } from '../../api/files/index.ts';
import { createShop } from '../../api/services/create-shop.ts';
import { openStore, type Store, type StorePlace } from '../../api/store/store.ts';
import { demoCatalog } from '../../demo/catalog.ts';
import { measureArtwork, type Raster } from '../../src/artwork/index.ts';
import type { CatalogInput } from '../../src/catalog/index.ts';
import type { OrderPlaced, QuoteAnswer, QuoteResponse, SlipInput } from '../../src/contract/index.ts';
import { freshDatabase } from '../tools/servers/fresh-database.ts';

export type StoreKind = 'sqlite' | 'postgres';

/** Monday 2 March 2026, 10:00 in New York: an ordinary working day of the demo shop. */
export const MONDAY_MORNING = Date.parse('2026-03-02T15:00:00Z');
export const SHOP = 'quill-and-kettle';
export const BASE = `/v1/shops/${SHOP}`;

/** A mutable copy of the demo's catalog type. */
type Mutable<T> = T extends object ? { -readonly [K in keyof T]: Mutable<T[K]> } : T;
export type MutableCatalog = Mutable<CatalogInput>;

/** A new store for one test, and how to delete it. */
export async function freshStore(kind: StoreKind): Promise<{
  open(): Promise<Store>;
  readonly place: { readonly path: string } | { readonly url: string };
  drop(): Promise<void>;
}> {
  if (kind === 'postgres') {
    const database = await freshDatabase();
    const place = { url: database.url };
    return { place, open: () => openStore(place, '2026-03-02T00:00:00.000Z'), drop: database.drop };
  }
  const dir = await mkdtemp(join(tmpdir(), 'platen-store-'));
  const place = { path: join(dir, 'store.sqlite') };
  return {
    place,
    open: () => openStore(place, '2026-03-02T00:00:00.000Z'),
    drop: () => rm(dir, { recursive: true, force: true }),
  };
}

export type RigOptions = {
  readonly kind?: StoreKind;
  readonly catalog?: unknown;
  readonly deps?: Partial<AppDeps>;
  /** default: one that throws when it is used. */
  readonly pool?: FilePool;
  /** wraps the store before the app gets it. */
  readonly wrap?: (store: Store) => Store;
};

export type Json = Record<string, unknown>;

/** The app in process, with its own store, the demo shop, a stopped clock and one artwork. */
export type TestApi = {
  readonly app: ReturnType<typeof createApp>;
  readonly store: Store;
  /** where the store is, for another connection. */
  readonly place: StorePlace;
  readonly deps: AppDeps;
  /** epoch ms; set it to let time pass. */
  readonly clock: { ms: number };
  readonly key: string;
  /** id of a stored artwork: a red disc of 240 px in 400 x 300 px. */
  readonly artwork: string;
  fetch(path: string, init?: RequestInit): Promise<Response>;
  post(path: string, body: unknown, headers?: Record<string, string>): Promise<Response>;
  /** with the owner's key. */
  own(path: string, init?: RequestInit): Promise<Response>;
  slip(change?: (slip: MutableSlip) => void): SlipInput;
  quote(slip: SlipInput): Promise<QuoteAnswer & { token: string }>;
  order(slip: SlipInput, idempotencyKey?: string): Promise<Response>;
  close(): Promise<void>;
};
export type MutableSlip = Mutable<SlipInput>;

const CONTACT = { name: 'Ada Example', email: 'ada@example.org' };

export async function openTestApi(options: RigOptions = {}): Promise<TestApi> {
  const fresh = await freshStore(options.kind ?? 'sqlite');
  const dir = await mkdtemp(join(tmpdir(), 'platen-files-'));
  const real = await fresh.open();
  const store = options.wrap?.(real) ?? real;
  const clock = { ms: MONDAY_MORNING };
  const now = () => clock.ms;
  const opened = await createShop(real, SHOP, options.catalog ?? demoCatalog, { now, randomBytes });
  if (opened.kind !== 'opened') throw new Error(`the shop was not opened: ${JSON.stringify(opened)}`);
  const artwork = 'd15c'.padEnd(64, '0');
  await addArtwork(real, SHOP, artwork);
  const deps: AppDeps = {
    store,
    pool: options.pool ?? unusedPool,
    filesOf: (shop) => openFileStore(join(dir, shop)),
    partialsOf: (shop) => openPartialUploads(join(dir, shop, 'partial'), DEFAULT_LIMITS.partial),
    now,
    randomBytes,
    requestId: randomUUID,
    logger: pino({ level: 'silent' }),
    limits: { ...DEFAULT_LIMITS, perMinute: null },
    origins: '*',
    ownerOrigins: [],
    trustedProxies: 0,
    publicUrl: '',
    pages: null,
    ...options.deps,
  };
  const app = createApp(deps);
  const fetch = async (path: string, init?: RequestInit) => app.request(path, init);
  const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
    fetch(path, {
      method: 'POST',
      headers: { 'content-type': 'application/json', ...headers },
      body: JSON.stringify(body),
    });
  const slip = (change?: (slip: MutableSlip) => void): SlipInput => {
    const made = plainSlip(artwork) as MutableSlip;
    change?.(made);
    return made as SlipInput;
  };
  const quote = async (wanted: SlipInput) => {
    const response = await post(`${BASE}/quotes`, { slip: wanted });
    const answer = (await response.json()) as QuoteResponse;
    if (answer.kind !== 'quote' || answer.token === undefined)
      throw new Error(`no quote: ${response.status} ${JSON.stringify(answer)}`);
    return answer as QuoteAnswer & { token: string };
  };
  return {
    app,
    store: real,
    place: fresh.place,
    deps,
    clock,
    key: opened.key,
    artwork,
    fetch,
    post,
    own: (path, init = {}) =>
      fetch(`${BASE}/owner${path}`, {
        ...init,
        headers: {
          authorization: `Bearer ${opened.key}`,
          ...(init.body === undefined ? {} : { 'content-type': 'application/json' }),
          ...init.headers,
        },
      }),
    slip,
    quote,
    async order(wanted, idempotencyKey = randomUUID()) {
      const { token } = await quote(wanted);
      return post(
        `${BASE}/orders`,
        { token, slip: wanted, contact: CONTACT },
        { 'idempotency-key': `"${idempotencyKey}"` },
      );
    },
    async close() {
      await real.close();
      await fresh.drop();
      await rm(dir, { recursive: true, force: true });
    },
  };
}

export function orderBody(token: string, slip: SlipInput): Json {
  return { token, slip, contact: CONTACT };
}

/** Three tees with a disc 80 mm wide on the front. */
export function plainSlip(artwork: string): SlipInput {
  return {
    format: 1,
    delivery: 'pick-up',
    lines: [
      {
        id: 'tees',
        blank: 'cotton-tee',
        color: 'white',
        finish: 'standard',
        counts: [{ size: 'm', count: 3 }],
        placements: [{ id: 'disc', face: 'front', artwork, xMm: 0, yMm: 120, widthMm: 80 }],
      },
    ],
  };
}

/** Stores an artwork's facts without a file, for tests that do not need its pixels. */
export async function addArtwork(store: Store, shop: string, id: string): Promise<void> {
  const facts = measureArtwork(disc(400, 300, 120));
  await store.write(shop, async (parts) => {
    await parts.artworks.add(shop, {
      id,
      name: 'disc.png',
      source: { kind: 'png', bytes: 1000, naturalMm: null, notes: [] },
      createdAt: '2026-03-02T00:00:00.000Z',
    });
    await parts.artworks.putRaster(shop, {
      artwork: id,
      // SHA-256 of "[]": no remedies
      remediesHash: '4f53cda18c2baa0c0354bb5f9a3ecbe5ed12ab4d8e11ba873c2f11161202b945',
      remedies: [],
      facts,
      raster: 'a'.repeat(64),
      preview: 'b'.repeat(64),
    });
  });
}

/** A red disc on a transparent background. */
export function disc(width: number, height: number, radius: number): Raster {
  const data = new Uint8Array(4 * width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if ((x - width / 2) ** 2 + (y - height / 2) ** 2 < radius ** 2)
        data.set([200, 30, 40, 255], 4 * (y * width + x));
  return { width, height, data };
}

const unusedPool: FilePool = {
  read: notHere,
  preview: notHere,
  proof: notHere,
  load: () => ({ running: 0, waiting: 0, size: 0 }),
  ready: async () => {},
  close: async () => {},
};

function notHere(): never {
  throw new Error('this test reads no files');
}

/** Runs the same tests on both stores. */
export function onBothStores(name: string, tests: (kind: StoreKind) => void): void {
  describe.each<StoreKind>(['sqlite', 'postgres'])(`${name} (%s)`, tests);
}

export async function placed(response: Response): Promise<OrderPlaced> {
  if (response.status !== 201) throw new Error(`not placed: ${response.status} ${await response.text()}`);
  return (await response.json()) as OrderPlaced;
}

/** The parts of a problem. @throws Error if the response is not a problem */
export async function problemOf(response: Response): Promise<{
  status: number;
  code: string;
  detail: string;
  faults: { at: string; message: string; value?: unknown; allowed?: string }[];
  body: Json;
}> {
  const type = response.headers.get('content-type') ?? '';
  const text = await response.text();
  if (!type.startsWith('application/problem+json'))
    throw new Error(`not a problem: ${response.status} ${type} ${text.slice(0, 200)}`);
  const body = JSON.parse(text) as Json;
  if (body.status !== response.status)
    throw new Error(`status ${body.status} in an answer ${response.status}`);
  return {
    status: response.status,
    code: String(body.code),
    detail: String(body.detail),
    faults: (body.faults ?? []) as { at: string; message: string }[],
    body,
  };
}
