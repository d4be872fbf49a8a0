import type { Kysely } from 'kysely';
import type { Tables } from './schema.ts';

/** Equipment out of use. Times are epoch seconds. */
export type StoredOutage = {
  readonly id: string;
  readonly station: string;
  /** null: all units. */
  readonly unit: number | null;
  readonly from: number;
  readonly to: number;
};

/** Reports from the floor, and outages. */
export class Floor {
  readonly #db: Kysely<Tables>;

  constructor(db: Kysely<Tables>) {
    this.#db = db;
  }

  /** Outages that end after an instant, by their start. */
  async outages(shop: string, endingAfter: number): Promise<StoredOutage[]> {
    const rows = await this.#db
      .selectFrom('outages')
      .selectAll()
      .where('shop', '=', shop)
      .where('to_s', '>', endingAfter)
      .orderBy('from_s')
      .orderBy('id')
      .execute();
    return rows.map(({ id, station, unit, from_s, to_s }) => ({ id, station, unit, from: from_s, to: to_s }));
  }

  async addOutage(shop: string, outage: StoredOutage): Promise<void> {
    const { id, station, unit, from, to } = outage;
    await this.#db
      .insertInto('outages')
      .values({ shop, id, station, unit, from_s: from, to_s: to })
      .execute();
  }

  /** Ends an outage at an instant; deletes it if it had not begun by then. */
  async endOutage(shop: string, id: string, at: number): Promise<void> {
    const { numUpdatedRows } = await this.#db
      .updateTable('outages')
      .set({ to_s: at })
      .where('shop', '=', shop)
      .where('id', '=', id)
      .where('from_s', '<', at)
      .executeTakeFirst();
    if (numUpdatedRows === 0n)
      await this.#db.deleteFrom('outages').where('shop', '=', shop).where('id', '=', id).execute();
  }

  /** Records a report and the name of the key it was sent with. */
  async record(shop: string, id: string, at: string, event: unknown, byKey: string): Promise<void> {
    await this.#db
      .insertInto('floor_events')
      .values({ shop, id, at, event: JSON.stringify(event), by_key: byKey })
      .execute();
  }
}
