import { randomUUID } from 'node:crypto';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sharp from 'sharp';
import { beforeAll, describe, expect, inject, it } from 'vitest';
import { connect } from '../../api/store/sqlite.ts';
import type { OrderPlaced, QuoteAnswer, SlipInput } from '../../src/contract/index.ts';
import { disc, plainSlip, SHOP } from '../api/test-api.ts';
import { freshDatabase } from '../tools/servers/fresh-database.ts';
import {
  type ServerOptions,
  type ServerProcess,
  startServerProcess,
} from '../tools/servers/server-process.ts';
import { requestResource } from '../tools/setup/broker.ts';

const LONG_MS = 240_000;
const BASE = `/v1/shops/${SHOP}`;

let builtDir: string;
let png: Buffer;
beforeAll(async () => {
  builtDir = await requestResource(inject('buildBroker'));
  const { data, width, height } = disc(400, 300, 120);
  png = await sharp(data, { raw: { width, height, channels: 4 } })
    .png()
    .toBuffer();
}, LONG_MS);

type Place = { readonly options: ServerOptions; drop(): Promise<void> };

async function place(kind: 'sqlite' | 'postgres'): Promise<Place> {
  const dataDir = await mkdtemp(join(tmpdir(), 'platen-shared-'));
  const removeDir = () => rm(dataDir, { recursive: true, force: true });
  const options = { dataDir, rateLimits: false, logLevel: 'warn' };
  if (kind === 'sqlite') return { options, drop: removeDir };
  const database = await freshDatabase();
  return {
    options: { ...options, databaseUrl: database.url },
    drop: async () => {
      await database.drop();
      await removeDir();
    },
  };
}

async function post(
  server: ServerProcess,
  path: string,
  body: unknown,
  headers: Record<string, string> = {},
) {
  return fetch(`${server.url}${BASE}${path}`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', ...headers },
    body: JSON.stringify(body),
  });
}

async function sendArtwork(server: ServerProcess): Promise<string> {
  const response = await fetch(`${server.url}${BASE}/artworks`, {
    method: 'POST',
    headers: { 'content-type': 'image/png' },
    body: new Uint8Array(png),
  });
  return ((await response.json()) as { id: string }).id;
}

async function quoteOf(server: ServerProcess, slip: SlipInput): Promise<QuoteAnswer & { token: string }> {
  return (await (await post(server, '/quotes', { slip, brief: true })).json()) as QuoteAnswer & {
    token: string;
  };
}

function order(server: ServerProcess, token: string, slip: SlipInput, key: string = randomUUID()) {
  const contact = { name: 'Ada Example', email: 'ada@example.org' };
  return post(server, '/orders', { token, slip, contact }, { 'idempotency-key': `"${key}"` });
}

async function own<T>(server: ServerProcess, key: string, path: string, init: RequestInit = {}): Promise<T> {
  const response = await fetch(`${server.url}${BASE}/owner${path}`, {
    ...init,
    headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json', ...init.headers },
  });
  if (!response.ok) throw new Error(`${path}: ${response.status} ${await response.text()}`);
  return (await response.json()) as T;
}

/** Edits the catalog in force. */
async function change(server: ServerProcess, key: string, edit: (catalog: Catalog) => void): Promise<void> {
  const catalog = await own<Catalog>(server, key, '/catalog');
  edit(catalog);
  await own(server, key, '/catalog', {
    method: 'PUT',
    headers: { 'if-match': '*' },
    body: JSON.stringify(catalog),
  });
}
type Catalog = {
  shop: { packing: { perOrderMin: number; perPieceMin: number } };
  stations: { count: number }[];
  crew: { count: number };
  calendar: { horizonDays: number; closures: unknown[] };
};

type Booking = { order: string; station: string; unit: number; start: string; end: string };
type Owned = { number: string; promisedDay: string; endsAt: string; bookings: Booking[] };

async function allOrders(server: ServerProcess, key: string): Promise<Owned[]> {
  const numbers: string[] = [];
  for (let next: string | null = '999999'; next !== null; ) {
    const before: string = numbers.length === 0 ? '' : `&before=${next}`;
    const page: { orders: { number: string }[]; next: string | null } = await own(
      server,
      key,
      `/orders?most=200${before}`,
    );
    numbers.push(...page.orders.map(({ number }) => number));
    next = page.next;
  }
  return Promise.all(numbers.map((number) => own<Owned>(server, key, `/orders/${number}`)));
}

/** Bookings that overlap on one unit. */
function collisions(orders: readonly Owned[]): string[] {
  const byUnit = new Map<string, Booking[]>();
  for (const booking of orders.flatMap(({ bookings }) => bookings)) {
    const unit = `${booking.station} ${booking.unit}`;
    byUnit.set(unit, [...(byUnit.get(unit) ?? []), booking]);
  }
  return [...byUnit].flatMap(([unit, bookings]) => {
    const sorted = bookings.sort((a, b) => (a.start < b.start ? -1 : 1));
    return sorted
      .slice(1)
      .flatMap((booking, index) =>
        booking.start < sorted[index]!.end ? [`${unit}: ${sorted[index]!.order} and ${booking.order}`] : [],
      );
  });
}

type Work = { job: string; from: string; to: string; crewShare: number };
type PlanAnswer = { stations: { days: { work: Work[] }[] }[] };

/** The largest crew needed at any moment. */
function mostAtOnce(work: readonly Work[]): number {
  const changes = work.flatMap(({ from, to, crewShare }) => [
    { at: from, people: crewShare },
    { at: to, people: -crewShare },
  ]);
  // At the same moment, ends come before starts.
  changes.sort((a, b) => (a.at < b.at ? -1 : a.at > b.at ? 1 : a.people - b.people));
  let now = 0;
  return changes.reduce((most, { people }) => {
    now += people;
    return Math.max(most, now);
  }, 0);
}

/** Local time of the demo shop, such as `2026-03-02 17:00`. */
function inNewYork(ms: number): string {
  const options = { timeZone: 'America/New_York', dateStyle: 'short', timeStyle: 'short' } as const;
  return new Intl.DateTimeFormat('sv-SE', options).format(ms);
}

describe.each(['sqlite', 'postgres'] as const)('several servers on one store (%s)', (kind) => {
  it(
    'four started at once on an empty store all start, and one creates the shop',
    async () => {
      const { options, drop } = await place(kind);
      const servers = await Promise.all([1, 2, 3, 4].map(() => startServerProcess(builtDir, options)));
      try {
        expect(servers.filter(({ ownerKey }) => ownerKey !== undefined)).toHaveLength(1);
        for (const server of servers) {
          expect((await fetch(`${server.url}/readyz`)).status).toBe(200);
          expect((await fetch(`${server.url}${BASE}/catalog`)).status).toBe(200);
          expect(server.output()).toBe('');
        }
      } finally {
        await Promise.all(servers.map((server) => server.stop()));
        await drop();
      }
    },
    LONG_MS,
  );

  it(
    'two with 200 simultaneous orders each take all 400',
    async () => {
      const { options, drop } = await place(kind);
      const first = await startServerProcess(builtDir, options);
      const second = await startServerProcess(builtDir, options);
      try {
        const key = first.ownerKey!;
        // Enough capacity for all of them on the quoted day.
        await change(first, key, (catalog) => {
          for (const station of catalog.stations) station.count = 100;
          catalog.crew.count = 400;
        });
        const slip = plainSlip(await sendArtwork(first));
        const { token } = await quoteOf(second, slip);
        const answers = await Promise.all(
          Array.from({ length: 400 }, (_, n) => order(n % 2 === 0 ? first : second, token, slip)),
        );
        const refused = answers.filter(({ status }) => status !== 201);
        expect(await Promise.all(refused.map((answer) => answer.text()))).toEqual([]);
        const placed = await Promise.all(
          answers.map(async (answer) => ((await answer.json()) as OrderPlaced).number),
        );
        expect(new Set(placed).size).toBe(400);
        const orders = await allOrders(second, key);
        expect(orders.map(({ number }) => number).sort()).toEqual([...placed].sort());
        expect(collisions(orders)).toEqual([]);
        // The other process gives the same answer.
        const one = JSON.stringify(await own(first, key, `/orders/${placed[0]}`));
        expect(JSON.stringify(await own(second, key, `/orders/${placed[0]}`))).toBe(one);
      } finally {
        await Promise.all([first.stop(), second.stop()]);
        await drop();
      }
    },
    LONG_MS,
  );

  it(
    '200 simultaneous orders for the last hours never exceed capacity, and every accepted promise holds',
    async () => {
      const { options, drop } = await place(kind);
      const first = await startServerProcess(builtDir, options);
      const second = await startServerProcess(builtDir, options);
      try {
        const key = first.ownerKey!;
        const slip = plainSlip(await sendArtwork(first));
        slip.lines[0]!.counts[0]!.count = 12;
        const { token, promise } = await quoteOf(first, slip);
        const answers = await Promise.all(
          Array.from({ length: 200 }, (_, n) => order(n % 2 === 0 ? first : second, token, slip)),
        );
        const accepted = answers.filter(({ status }) => status === 201);
        const refused = answers.filter(({ status }) => status === 409);
        expect(accepted.length + refused.length).toBe(200);
        expect(accepted.length).toBeGreaterThan(0);
        expect(refused.length).toBeGreaterThan(0);
        for (const answer of refused) {
          const problem = (await answer.json()) as { code: string; quote: QuoteAnswer };
          expect(problem.code).toBe('day-not-kept');
          expect(problem.quote.promise.day > promise.day).toBe(true);
        }
        const orders = await allOrders(first, key);
        expect(orders).toHaveLength(accepted.length);
        expect(collisions(orders)).toEqual([]);
        const catalog = await own<Catalog>(first, key, '/catalog');
        const { perOrderMin, perPieceMin } = catalog.shop.packing;
        for (const { promisedDay, endsAt } of orders) {
          expect(promisedDay).toBe(promise.day);
          // Packed before the shop closes at 17:00 on the day it is promised for, or earlier.
          const packedAt = Date.parse(endsAt) + (perOrderMin + 12 * perPieceMin) * 60_000;
          expect(inNewYork(packedAt) <= `${promisedDay} 17:00`).toBe(true);
        }
        const plan = await own<PlanAnswer>(second, key, '/plan?days=30');
        const work = plan.stations.flatMap(({ days }) => days.flatMap((day) => day.work));
        expect(new Set(work.map(({ job }) => job)).size).toBe(accepted.length);
        expect(mostAtOnce(work)).toBeLessThanOrEqual(catalog.crew.count + 1e-6);
        expect(mostAtOnce(work)).toBeGreaterThan(1);
        for (const { from, to } of work) {
          const [opens, closes] = [inNewYork(Date.parse(from)), inNewYork(Date.parse(to))].map((at) =>
            at.slice(11),
          );
          const within =
            (opens! >= '08:00' && closes! <= '12:00') || (opens! >= '12:30' && closes! <= '17:00');
          expect(within, `${from} to ${to}`).toBe(true);
        }
      } finally {
        await Promise.all([first.stop(), second.stop()]);
        await drop();
      }
    },
    LONG_MS,
  );

  it(
    'a server killed while taking orders loses none it confirmed',
    async () => {
      const { options, drop } = await place(kind);
      let server = await startServerProcess(builtDir, options);
      const key = server.ownerKey!;
      try {
        await change(server, key, (catalog) => {
          for (const station of catalog.stations) station.count = 100;
          catalog.crew.count = 400;
        });
        const slip = plainSlip(await sendArtwork(server));
        const { token } = await quoteOf(server, slip);
        const confirmed: string[] = [];
        const orders = Array.from({ length: 60 }, async () => {
          const answer = await order(server, token, slip);
          const { number } = (await answer.json()) as OrderPlaced;
          confirmed.push(number);
          if (confirmed.length === 20) void server.kill();
        });
        await Promise.allSettled(orders);
        expect(confirmed.length).toBeGreaterThanOrEqual(20);
        server = await startServerProcess(builtDir, options);
        const there = await allOrders(server, key);
        expect(there.map(({ number }) => number)).toEqual(expect.arrayContaining(confirmed));
        // An unconfirmed order is complete or absent.
        for (const { bookings } of there) expect(bookings.length).toBe(there[0]!.bookings.length);
        expect(collisions(there)).toEqual([]);
        expect((await order(server, (await quoteOf(server, slip)).token, slip)).status).toBe(201);
      } finally {
        await server.stop();
        await drop();
      }
    },
    LONG_MS,
  );
});

describe('one server', () => {
  it(
    'finishes running requests when it is told to stop',
    async () => {
      const server = await startServerProcess(builtDir, { rateLimits: false, logLevel: 'warn' });
      const slip = plainSlip(await sendArtwork(server));
      const { token } = await quoteOf(server, slip);
      const orders = Array.from({ length: 10 }, () => order(server, token, slip));
      const under = Promise.all(orders);
      const upload = sendArtwork(server);
      const all = Promise.all([under, upload]);
      // By the first answer all are sent, and most are still to be read.
      await Promise.race(orders);
      const ended = server.stop();
      const [answers, artwork] = await all.finally(() => ended);
      for (const { status } of answers) expect([201, 409]).toContain(status);
      expect(artwork).toMatch(/^[0-9a-f]{64}$/);
      await expect(fetch(`${server.url}/healthz`)).rejects.toThrow();
      expect(server.output()).toBe('');
    },
    LONG_MS,
  );

  it.each([
    ['UTC', 'sqlite'],
    ['Asia/Shanghai', 'sqlite'],
    ['America/New_York', 'sqlite'],
    ['Pacific/Kiritimati', 'sqlite'],
    ['America/New_York', 'postgres'],
    ['Pacific/Kiritimati', 'postgres'],
  ] as const)(
    'in the time zone %s returns days unchanged, and promises the same day (%s)',
    async (zone, kind) => {
      const before = process.env['TZ'];
      process.env['TZ'] = zone;
      const { options, drop } = await place(kind);
      const server = await startServerProcess(builtDir, options);
      if (before === undefined) delete process.env['TZ'];
      else process.env['TZ'] = before;
      try {
        const neededBy = new Date(Date.now() + 40 * 86_400_000).toISOString().slice(0, 10);
        const slip = { ...plainSlip(await sendArtwork(server)), neededBy };
        const quote = await quoteOf(server, slip);
        const { number } = (await (await order(server, quote.token, slip)).json()) as OrderPlaced;
        const owned = await own<{ slip: SlipInput; promisedDay: string }>(
          server,
          server.ownerKey!,
          `/orders/${number}`,
        );
        expect(owned.slip.neededBy).toBe(neededBy);
        expect(owned.promisedDay).toBe(quote.promise.day);
        expect(owned.promisedDay <= neededBy).toBe(true);
        promised.add(owned.promisedDay);
        expect(promised.size).toBe(1);
      } finally {
        await server.stop();
        await drop();
      }
    },
    LONG_MS,
  );

  it(
    'keeps memory bounded when it is sent 20 times the limit',
    async () => {
      const server = await startServerProcess(builtDir, { rateLimits: false, logLevel: 'warn' });
      try {
        const limit = 25 * 1024 * 1024;
        const residentBytes = async () => {
          const figures = await (await fetch(`${server.url}/metrics`)).text();
          return Number(/^process_resident_memory_bytes (\S+)$/m.exec(figures)?.[1]);
        };
        const flood = async () => {
          let left = 20 * limit;
          const body = new ReadableStream<Uint8Array>({
            pull(controller) {
              if (left <= 0) return controller.close();
              left -= 65_536;
              controller.enqueue(new Uint8Array(65_536));
            },
          });
          const init = { method: 'POST', headers: { 'content-type': 'image/png' }, body, duplex: 'half' };
          return (await fetch(`${server.url}${BASE}/artworks`, init as RequestInit)).status;
        };
        expect(await flood()).toBe(413);
        const before = await residentBytes();
        let most = 0;
        let going = true;
        const watch = (async () => {
          while (going) {
            most = Math.max(most, (await residentBytes()) - before);
            await new Promise((done) => setTimeout(done, 20));
          }
        })();
        for (let n = 0; n < 3; n++) expect(await flood()).toBe(413);
        going = false;
        await watch;
        // A body held in memory would take 20 times the limit.
        expect(most).toBeLessThan(5 * limit);
      } finally {
        await server.stop();
      }
    },
    LONG_MS,
  );

  it('opens every connection with foreign keys, WAL and full durability', async () => {
    const { options, drop } = await place('sqlite');
    const database = await connect(join(options.dataDir!, 'store.sqlite'));
    expect(database.pragma('foreign_keys', { simple: true })).toBe(1);
    expect(database.pragma('journal_mode', { simple: true })).toBe('wal');
    expect(database.pragma('synchronous', { simple: true })).toBe(2);
    database.close();
    await drop();
  });
});

/** Days promised by the servers in all zones: the same, since the shop's time zone is the same. */
const promised = new Set<string>();
