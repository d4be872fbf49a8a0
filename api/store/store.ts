import { type Kysely, sql } from 'kysely';
import { Artworks } from './artworks.ts';
import { Catalogs } from './catalogs.ts';
import { Floor } from './floor.ts';
import { Idempotency } from './idempotency.ts';
import { Keys } from './keys.ts';
import { migrate } from './migrate.ts';
import { Orders } from './orders.ts';
import { openPostgres } from './postgres.ts';
import type { Tables } from './schema.ts';
import { Shops } from './shops.ts';
import { openSqlite } from './sqlite.ts';

/** The store, part by part; the same inside a transaction and outside. */
export type StoreParts = {
  readonly shops: Shops;
  readonly catalogs: Catalogs;
  readonly keys: Keys;
  readonly artworks: Artworks;
  readonly orders: Orders;
  readonly floor: Floor;
  readonly idempotency: Idempotency;
};

/** A store. Reads outside a transaction see committed data only. */
export type Store = StoreParts & {
  readonly kind: 'sqlite' | 'postgres';
  /**
   * Runs work in a transaction that excludes other writers of the shop in every process; on SQLite all other writers. If
   * the work throws, the transaction is rolled back.
   *
   * @throws StoreBusyError if others wrote for over 10 s
   */
  write<T>(shop: string, work: (parts: StoreParts) => Promise<T>): Promise<T>;
  /** Rejects if the store does not answer. */
  ping(): Promise<void>;
  close(): Promise<void>;
};

/** Where the store is: a SQLite file or a PostgreSQL database. */
export type StorePlace = { readonly path: string } | { readonly url: string; readonly connections?: number };

/** Opens a store and migrates its tables. @param now ISO instant */
export async function openStore(place: StorePlace, now: string): Promise<Store> {
  const kind = 'path' in place ? 'sqlite' : 'postgres';
  const handles =
    'path' in place
      ? await openSqlite(place.path)
      : sharedHandles(openPostgres(place.url, place.connections));
  const close = async () => {
    await handles.reader.destroy();
    if (handles.writer !== handles.reader) await handles.writer.destroy();
  };
  try {
    await migrate(handles.writer, kind, now);
  } catch (error) {
    await close();
    throw error;
  }
  return {
    kind,
    ...partsOf(handles.reader),
    write: (shop, work) =>
      handles.writer.transaction().execute(async (transaction) => {
        // One writer per shop at a time. SQLite has only one writer anyway.
        if (kind === 'postgres')
          await sql`select 1 from shops where id = ${shop} for update`.execute(transaction);
        return work(partsOf(transaction));
      }),
    ping: async () => {
      await sql`select 1`.execute(handles.reader);
    },
    close,
  };
}

function sharedHandles(db: Kysely<Tables>): { reader: Kysely<Tables>; writer: Kysely<Tables> } {
  return { reader: db, writer: db };
}

function partsOf(db: Kysely<Tables>): StoreParts {
  return {
    shops: new Shops(db),
    catalogs: new Catalogs(db),
    keys: new Keys(db),
    artworks: new Artworks(db),
    orders: new Orders(db),
    floor: new Floor(db),
    idempotency: new Idempotency(db),
  };
}
