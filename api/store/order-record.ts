import type { Contact, OrderState, QuoteAnswer, Slip } from '../../src/contract/index.ts';
import type { WrittenBill } from '../../src/pricing/index.ts';
import type { Booking, DeliveryRule, Job, LateCause } from '../../src/promise/index.ts';
import type { RouteRecord } from './route-record.ts';
import type { NewRow, Row } from './schema.ts';

/** An accepted quote and what it was made from. */
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
  /** null for orders older than this column. */
  readonly route: RouteRecord | null;
  /** content hashes of the approved proofs. */
  readonly proofs: readonly string[];
  readonly catalogVersion: number;
  readonly work: OrderWork;
};

/** What the plan needs of an order. */
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

/** An order that will miss its promised day. */
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

export function orderRow(shop: string, place: number, order: StoredOrder): NewRow<'orders'> {
  const { answer, work, slip } = order;
  return {
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
  };
}

export function orderOf(row: Row<'orders'>): StoredOrder {
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

export function workOf(
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

export function bookingRow(shop: string, number: string, place: number, booking: Booking): Row<'bookings'> {
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

export function bookingOf(row: Row<'bookings'>): Booking {
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
