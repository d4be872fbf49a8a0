import { z } from 'zod';
import { Amount } from './amount.ts';
import { Day, Id, Instant, LocalText, Sha256 } from './ids.ts';
import { QuoteAnswer } from './quote.ts';
import { Slip } from './slip.ts';

/** Who orders: only what the shop needs to hand over the order. */
export const Contact = z.strictObject({
  name: z.string().trim().min(1).max(120),
  email: z.email().max(254),
  phone: z.string().trim().max(40).optional(),
  note: z.string().trim().max(1000).optional(),
});
export type Contact = z.infer<typeof Contact>;

export const OrderRequest = z.strictObject({
  /** the token of the quote. */
  token: z.string().min(20).max(200_000),
  slip: Slip,
  contact: Contact,
  /** content hashes of the proofs that the customer approves, one for each decorated view of a line. */
  proofs: z.array(Sha256).max(400).default([]),
});
export type OrderRequest = z.infer<typeof OrderRequest>;

/** State of an order. */
export const OrderState = z.enum(['accepted', 'in-work', 'packed', 'handed-over', 'cancelled']);
export type OrderState = z.infer<typeof OrderState>;

/** Why an order is late, as told to its customer; reveals nothing about other customers' orders. */
export const LateCode = z.enum(['equipment', 'remake', 'work-before', 'hours', 'people']);
export type LateCode = z.infer<typeof LateCode>;

/** The status of an order, for its customer. */
export const OrderStatus = z.strictObject({
  number: z.string(),
  state: OrderState,
  placedAt: Instant,
  /** the day that was promised; never changes. */
  promisedDay: Day,
  /** present if the shop cannot keep the promise. */
  late: z
    .strictObject({
      /** the day it will be ready; null if not known yet. */
      until: Day.nullable(),
      /** null if not known. */
      because: LateCode.nullable(),
    })
    .optional(),
  pieces: z.int(),
  currency: z.string().length(3),
  /** sum of the line totals, the fees, and the tax unless it is included. */
  total: Amount,
  fees: QuoteAnswer.shape.fees,
  tax: QuoteAnswer.shape.tax,
  lines: z.array(
    z.strictObject({
      id: Id,
      blank: LocalText,
      color: LocalText,
      finish: LocalText,
      pieces: z.int(),
      methods: z.array(LocalText),
      total: Amount,
    }),
  ),
});
export type OrderStatus = z.infer<typeof OrderStatus>;

export const OrderPlaced = z.strictObject({
  number: z.string(),
  /** secret part of the status address; anyone who has it may read the status. */
  statusKey: z.string(),
  statusUrl: z.string(),
  status: OrderStatus,
});
export type OrderPlaced = z.infer<typeof OrderPlaced>;

/** The answer if the day can no longer be kept: nothing was booked, and the quote is a new one. */
export const OrderConflict = z.strictObject({ quote: QuoteAnswer });
