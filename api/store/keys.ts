import type { Kysely } from 'kysely';
import type { Tables } from './schema.ts';

/** An owner's key may do everything, a floor's key what production needs. */
export type Role = 'owner' | 'floor';

/** A key, without its secret. */
export type StoredKey = {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  readonly hash: string;
  readonly createdAt: string;
  readonly revokedAt: string | null;
};

/** Keys of owners and floors, and the secrets that sign quotes. */
export class Keys {
  readonly #db: Kysely<Tables>;

  constructor(db: Kysely<Tables>) {
    this.#db = db;
  }

  async get(shop: string, id: string): Promise<StoredKey | undefined> {
    const row = await this.#db
      .selectFrom('owner_keys')
      .selectAll()
      .where('shop', '=', shop)
      .where('id', '=', id)
      .executeTakeFirst();
    return row && keyOf(row);
  }

  async all(shop: string): Promise<StoredKey[]> {
    const rows = await this.#db
      .selectFrom('owner_keys')
      .selectAll()
      .where('shop', '=', shop)
      .orderBy('created_at')
      .orderBy('id')
      .execute();
    return rows.map(keyOf);
  }

  async add(shop: string, key: StoredKey): Promise<void> {
    await this.#db
      .insertInto('owner_keys')
      .values({
        shop,
        id: key.id,
        name: key.name,
        role: key.role,
        hash: key.hash,
        created_at: key.createdAt,
        revoked_at: key.revokedAt,
      })
      .execute();
  }

  /** False if there is no such key, or it was revoked before. */
  async revoke(shop: string, id: string, at: string): Promise<boolean> {
    const { numUpdatedRows } = await this.#db
      .updateTable('owner_keys')
      .set({ revoked_at: at })
      .where('shop', '=', shop)
      .where('id', '=', id)
      .where('revoked_at', 'is', null)
      .executeTakeFirst();
    return numUpdatedRows > 0n;
  }

  /** The secret of a signing key, base64url; undefined if there is no such key. */
  async signingSecret(shop: string, id: string): Promise<string | undefined> {
    const row = await this.#db
      .selectFrom('signing_keys')
      .select('secret')
      .where('shop', '=', shop)
      .where('id', '=', id)
      .executeTakeFirst();
    return row?.secret;
  }

  async addSigningKey(shop: string, id: string, secret: string, at: string): Promise<void> {
    await this.#db.insertInto('signing_keys').values({ shop, id, secret, created_at: at }).execute();
  }

  /** Deletes all signing keys from before an instant, except one. @returns how many */
  async deleteSigningKeys(shop: string, before: string, but: string): Promise<number> {
    const { numDeletedRows } = await this.#db
      .deleteFrom('signing_keys')
      .where('shop', '=', shop)
      .where('created_at', '<', before)
      .where('id', '!=', but)
      .executeTakeFirst();
    return Number(numDeletedRows);
  }
}

function keyOf(row: {
  id: string;
  name: string;
  role: Role;
  hash: string;
  created_at: string;
  revoked_at: string | null;
}): StoredKey {
  return {
    id: row.id,
    name: row.name,
    role: row.role,
    hash: row.hash,
    createdAt: row.created_at,
    revokedAt: row.revoked_at,
  };
}
