import { sql } from 'kysely';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { migrate } from '../../../api/store/migrate.ts';
import { MIGRATIONS } from '../../../api/store/migrations.ts';
import { openPostgres } from '../../../api/store/postgres.ts';
import { openSqlite } from '../../../api/store/sqlite.ts';
import type { Store, StoreParts } from '../../../api/store/store.ts';
import { freshStore, onBothStores, openTestApi, placed, SHOP, type TestApi } from '../test-api.ts';

/** Another connection to the same store, as another program would have. */
async function second(place: { path: string } | { url: string }) {
  if ('path' in place) return openSqlite(place.path);
  const db = openPostgres(place.url, 2);
  return { reader: db, writer: db };
}

onBothStores('the store', (kind) => {
  let fresh: Awaited<ReturnType<typeof freshStore>>;
  beforeEach(async () => {
    fresh = await freshStore(kind);
  });
  afterEach(() => fresh.drop());

  it('is migrated once by eight processes at the same time', async () => {
    const stores = await Promise.all(Array.from({ length: 8 }, () => fresh.open()));
    const { reader, writer } = await second(fresh.place);
    const { rows } = await sql<{ name: string }>`select name from migrations order by name`.execute(reader);
    expect(rows.map(({ name }) => name)).toEqual(MIGRATIONS.map(({ name }) => name));
    await Promise.all(stores.map((store) => store.close()));
    await reader.destroy();
    if (writer !== reader) await writer.destroy();
  });

  it('refuses a store of a newer version', async () => {
    await (await fresh.open()).close();
    const { reader, writer } = await second(fresh.place);
    await sql`insert into migrations (name, applied_at) values ('999-from-the-future', 'x')`.execute(writer);
    await expect(migrate(writer, kind, 'now')).rejects.toThrow('999-from-the-future');
    await reader.destroy();
    if (writer !== reader) await writer.destroy();
    await expect(fresh.open()).rejects.toThrow('newer version');
  });

  it('rolls back work that fails, however late, across awaits', async () => {
    const store = await fresh.open();
    const failing = store.write('a', async (parts) => {
      await parts.shops.add('a', 'k', '2026-03-02T00:00:00.000Z');
      await new Promise((done) => setTimeout(done, 5));
      expect(await parts.shops.head('a')).toBeDefined();
      throw new Error('the last step');
    });
    const outcome = expect(failing).rejects.toThrow('the last step');
    // It is invisible outside until it is committed.
    expect(await store.shops.head('a')).toBeUndefined();
    await outcome;
    expect(await store.shops.head('a')).toBeUndefined();
    expect(await store.shops.ids()).toEqual([]);
    await store.close();
  });

  it('runs one transaction at a time, over all processes', async () => {
    const stores = await Promise.all([fresh.open(), fresh.open()]);
    await stores[0]!.write('a', (parts) => parts.shops.add('a', 'k', '2026-03-02T00:00:00.000Z'));
    let inside = 0;
    let most = 0;
    const step = (store: Store) =>
      store.write('a', async (parts) => {
        inside++;
        most = Math.max(most, inside);
        const number = await parts.shops.takeOrderNumber('a');
        await new Promise((done) => setTimeout(done, 2));
        inside--;
        return number;
      });
    const numbers = await Promise.all(Array.from({ length: 40 }, (_, n) => step(stores[n % 2]!)));
    expect(most).toBe(1);
    expect([...numbers].sort((a, b) => a - b)).toEqual(Array.from({ length: 40 }, (_, n) => n + 1));
    await Promise.all(stores.map((store) => store.close()));
  });

  it('enforces foreign keys on every connection', async () => {
    const store = await fresh.open();
    await store.write('a', (parts) => parts.shops.add('a', 'k', '2026-03-02T00:00:00.000Z'));
    const { reader, writer } = await second(fresh.place);
    const stray = sql`
      insert into order_lines (shop, order_number, place, line, blank, color, finish, pieces, total)
      values ('a', '1', 0, 'l', 'b', 'c', 'f', 1, '1.00')`;
    await expect(stray.execute(writer)).rejects.toThrow(/foreign key/i);
    await expect(
      store.write('a', async (parts) => {
        await parts.artworks.putRaster('a', {
          artwork: 'f'.repeat(64),
          remediesHash: 'r',
          remedies: [],
          facts: { version: 1 } as never,
          raster: 'x',
          preview: 'y',
        });
      }),
    ).rejects.toThrow(/foreign key/i);
    await reader.destroy();
    if (writer !== reader) await writer.destroy();
    await store.close();
  });
});

onBothStores('an order whose last step fails', (kind) => {
  let rig: TestApi;
  let fail = false;
  beforeEach(async () => {
    fail = false;
    rig = await openTestApi({ kind, wrap: (store) => faulty(store, () => fail) });
  });
  afterEach(() => rig.close());

  it('leaves no order, line, booking, used number or stored answer', async () => {
    const slip = rig.slip();
    const head = await rig.store.shops.head(SHOP);
    fail = true;
    const broken = await rig.order(slip, 'k');
    expect(broken.status).toBe(500);
    expect(await rig.store.orders.list(SHOP, { most: 10 })).toEqual([]);
    expect(await rig.store.shops.head(SHOP)).toEqual(head);
    expect(await rig.store.idempotency.get(SHOP, 'k')).toBeUndefined();
    expect((await rig.store.orders.bookings(SHOP, ['1001'])).size).toBe(0);
    expect(await rig.store.orders.work(SHOP, { endingAfter: 0 })).toEqual([]);
    // The same request succeeds without the fault, and gets the first number.
    fail = false;
    expect((await placed(await rig.order(slip, 'k'))).number).toBe('1001');
  });
});

/** A store in which adding the answer, the last write of an order, fails while `failing` returns true. */
function faulty(store: Store, failing: () => boolean): Store {
  const broken = (parts: StoreParts): StoreParts => ({
    ...parts,
    idempotency: Object.assign(Object.create(parts.idempotency) as StoreParts['idempotency'], {
      get: parts.idempotency.get.bind(parts.idempotency),
      async add(...args: Parameters<StoreParts['idempotency']['add']>) {
        await parts.idempotency.add(...args);
        await new Promise((done) => setTimeout(done, 2));
        if (failing()) throw new Error('injected');
      },
    }),
  });
  return { ...store, write: (shop, work) => store.write(shop, (parts) => work(broken(parts))) };
}
