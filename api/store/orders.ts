import type { Kysely } from 'kysely';
import type { OrderState } from '../../src/contract/index.ts';
import type { Booking, Job, LateCause } from '../../src/promise/index.ts';
import {
  bookingOf,
  bookingRow,
  type LateFlag,
  type OrderHead,
  type OrderWork,
  orderOf,
  orderRow,
  type StoredOrder,
  workOf,
} from './order-record.ts';
import type { Tables } from './schema.ts';

/** Orders with their lines, artworks and bookings. */
export class Orders {
  readonly #db: Kysely<Tables>;

  constructor(db: Kysely<Tables>) {
    this.#db = db;
  }

  async get(shop: string, number: string): Promise<StoredOrder | undefined> {
    const row = await this.#db
      .selectFrom('orders')
      .selectAll()
      .where('shop', '=', shop)
      .where('number', '=', number)
      .executeTakeFirst();
    return row && orderOf(row);
  }

  /**
   * Newest first.
   * @param options.before number of an order; only older ones are listed
   */
  async list(
    shop: string,
    options: {
      readonly state?: OrderState | undefined;
      readonly before?: string | undefined;
      readonly most: number;
    },
  ): Promise<OrderHead[]> {
    let query = this.#db
      .selectFrom('orders')
      .select(['number', 'state', 'placed_at', 'promised_day', 'late_until', 'pieces', 'currency', 'total'])
      .where('shop', '=', shop);
    if (options.state !== undefined) query = query.where('state', '=', options.state);
    const { before } = options;
    if (before !== undefined)
      query = query.where('place', '<', (eb) =>
        eb.selectFrom('orders').select('place').where('shop', '=', shop).where('number', '=', before),
      );
    const rows = await query.orderBy('place', 'desc').limit(options.most).execute();
    return rows.map((row) => ({
      number: row.number,
      state: row.state as OrderState,
      placedAt: row.placed_at,
      promisedDay: row.promised_day,
      lateUntil: row.late_until,
      pieces: row.pieces,
      currency: row.currency,
      total: row.total,
    }));
  }

  async add(shop: string, place: number, order: StoredOrder, bookings: readonly Booking[]): Promise<void> {
    const { answer, slip } = order;
    await this.#db
      .insertInto('orders')
      .values(orderRow(shop, place, order))
      .execute();
    const artworks = new Set(
      slip.lines.flatMap(({ placements }) => placements.map(({ artwork }) => artwork)),
    );
    if (artworks.size > 0)
      await this.#db
        .insertInto('order_artworks')
        .values([...artworks].map((artwork) => ({ shop, order_number: order.number, artwork })))
        .execute();
    await this.#addBookings(shop, order.number, bookings);
    await this.#db
      .insertInto('order_lines')
      .values(
        slip.lines.map((line, index) => ({
          shop,
          order_number: order.number,
          place: index,
          line: line.id,
          blank: line.blank,
          color: line.color,
          finish: line.finish,
          pieces: answer.lines[index]!.pieces,
          total: answer.lines[index]!.total,
        })),
      )
      .execute();
  }

  async setState(shop: string, number: string, state: OrderState, at: string): Promise<void> {
    await this.#db
      .updateTable('orders')
      .set({ state, changed_at: at })
      .where('shop', '=', shop)
      .where('number', '=', number)
      .execute();
  }

  /** Takes an order out of the plan; its bookings stay as a record. */
  async removeFromPlan(shop: string, number: string, planVersion: number): Promise<void> {
    await this.#db
      .updateTable('orders')
      .set({ in_plan: 0, plan_version: planVersion })
      .where('shop', '=', shop)
      .where('number', '=', number)
      .execute();
  }

  /** Replaces an order's bookings, and its job if pieces are made again. */
  async rebook(
    shop: string,
    number: string,
    change: {
      readonly job: Job;
      readonly bookings: readonly Booking[];
      readonly endsAt: number | null;
      readonly planVersion: number;
    },
  ): Promise<void> {
    await this.#db
      .updateTable('orders')
      .set({
        job: JSON.stringify(change.job),
        plan_version: change.planVersion,
        ...(change.endsAt === null ? {} : { ends_at_s: change.endsAt }),
      })
      .where('shop', '=', shop)
      .where('number', '=', number)
      .execute();
    await this.#db
      .deleteFrom('bookings')
      .where('shop', '=', shop)
      .where('order_number', '=', number)
      .execute();
    await this.#addBookings(shop, number, change.bookings);
  }

  /** Flags an order as late, with the new day and the cause; two nulls clear the flag. */
  async setLate(
    shop: string,
    number: string,
    late: { readonly until: string | null; readonly cause: string | null },
    at: string,
  ): Promise<void> {
    await this.#db
      .updateTable('orders')
      .set({ late_until: late.until, late_cause: late.cause, changed_at: at })
      .where('shop', '=', shop)
      .where('number', '=', number)
      .execute();
  }

  /** Orders in the plan that are flagged late, oldest first. */
  async late(shop: string): Promise<LateFlag[]> {
    const rows = await this.#db
      .selectFrom('orders')
      .select(['number', 'promised_day', 'late_until', 'late_cause'])
      .where('shop', '=', shop)
      .where('in_plan', '=', 1)
      .where((eb) => eb.or([eb('late_until', 'is not', null), eb('late_cause', 'is not', null)]))
      .orderBy('place')
      .execute();
    return rows.map((row) => ({
      number: row.number,
      promised: row.promised_day,
      until: row.late_until,
      cause: row.late_cause === null ? null : (JSON.parse(row.late_cause) as LateCause),
    }));
  }

  /**
   * The work of orders and whether it is still in the plan: either of orders in the plan that end after an instant, or of
   * all orders whose bookings changed after a version of the plan, including those that left it.
   */
  async work(
    shop: string,
    which: { readonly endingAfter: number } | { readonly changedAfter: number },
  ): Promise<{ readonly work: OrderWork; readonly inPlan: boolean }[]> {
    const query = this.#db
      .selectFrom('orders')
      .select([
        'number',
        'job',
        'not_before_s',
        'ends_at_s',
        'packing_s',
        'delivery_rule',
        'promised_day',
        'plan_version',
        'in_plan',
      ])
      .where('shop', '=', shop);
    const rows = await ('endingAfter' in which
      ? query.where('in_plan', '=', 1).where('ends_at_s', '>', which.endingAfter)
      : query.where('plan_version', '>', which.changedAfter)
    )
      .orderBy('plan_version')
      .orderBy('place')
      .execute();
    return rows.map((row) => ({ work: workOf(row), inPlan: row.in_plan === 1 }));
  }

  /** Bookings by order number, each in the order they were booked. */
  async bookings(shop: string, numbers: readonly string[]): Promise<Map<string, Booking[]>> {
    const found = new Map<string, Booking[]>();
    // A statement takes at most 65 535 values on PostgreSQL, 32 766 on SQLite.
    for (let from = 0; from < numbers.length; from += 5000) {
      const rows = await this.#db
        .selectFrom('bookings')
        .selectAll()
        .where('shop', '=', shop)
        .where('order_number', 'in', numbers.slice(from, from + 5000))
        .orderBy('order_number')
        .orderBy('place')
        .execute();
      for (const row of rows) {
        const list = found.get(row.order_number);
        if (list === undefined) found.set(row.order_number, [bookingOf(row)]);
        else list.push(bookingOf(row));
      }
    }
    return found;
  }

  async #addBookings(shop: string, number: string, bookings: readonly Booking[]): Promise<void> {
    for (let from = 0; from < bookings.length; from += 500) {
      await this.#db
        .insertInto('bookings')
        .values(
          bookings
            .slice(from, from + 500)
            .map((booking, index) => bookingRow(shop, number, from + index, booking)),
        )
        .execute();
    }
  }
}
