import { type Kysely, sql } from 'kysely';
import { expect, it } from 'vitest';
import { createApp } from '../../../api/app.ts';
import { MIGRATIONS } from '../../../api/store/migrations.ts';
import { openPostgres } from '../../../api/store/postgres.ts';
import type { Tables } from '../../../api/store/schema.ts';
import { openSqlite } from '../../../api/store/sqlite.ts';
import type { StorePlace } from '../../../api/store/store.ts';
import type { QuoteAnswer } from '../../../src/contract/index.ts';
import {
  BASE,
  freshStore,
  onBothStores,
  openTestApi,
  orderBody,
  placed,
  problemOf,
  SHOP,
} from '../test-api.ts';

/** Ordered so that no row precedes one it refers to. */
const TABLES = [
  'shops',
  'catalogs',
  'owner_keys',
  'signing_keys',
  'artworks',
  'artwork_rasters',
  'proofs',
  'orders',
  'order_lines',
  'order_artworks',
  'bookings',
  'outages',
  'floor_events',
  'idempotency',
] as const satisfies readonly (keyof Tables)[];

async function connection(place: StorePlace): Promise<{ db: Kysely<Tables>; close(): Promise<void> }> {
  if ('url' in place) {
    const db = openPostgres(place.url, 2);
    return { db, close: () => db.destroy() };
  }
  const { reader, writer } = await openSqlite(place.path);
  return { db: writer, close: async () => void (await Promise.all([reader.destroy(), writer.destroy()])) };
}

const rowsOf = async (db: Kysely<Tables>, table: keyof Tables): Promise<Record<string, unknown>[]> =>
  (await sql<Record<string, unknown>>`select * from ${sql.table(table)}`.execute(db)).rows;

onBothStores('a store made by the first version of the program', (kind) => {
  it('is migrated without loss, and its orders can be read, changed and followed by new ones', async () => {
    // Copies a current shop's rows into the tables of the first migration.
    const today = await openTestApi({ kind });
    const order = await placed(await today.order(today.slip(), 'k'));
    await today.own('/floor-events', {
      method: 'POST',
      body: '{"events":[{"kind":"down","station":"cap-press","to":"2026-03-04T00:00:00Z"}]}',
    });
    const old = await freshStore(kind);
    const there = await connection(today.place);
    const then = await connection(old.place);
    await sql`create table migrations (name text primary key, applied_at text not null)`.execute(then.db);
    await MIGRATIONS[0]!.up(then.db);
    await sql`insert into migrations (name, applied_at) values (${MIGRATIONS[0]!.name}, 'then')`.execute(
      then.db,
    );
    const before = new Map<string, Record<string, unknown>[]>();
    for (const table of TABLES) {
      const rows = (await rowsOf(there.db, table)).map(({ route: _, ...row }) => row);
      if (rows.length > 0)
        await then.db
          .insertInto(table)
          .values(rows as never)
          .execute();
      before.set(table, rows);
    }
    for (const table of [
      'orders',
      'order_lines',
      'order_artworks',
      'bookings',
      'outages',
      'floor_events',
      'idempotency',
    ])
      expect(before.get(table)!.length, table).toBeGreaterThan(0);
    await there.close();

    const store = await old.open();
    for (const table of TABLES) {
      const rows = await rowsOf(then.db, table);
      expect(
        rows.map(({ route: _, ...row }) => row),
        table,
      ).toEqual(before.get(table));
      if (table === 'orders') expect(rows.map(({ route }) => route)).toEqual([null]);
    }
    const applied = await sql<{ name: string }>`select name from migrations order by name`.execute(then.db);
    expect(applied.rows.map(({ name }) => name)).toEqual(MIGRATIONS.map(({ name }) => name));
    await then.close();

    const app = createApp({ ...today.deps, store });
    const own = (path: string, init: RequestInit = {}) =>
      app.request(`${BASE}/owner${path}`, {
        ...init,
        headers: { authorization: `Bearer ${today.key}`, 'content-type': 'application/json' },
      });
    const post = async (path: string, body: unknown, headers = {}) =>
      app.request(`${BASE}${path}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', ...headers },
        body: JSON.stringify(body),
      });
    const seen = await app.request(`${BASE}/orders/${order.number}?key=${order.statusKey}`);
    expect(await seen.json()).toEqual(order.status);
    const { bookings } = (await (await own(`/orders/${order.number}`)).json()) as {
      bookings: { chain: number; step: number; start: string }[];
    };
    expect(bookings.length).toBeGreaterThan(0);
    expect((await problemOf(await own(`/tickets/${order.number}`))).detail).toContain(
      'before routes were kept',
    );
    const [{ chain, step }] = bookings as [(typeof bookings)[number]];
    const begun = { kind: 'started', order: order.number, chain, step };
    expect(
      (await own('/floor-events', { method: 'POST', body: JSON.stringify({ events: [begun] }) })).status,
    ).toBe(200);
    // The next order has the next number, and a ticket.
    const slip = today.slip();
    const { token } = (await (await post('/quotes', { slip })).json()) as QuoteAnswer & { token: string };
    const next = await placed(await post('/orders', orderBody(token, slip), { 'idempotency-key': '"n"' }));
    expect(Number(next.number)).toBe(Number(order.number) + 1);
    expect((await own(`/tickets/${next.number}`)).status).toBe(200);
    expect((await store.shops.head(SHOP))?.planVersion).toBe(4);
    await store.close();
    await today.close();
    await old.drop();
  });
});
