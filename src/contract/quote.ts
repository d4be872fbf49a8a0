import { z } from 'zod';
import { Amount, ShareString, SignedAmount } from './amount.ts';
import { Finding } from './facts.ts';
import { Day, Id, Instant, LocalText, Sha256 } from './ids.ts';
import { Reason } from './reason.ts';
import { Slip } from './slip.ts';

/** How a print feels, looks and lasts: hand 0 (not felt) to 4, gloss and breathability 0 to 4, wash life in cycles. */
export const Qualities = z.strictObject({
  hand: z.number().min(0).max(4),
  gloss: z.number().min(0).max(4),
  washLifeCycles: z.number().min(0).max(1000),
  breathability: z.number().min(0).max(4),
});
export type Qualities = z.infer<typeof Qualities>;

/** An extra amount on a line or a slip; `params` fill its sentence. */
export const Charge = z.strictObject({
  code: z.enum([
    'size-surcharge',
    'extra-placement',
    'names',
    'finish-surcharge',
    'break-cap',
    'set-up-order',
    'set-up-design',
    'rush',
    'delivery',
    'rounding',
  ]),
  amount: SignedAmount,
  params: z.record(z.string(), z.union([z.number(), z.string()])),
});
export type Charge = z.infer<typeof Charge>;

export const QuotedPlacement = z.strictObject({
  id: Id,
  face: Id,
  method: z.strictObject({ id: Id, name: LocalText }),
  treatments: z.array(Id),
  qualities: Qualities,
  printedMm: z.strictObject({ widthMm: z.number(), heightMm: z.number() }),
  findings: z.array(Finding),
});
export type QuotedPlacement = z.infer<typeof QuotedPlacement>;

/** A rung of the price ladder: the price of the line at another count. */
export const Rung = z.strictObject({
  count: z.int().positive(),
  unit: Amount,
  total: Amount,
  method: Id.optional(),
});
export type Rung = z.infer<typeof Rung>;

export const QuotedLine = z.strictObject({
  id: Id,
  pieces: z.int().positive(),
  /** price of one piece of the cheapest size at this count; surcharges are added to it. */
  unit: Amount,
  sizes: z.array(z.strictObject({ size: Id, count: z.int().positive(), unit: Amount, amount: Amount })),
  charges: z.array(Charge),
  /** sum of `sizes[].amount` and `charges[].amount`. */
  total: Amount,
  placements: z.array(QuotedPlacement),
  ladder: z.array(Rung),
});
export type QuotedLine = z.infer<typeof QuotedLine>;

/** The promised day, and what it is based on. */
export const PromisePublic = z.strictObject({
  /** the day it can be picked up or arrives, in the shop's time zone. */
  day: Day,
  /** the day it is packed. */
  packedDay: Day,
  delivery: Id,
  /** version of the plan that it was computed with. */
  planVersion: z.int().nonnegative(),
  validUntil: Instant,
});
export type PromisePublic = z.infer<typeof PromisePublic>;

/** Another choice for the customer: what it would change, or why it is not possible. */
export const Alternative = z.strictObject({
  /** what changes; `line` is a line id. */
  change: z.discriminatedUnion('kind', [
    z.strictObject({ kind: z.literal('finish'), line: Id, finish: Id }),
    z.strictObject({ kind: z.literal('method'), line: Id, method: Id }),
    z.strictObject({ kind: z.literal('count'), line: Id, count: z.int().positive() }),
    z.strictObject({ kind: z.literal('rush'), rush: z.boolean() }),
    z.strictObject({ kind: z.literal('needed-by'), neededBy: Day.nullable() }),
  ]),
  possible: z.boolean(),
  /** total of the whole slip with the change; absent if not possible. */
  total: Amount.optional(),
  /** total with the change minus the present total. */
  difference: SignedAmount.optional(),
  unit: Amount.optional(),
  day: Day.optional(),
  /** days later (positive) or earlier (negative) than the present day. */
  dayShift: z.int().optional(),
  method: Id.optional(),
  qualities: Qualities.optional(),
  reasons: z.array(Reason),
});
export type Alternative = z.infer<typeof Alternative>;

/** A quote for the customer: route, price and promise, but no costs. */
export const QuoteAnswer = z.strictObject({
  kind: z.literal('quote'),
  at: Instant,
  validUntil: Instant,
  currency: z.string().length(3),
  catalogVersion: z.int().positive(),
  /** hash of the parsed slip, so that an answer is never shown for another slip. */
  slipHash: Sha256,
  lines: z.array(QuotedLine),
  fees: z.array(Charge),
  /** sum of the line totals and the fees. */
  subtotal: Amount,
  tax: z.strictObject({ rate: ShareString, amount: Amount, included: z.boolean() }),
  /** subtotal, plus tax unless it is included. */
  total: Amount,
  promise: PromisePublic,
  because: z.array(Reason),
  instead: z.array(Alternative),
  /** the signed quote to order with (compact JWS); only from the API. */
  token: z.string().optional(),
});
export type QuoteAnswer = z.infer<typeof QuoteAnswer>;

/** The slip cannot be made as it is: the reasons, and the nearest changes that would make it possible. */
export const QuoteRefusal = z.strictObject({
  kind: z.literal('refusal'),
  at: Instant,
  currency: z.string().length(3),
  catalogVersion: z.int().positive(),
  slipHash: Sha256,
  reasons: z.array(Reason).min(1),
  /** changes that would make it possible, nearest first. */
  nearest: z.array(Reason),
  findings: z.array(z.strictObject({ line: Id, placement: Id, findings: z.array(Finding) })),
  instead: z.array(Alternative),
});
export type QuoteRefusal = z.infer<typeof QuoteRefusal>;

export const QuoteResponse = z.discriminatedUnion('kind', [QuoteAnswer, QuoteRefusal]);
export type QuoteResponse = z.infer<typeof QuoteResponse>;

export const QuoteRequest = z.strictObject({
  slip: Slip,
  /** omit `instead` and ladders, for the fastest answer. */
  brief: z.boolean().default(false),
});
export type QuoteRequest = z.infer<typeof QuoteRequest>;
