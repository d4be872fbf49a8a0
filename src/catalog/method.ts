import { z } from 'zod';
import { Amount, Id, LocalText, Qualities, ShareString } from '../contract/index.ts';
import { Surface } from './blank.ts';

const Seconds = z
  .number()
  .min(0)
  .max(7 * 86_400);
const Mm = z.number().positive().max(3000);

/** What a method can print. An absent member is no limit. */
export const Limits = z.strictObject({
  surfaces: z.array(Surface).min(1),
  /** least total share (0..1) of these fibers. */
  fibers: z.strictObject({ anyOf: z.array(Id).min(1), leastShare: ShareString }).optional(),
  /** L* (0..100) of the cloth. */
  clothLightness: z
    .strictObject({ least: z.number().min(0).max(100), most: z.number().min(0).max(100) })
    .optional(),
  thinnestLineMm: z.number().min(0).max(10),
  thinnestGapMm: z.number().min(0).max(10),
  /** below this effective dpi the artwork is refused. */
  leastDpi: z.number().min(10).max(1200),
  /** below this effective dpi the customer is warned. */
  goodDpi: z.number().min(10).max(1200),
  /** whether partly transparent ink prints, or is lost below half alpha and solid from half alpha up. */
  softAlpha: z.enum(['prints', 'lost']),
  /** if soft alpha is lost: the largest share (0..1) of the ink that may be shadow or fade; if absent, any with a warning. */
  softShareMost: z.number().min(0).max(1).optional(),
  pieces: z.strictObject({ least: z.int().min(1), most: z.int().min(1).nullable() }).optional(),
  /** a solid disc wider than this lets no air through; a finding suggests to screen it. */
  largestSolidMm: Mm.optional(),
});
export type Limits = z.infer<typeof Limits>;

/** The cost driver of a consumable. */
export const Driver = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('per-piece'), quantity: Amount }),
  z.strictObject({ kind: z.literal('per-print'), quantity: Amount }),
  /** liquid or powder on the printed box, plus a margin on every side: ml per cm². */
  z.strictObject({ kind: z.literal('per-area'), perCm2: Amount, marginMm: z.number().min(0).max(200) }),
  /** laydown in ml per m² at full coverage, times the coverage of the channel. */
  z.strictObject({
    kind: z.literal('per-ink'),
    channel: z.enum(['c', 'm', 'y', 'k', 'w']),
    laydownMlPerM2: Amount,
  }),
  /** whole sheets on which prints are nested. */
  z.strictObject({
    kind: z.literal('per-sheet'),
    sheetWidthMm: Mm,
    sheetHeightMm: Mm,
    marginMm: z.number().min(0).max(100),
    gapMm: z.number().min(0).max(50),
    /** whether prints of different designs may share a sheet. */
    gang: z.boolean(),
  }),
]);
export type Driver = z.infer<typeof Driver>;

export const Consumable = z.strictObject({
  id: Id,
  name: LocalText,
  /** unit the price is for: "ml", "sheet", "piece". */
  unit: z.string().min(1).max(12),
  price: Amount,
  driver: Driver,
});
export type Consumable = z.infer<typeof Consumable>;

/** A hazard of a step; the ticket shows the matching caution. */
export const Hazard = z.enum(['hot-surface', 'curing-fumes', 'spray-mist', 'moving-parts', 'electric']);

/** A step of a recipe. */
export const Step = z.strictObject({
  id: Id,
  name: LocalText,
  /** stations that can do it; the first whose surface and bed fit is used. Empty for a wait (drying, cooling). */
  stations: z.array(Id).max(12),
  /** length of a wait, seconds. */
  waitS: Seconds.default(0),
  setUpPerOrderS: Seconds.default(0),
  setUpPerDesignS: Seconds.default(0),
  /** set-up per order is saved after work that is the same in all of these. */
  like: z.array(z.enum(['cloth-color', 'method', 'temperature', 'blank'])).default([]),
  /** one run of the step handles this many prints (or pieces, or sheets). */
  per: z.enum(['print', 'piece', 'sheet']),
  batchSize: z.int().min(1).max(10_000).default(1),
  perBatchS: Seconds.default(0),
  perPrintS: Seconds.default(0),
  perCm2S: z.number().min(0).max(100).default(0),
  /** added per cm² where white is printed. */
  whitePerCm2S: z.number().min(0).max(100).default(0),
  /** people needed while it runs, and while it is set up; fractions allowed. */
  crewShare: z.number().min(0).max(4),
  setUpCrewShare: z.number().min(0).max(4).default(1),
  /** the print must fit the bed of its station. */
  onBed: z.boolean().default(false),
  /** for the ticket. */
  settings: z
    .strictObject({
      temperatureC: z.number().min(0).max(400).optional(),
      timeS: z.number().min(0).max(86_400).optional(),
      pressure: z.enum(['light', 'medium', 'firm']).optional(),
      peel: z.enum(['hot', 'warm', 'cold']).optional(),
      mirrored: z.boolean().optional(),
    })
    .default({}),
  hazards: z.array(Hazard).default([]),
});
export type Step = z.infer<typeof Step>;

/** Something a method can add for a finish: a second cure, screened solids. */
export const Treatment = z.strictObject({
  id: Id,
  name: LocalText,
  /** qualities of the print with this treatment. */
  qualities: Qualities,
  /** steps after the method's own. */
  steps: z.array(Step).max(10).default([]),
  /** how solids are screened: share of ink that remains, and the cell of the screen. */
  screen: z
    .strictObject({ tint: z.number().min(0.3).max(0.95), cellMm: z.number().min(0.2).max(10) })
    .optional(),
});
export type Treatment = z.infer<typeof Treatment>;

/** A decoration method, as data: the code knows no method by name. */
export const Method = z.strictObject({
  id: Id,
  name: LocalText,
  description: LocalText.optional(),
  limits: Limits,
  qualities: Qualities,
  treatments: z.array(Treatment).max(6).default([]),
  /** white is printed beneath the ink if the cloth's L* is below this (100: on every cloth but white; 0: never). */
  whiteBelowLightness: z.number().min(0).max(100),
  /** how far the edge of the underbase is pulled in, mm. */
  chokeMm: z.number().min(0).max(5).default(0),
  consumables: z.array(Consumable).max(30),
  steps: z.array(Step).min(1).max(20),
  /** spoiled pieces per piece made. */
  spoilage: ShareString,
  /** order of the methods on a piece: lower goes first. */
  workOrder: z.int().min(0).max(100),
  /** methods that may not be on the same piece. */
  notWith: z.array(Id).default([]),
});
export type Method = z.infer<typeof Method>;
