import type { Kysely } from 'kysely';
import type { Tables } from './schema.ts';

/** One version of a catalog, as the owner's JSON text. */
export type StoredCatalog = {
  readonly version: number;
  readonly body: string;
  /** SHA-256 of the body, hexadecimal. */
  readonly etag: string;
  readonly createdAt: string;
  /** name of the key it was sent with. */
  readonly createdBy: string;
};

/** All versions of catalogs. None is changed or deleted, since orders refer to them. */
export class Catalogs {
  readonly #db: Kysely<Tables>;

  constructor(db: Kysely<Tables>) {
    this.#db = db;
  }

  async get(shop: string, version: number): Promise<StoredCatalog | undefined> {
    const row = await this.#db
      .selectFrom('catalogs')
      .select(['version', 'body', 'etag', 'created_at', 'created_by'])
      .where('shop', '=', shop)
      .where('version', '=', version)
      .executeTakeFirst();
    return (
      row && {
        version: row.version,
        body: row.body,
        etag: row.etag,
        createdAt: row.created_at,
        createdBy: row.created_by,
      }
    );
  }

  /** Newest first, without bodies. */
  async versions(shop: string): Promise<Omit<StoredCatalog, 'body'>[]> {
    const rows = await this.#db
      .selectFrom('catalogs')
      .select(['version', 'etag', 'created_at', 'created_by'])
      .where('shop', '=', shop)
      .orderBy('version', 'desc')
      .execute();
    return rows.map((row) => ({
      version: row.version,
      etag: row.etag,
      createdAt: row.created_at,
      createdBy: row.created_by,
    }));
  }

  async add(shop: string, catalog: StoredCatalog): Promise<void> {
    await this.#db
      .insertInto('catalogs')
      .values({
        shop,
        version: catalog.version,
        body: catalog.body,
        etag: catalog.etag,
        created_at: catalog.createdAt,
        created_by: catalog.createdBy,
      })
      .execute();
  }
}
