import { z } from 'zod';
import {
  Amount,
  Contact,
  Day,
  Id,
  Instant,
  OrderState,
  QuoteAnswer,
  Sha256,
  SignedAmount,
  Slip,
} from '../../../src/contract/index.ts';
import type { Booking, LateOrder } from '../../../src/promise/index.ts';

/** A step's claim on a unit of a station, as owners see it. */
export const BookingAnswer = z.strictObject({
  order: z.string(),
  /** place of its chain and step in the order's work; what a report from the floor names. */
  chain: z.int(),
  step: z.int(),
  key: Id,
  part: z.enum(['all', 'set-up']),
  station: Id,
  /** from 0. */
  unit: z.int(),
  start: Instant,
  /** the first batch begins. */
  runStart: Instant,
  end: Instant,
  setUpS: z.number(),
  runS: z.number(),
  /** the set-up was shortened because like work comes just before. */
  joined: z.boolean(),
  state: z.enum(['booked', 'started', 'finished']),
});
export type BookingAnswer = z.infer<typeof BookingAnswer>;

export function bookingAnswer(booking: Booking): BookingAnswer {
  return {
    order: booking.job,
    chain: booking.chain,
    step: booking.step,
    key: booking.key,
    part: booking.part,
    station: booking.station,
    unit: booking.unit,
    start: instantOf(booking.start),
    runStart: instantOf(booking.runStart),
    end: instantOf(booking.end),
    setUpS: booking.setUpS,
    runS: booking.runS,
    joined: booking.joined,
    state: booking.state,
  };
}

/** An order that does not keep its day, with the cause as the plan knows it. */
export const LateOrderAnswer = z.strictObject({
  order: z.string(),
  promised: Day,
  /** the day it would be now; null: beyond the plan's horizon. */
  now: Day.nullable(),
  cause: z.looseObject({ kind: z.string() }).nullable(),
});

export function lateAnswer({
  order,
  promised,
  now,
  cause,
}: Omit<LateOrder, 'endsAt'>): z.infer<typeof LateOrderAnswer> {
  return { order, promised, now, cause: cause === null ? null : { ...cause } };
}

/** What an order costs the shop, line by line; `amount = quantity × rate`. */
export const BillAnswer = z.strictObject({
  currency: z.string(),
  lines: z.array(
    z.strictObject({
      what: z.string(),
      item: z.string(),
      where: z.string(),
      method: Id.optional(),
      quantity: z.string(),
      unit: z.string(),
      rate: SignedAmount,
      amount: SignedAmount,
    }),
  ),
  total: SignedAmount,
  byLine: z.array(SignedAmount),
  crewMinutes: z.number(),
  stationMinutes: z.record(Id, z.number()),
  sheets: z.record(Id, z.number()),
});

export const OrderHeadAnswer = z.strictObject({
  number: z.string(),
  state: OrderState,
  placedAt: Instant,
  promisedDay: Day,
  lateUntil: Day.nullable(),
  pieces: z.int(),
  currency: z.string(),
  total: Amount,
});

export const OwnerOrder = z.strictObject({
  number: z.string(),
  state: OrderState,
  placedAt: Instant,
  changedAt: Instant,
  promisedDay: Day,
  lateUntil: Day.nullable(),
  lateCause: z.looseObject({ kind: z.string() }).nullable(),
  pieces: z.int(),
  contact: Contact,
  slip: Slip,
  /** the quote as it was booked: methods, prices, day and reasons. */
  quote: QuoteAnswer,
  bill: BillAnswer,
  proofs: z.array(Sha256),
  catalogVersion: z.int(),
  /** nothing of it is made before this. */
  notBefore: Instant,
  /** the last step is done. */
  endsAt: Instant,
  bookings: z.array(BookingAnswer),
});

/** An instant of whole seconds. */
export function instantOf(epochS: number): string {
  return new Date(epochS * 1000).toISOString();
}
