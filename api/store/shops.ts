import type { Kysely } from 'kysely';
import type { Row, Tables } from './schema.ts';

/** The versions of what is cached for a shop; read with every request, so that no cache is trusted blindly. */
export type ShopHead = {
  readonly shop: string;
  readonly catalogVersion: number;
  readonly planVersion: number;
  readonly signingKey: string;
};

/** Shops, and the versions of what is cached for them. */
export class Shops {
  readonly #db: Kysely<Tables>;
  readonly #headQuery;

  constructor(db: Kysely<Tables>) {
    this.#db = db;
    // Compiled once, since it runs with every request.
    this.#headQuery = db
      .selectFrom('shops')
      .select(['id', 'catalog_version', 'plan_version', 'signing_key'])
      .where('id', '=', '?')
      .compile();
  }

  /** Undefined if there is no such shop. */
  async head(shop: string): Promise<ShopHead | undefined> {
    const { rows } = await this.#db.executeQuery<
      Pick<Row<'shops'>, 'id' | 'catalog_version' | 'plan_version' | 'signing_key'>
    >({
      ...this.#headQuery,
      parameters: [shop],
    });
    const row = rows[0];
    if (row === undefined) return undefined;
    return {
      shop: row.id,
      catalogVersion: row.catalog_version,
      planVersion: row.plan_version,
      signingKey: row.signing_key,
    };
  }

  async ids(): Promise<string[]> {
    return (await this.#db.selectFrom('shops').select('id').orderBy('id').execute()).map(({ id }) => id);
  }

  /** Adds an empty shop; add a catalog and a signing key in the same transaction. False if it exists already. */
  async add(shop: string, signingKey: string, at: string): Promise<boolean> {
    const { numInsertedOrUpdatedRows } = await this.#db
      .insertInto('shops')
      .values({
        id: shop,
        created_at: at,
        catalog_version: 0,
        plan_version: 0,
        next_order: 1,
        signing_key: signingKey,
      })
      .onConflict((oc) => oc.doNothing())
      .executeTakeFirst();
    return (numInsertedOrUpdatedRows ?? 0n) > 0n;
  }

  /** Takes the next order number; a transaction that fails gives it back. */
  async takeOrderNumber(shop: string): Promise<number> {
    const { next_order } = await this.#db
      .updateTable('shops')
      .set((eb) => ({ next_order: eb('next_order', '+', 1) }))
      .where('id', '=', shop)
      .returning('next_order')
      .executeTakeFirstOrThrow();
    return next_order - 1;
  }

  /** Increments the plan's version. @returns the new version */
  async planChanged(shop: string): Promise<number> {
    const { plan_version } = await this.#db
      .updateTable('shops')
      .set((eb) => ({ plan_version: eb('plan_version', '+', 1) }))
      .where('id', '=', shop)
      .returning('plan_version')
      .executeTakeFirstOrThrow();
    return plan_version;
  }

  async setCatalogVersion(shop: string, version: number): Promise<void> {
    await this.#db.updateTable('shops').set({ catalog_version: version }).where('id', '=', shop).execute();
  }

  async setSigningKey(shop: string, key: string): Promise<void> {
    await this.#db.updateTable('shops').set({ signing_key: key }).where('id', '=', shop).execute();
  }
}
