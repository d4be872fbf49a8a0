import type { Kysely } from 'kysely';
import type { Tables } from './schema.ts';

/** The answer to a request with an Idempotency-Key. */
export type StoredAnswer = {
  /** SHA-256 of the request's body as canonical JSON. */
  readonly fingerprint: string;
  readonly status: number;
  readonly body: string;
};

/** Answers to repeat when a request is repeated. Added in the transaction of the change itself. */
export class Idempotency {
  readonly #db: Kysely<Tables>;

  constructor(db: Kysely<Tables>) {
    this.#db = db;
  }

  async get(shop: string, key: string): Promise<StoredAnswer | undefined> {
    return this.#db
      .selectFrom('idempotency')
      .select(['fingerprint', 'status', 'body'])
      .where('shop', '=', shop)
      .where('key', '=', key)
      .executeTakeFirst();
  }

  async add(shop: string, key: string, answer: StoredAnswer, at: string): Promise<void> {
    await this.#db
      .insertInto('idempotency')
      .values({ shop, key, ...answer, created_at: at })
      .execute();
  }

  /** Deletes answers of all shops from before an instant. @returns how many */
  async deleteBefore(before: string): Promise<number> {
    const { numDeletedRows } = await this.#db
      .deleteFrom('idempotency')
      .where('created_at', '<', before)
      .executeTakeFirst();
    return Number(numDeletedRows);
  }
}
