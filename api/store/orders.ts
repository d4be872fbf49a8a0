import type { Kysely } from 'kysely';
import type { Contact, OrderState, QuoteAnswer, Slip } from '../../src/contract/index.ts';
import type { WrittenBill } from '../../src/pricing/index.ts';
import type { Booking, DeliveryRule, Job, LateCause } from '../../src/promise/index.ts';
import type { RouteRecord } from './route-record.ts';
import type { Row, Tables } from './schema.ts';

/** An accepted quote with all that stands behind it. */
export type StoredOrder = {
  readonly number: string;
  readonly state: OrderState;
  readonly placedAt: string;
  readonly changedAt: string;
  readonly promisedDay: string;
  readonly lateUntil: string | null;
  /** JSON of the cause. */
  readonly lateCause: string | null;
  readonly pieces: number;
  readonly statusKeyHash: string;
  readonly contact: Contact;
  readonly slip: Slip;
  /** the quote as it was booked. */
  readonly answer: QuoteAnswer;
  readonly bill: WrittenBill;
  /** null for orders from before it was kept. */
  readonly route: RouteRecord | null;
  /** content hashes of the proofs approved. */
  readonly proofs: readonly string[];
  readonly catalogVersion: number;
  readonly work: OrderWork;
};

/** What the plan knows of an order. */
export type OrderWork = {
  readonly number: string;
  readonly job: Job;
  readonly notBefore: number;
  readonly endsAt: number;
  readonly packingS: number;
  readonly rule: DeliveryRule;
  readonly promisedDay: string;
  readonly planVersion: number;
};

/** An order that does not keep its day. */
export type LateFlag = {
  readonly number: string;
  readonly promised: string;
  /** the day it would be ready now; null: beyond the plan's horizon. */
  readonly until: string | null;
  readonly cause: LateCause | null;
};

/** An order in a list. */
export type OrderHead = Pick<
  StoredOrder,
  'number' | 'state' | 'placedAt' | 'promisedDay' | 'lateUntil' | 'pieces'
> & { readonly currency: string; readonly total: string };

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
   * @param before number of an order; only older ones are listed
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
    const { answer, work, slip } = order;
    await this.#db
      .insertInto('orders')
      .values({
        shop,
        number: order.number,
        place,
        state: order.state,
        placed_at: order.placedAt,
        changed_at: order.changedAt,
        promised_day: order.promisedDay,
        late_until: order.lateUntil,
        late_cause: order.lateCause,
        pieces: order.pieces,
        currency: answer.currency,
        subtotal: answer.subtotal,
        tax: answer.tax.amount,
        total: answer.total,
        status_key_hash: order.statusKeyHash,
        contact: JSON.stringify(order.contact),
        slip: JSON.stringify(slip),
        answer: JSON.stringify(answer),
        bill: JSON.stringify(order.bill),
        route: order.route && JSON.stringify(order.route),
        proofs: JSON.stringify(order.proofs),
        catalog_version: order.catalogVersion,
        job: JSON.stringify(work.job),
        not_before_s: work.notBefore,
        ends_at_s: work.endsAt,
        packing_s: work.packingS,
        delivery_rule: JSON.stringify(work.rule),
        plan_version: work.planVersion,
        in_plan: 1,
      })
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

  /** Takes an order out of what the plan looks at; its bookings stay as a record unless `bookings` says otherwise. */
  async removeFromPlan(shop: string, number: string, planVersion: number): Promise<void> {
    await this.#db
      .updateTable('orders')
      .set({ in_plan: 0, plan_version: planVersion })
      .where('shop', '=', shop)
      .where('number', '=', number)
      .execute();
  }

  /** Puts other bookings (and, where pieces are made again, another job) in place of an order's. */
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

  /** Says that an order is late, with the new day and the cause; null takes that back. */
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
   * The work of orders, with whether it may still be in the plan: of those in it that end after an instant, or of all
   * whose bookings changed after a version of the plan, those that left it included.
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

  /** Bookings of some orders, by order, in the order they were booked. */
  async bookings(shop: string, numbers: readonly string[]): Promise<Map<string, Booking[]>> {
    const found = new Map<string, Booking[]>();
    // PostgreSQL takes 65 535 values in a statement and SQLite 32 766.
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
            .map((booking, index) => rowOf(shop, number, from + index, booking)),
        )
        .execute();
    }
  }
}

function orderOf(row: Row<'orders'>): StoredOrder {
  return {
    number: row.number,
    state: row.state as OrderState,
    placedAt: row.placed_at,
    changedAt: row.changed_at,
    promisedDay: row.promised_day,
    lateUntil: row.late_until,
    lateCause: row.late_cause,
    pieces: row.pieces,
    statusKeyHash: row.status_key_hash,
    contact: JSON.parse(row.contact),
    slip: JSON.parse(row.slip),
    answer: JSON.parse(row.answer),
    bill: JSON.parse(row.bill),
    route: row.route === null ? null : JSON.parse(row.route),
    proofs: JSON.parse(row.proofs),
    catalogVersion: row.catalog_version,
    work: workOf(row),
  };
}

function workOf(
  row: Pick<
    Row<'orders'>,
    | 'number'
    | 'job'
    | 'not_before_s'
    | 'ends_at_s'
    | 'packing_s'
    | 'delivery_rule'
    | 'promised_day'
    | 'plan_version'
  >,
): OrderWork {
  return {
    number: row.number,
    job: JSON.parse(row.job),
    notBefore: row.not_before_s,
    endsAt: row.ends_at_s,
    packingS: row.packing_s,
    rule: JSON.parse(row.delivery_rule),
    promisedDay: row.promised_day,
    planVersion: row.plan_version,
  };
}

function rowOf(shop: string, number: string, place: number, booking: Booking): Row<'bookings'> {
  return {
    shop,
    order_number: number,
    place,
    chain: booking.chain,
    step: booking.step,
    step_key: booking.key,
    part: booking.part,
    station: booking.station,
    unit: booking.unit,
    held_from_s: booking.heldFrom,
    start_s: booking.start,
    run_start_s: booking.runStart,
    end_s: booking.end,
    set_up_s: booking.setUpS,
    run_s: booking.runS,
    full_set_up_s: booking.fullSetUpS,
    set_up_crew_share: booking.setUpCrewShare,
    crew_share: booking.crewShare,
    like_key: booking.likeKey,
    joined: booking.joined ? 1 : 0,
    state: booking.state,
  };
}

function bookingOf(row: Row<'bookings'>): Booking {
  return {
    job: row.order_number,
    chain: row.chain,
    step: row.step,
    key: row.step_key,
    part: row.part,
    station: row.station,
    unit: row.unit,
    heldFrom: row.held_from_s,
    start: row.start_s,
    runStart: row.run_start_s,
    end: row.end_s,
    setUpS: row.set_up_s,
    runS: row.run_s,
    fullSetUpS: row.full_set_up_s,
    setUpCrewShare: row.set_up_crew_share,
    crewShare: row.crew_share,
    likeKey: row.like_key,
    joined: row.joined === 1,
    state: row.state,
  };
}
