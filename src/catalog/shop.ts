import { z } from 'zod';
import { Amount, Day, Id, Instant, LocalText, ShareString } from '../contract/index.ts';
import { Surface } from './blank.ts';

/** `HH:MM`, 00:00 to 24:00. */
export const TimeOfDay = z.string().regex(/^(([01]\d|2[0-3]):[0-5]\d|24:00)$/, 'a time of day is HH:MM');
/** Hours of one day; an interval whose end is not after its start runs past midnight. */
export const DayHours = z.array(z.strictObject({ from: TimeOfDay, to: TimeOfDay })).max(6);
export const Week = z.strictObject({
  mon: DayHours,
  tue: DayHours,
  wed: DayHours,
  thu: DayHours,
  fri: DayHours,
  sat: DayHours,
  sun: DayHours,
});
export type Week = z.infer<typeof Week>;

export const Closure = z.strictObject({
  from: Day,
  to: Day,
  name: LocalText,
  /** on a `holiday` carriers do not work either; `own` closes only the shop. */
  kind: z.enum(['holiday', 'own']).default('own'),
});

export const Calendar = z.strictObject({
  week: Week,
  closures: z.array(Closure).max(500).default([]),
  extraShifts: z
    .array(z.strictObject({ day: Day, from: TimeOfDay, to: TimeOfDay }))
    .max(500)
    .default([]),
  /** orders after this time count as placed on the next working day; null: no cutoff. */
  cutoff: TimeOfDay.nullable().default(null),
  /** how far ahead work is planned, days. */
  horizonDays: z.int().min(7).max(400).default(120),
});
export type Calendar = z.infer<typeof Calendar>;

/** Equipment: how many units, how large, and what it costs to run. */
export const Station = z.strictObject({
  id: Id,
  name: LocalText,
  count: z.int().min(1).max(200),
  /** surfaces it can hold. */
  surfaces: z.array(Surface).min(1),
  bedWidthMm: z.number().positive().max(10_000),
  bedHeightMm: z.number().positive().max(10_000),
  /** smaller beds for some sizes, by size id. */
  bedBySize: z
    .record(Id, z.strictObject({ widthMm: z.number().positive(), heightMm: z.number().positive() }))
    .default({}),
  ratePerHour: Amount,
  /** its own hours; if absent, the shop's. */
  week: Week.optional(),
  maintenance: z
    .array(z.strictObject({ from: Instant, to: Instant }))
    .max(200)
    .default([]),
});
export type Station = z.infer<typeof Station>;

export const Crew = z.strictObject({
  count: z.int().min(1).max(500),
  wagePerHour: Amount,
  week: Week.optional(),
});
export type Crew = z.infer<typeof Crew>;

/** How an order leaves the shop. */
export const Delivery = z.strictObject({
  id: Id,
  name: LocalText,
  kind: z.enum(['pick-up', 'carrier']),
  /** working days after packing until it can be collected or arrives. */
  workingDays: z.int().min(0).max(60),
  price: Amount.default('0'),
});
export type Delivery = z.infer<typeof Delivery>;

/** A finish: bounds on the qualities of the print, and treatments to apply if a method offers them. */
export const Finish = z.strictObject({
  id: Id,
  name: LocalText,
  description: LocalText.optional(),
  bounds: z
    .strictObject({
      handMost: z.number().min(0).max(4).optional(),
      glossLeast: z.number().min(0).max(4).optional(),
      glossMost: z.number().min(0).max(4).optional(),
      washLifeLeast: z.number().min(0).max(1000).optional(),
      breathabilityLeast: z.number().min(0).max(4).optional(),
    })
    .default({}),
  treatments: z.array(Id).default([]),
});
export type Finish = z.infer<typeof Finish>;

const Break = z.strictObject({ from: z.int().min(1).max(1_000_000), unit: Amount });

/** How prices are set. */
export const PricePolicy = z.strictObject({
  /** list price by blank, finish and count; or cost plus a margin. */
  mode: z.enum(['list', 'cost-plus']),
  list: z
    .array(
      z.strictObject({
        blank: Id,
        finish: Id,
        /** price of one piece with one placement, from a count up; the first starts at 1. */
        breaks: z.array(Break).min(1).max(30),
        /** added to each piece for each placement after the first. */
        extraPlacement: Amount.default('0'),
        /** added to each piece with a name. */
        name: Amount.default('0'),
      }),
    )
    .max(2_000)
    .default([]),
  /** cost-plus: price = cost / (1 - margin). */
  margin: ShareString.default('0.5'),
  /** no price is below cost / (1 - floorMargin). */
  floorMargin: ShareString,
  setUpPerOrder: Amount.default('0'),
  setUpPerDesign: Amount.default('0'),
  rush: z.strictObject({ fee: Amount, share: ShareString }).nullable().default(null),
  /** unit prices are rounded up to this ending: step "1.00" and offset "0.95" give 19.95, 20.95. */
  ending: z.strictObject({ step: Amount, offset: Amount }).nullable().default(null),
  tax: z.strictObject({ rate: ShareString, included: z.boolean() }),
  /** objective of the choice of methods. */
  choose: z
    .enum(['margin-per-bottleneck-minute', 'lowest-price', 'earliest'])
    .default('margin-per-bottleneck-minute'),
});
export type PricePolicy = z.infer<typeof PricePolicy>;

export const ShopInfo = z.strictObject({
  name: LocalText,
  /** ISO 4217. */
  currency: z.string().regex(/^[A-Z]{3}$/, 'a currency is three capital letters of ISO 4217'),
  /** IANA name. */
  timeZone: z.string().min(1).max(64),
  /** units shown by default. */
  units: z.enum(['mm', 'in']).default('mm'),
  language: z
    .string()
    .regex(/^[a-z]{2,3}(-[A-Za-z0-9]{2,8})*$/)
    .default('en'),
  /** how long a quote is valid, minutes. */
  quoteMinutes: z
    .int()
    .min(1)
    .max(60 * 24 * 30)
    .default(60),
  /** packing time, minutes per order and per piece. */
  packing: z
    .strictObject({ perOrderMin: z.number().min(0).max(1000), perPieceMin: z.number().min(0).max(60) })
    .default({ perOrderMin: 5, perPieceMin: 0.2 }),
});
export type ShopInfo = z.infer<typeof ShopInfo>;
