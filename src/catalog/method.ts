import { z } from 'zod';
import { Amount, Id, LocalText, Qualities, ShareString } from '../contract/index.ts';
import { Surface } from './blank.ts';

const Seconds = z
  .number()
  .min(0)
  .max(7 * 86_400);
const Mm = z.number().positive().max(3000);

/** What a method can take. Left out means no limit of that kind. */
export const Limits = z.strictObject({
  surfaces: z.array(Surface).min(1),
  /** least share (0..1) of these fibers taken together. */
  fibers: z.strictObject({ anyOf: z.array(Id).min(1), leastShare: ShareString }).optional(),
  /** L* (0..100) of the cloth. */
  clothLightness: z
    .strictObject({ least: z.number().min(0).max(100), most: z.number().min(0).max(100) })
    .optional(),
  thinnestLineMm: z.number().min(0).max(10),
  thinnestGapMm: z.number().min(0).max(10),
  /** below this effective dpi it will not be printed. */
  leastDpi: z.number().min(10).max(1200),
  /** below this effective dpi the customer is warned. */
  goodDpi: z.number().min(10).max(1200),
  /** whether partly transparent ink prints as such, or is lost below half and solid above. */
  softAlpha: z.enum(['prints', 'lost']),
  /** where soft alpha is lost: the largest share (0..1) of the ink that may be shadow or fade; left out: any, with a warning. */
  softShareMost: z.number().min(0).max(1).optional(),
  pieces: z.strictObject({ least: z.int().min(1), most: z.int().min(1).nullable() }).optional(),
  /** a solid disc wider than this traps air and sweat; findings suggest to screen it. */
  largestSolidMm: Mm.optional(),
});
export type Limits = z.infer<typeof Limits>;

/** What drives the use of a consumable. */
export const Driver = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('per-piece'), quantity: Amount }),
  z.strictObject({ kind: z.literal('per-print'), quantity: Amount }),
  /** liquid or powder over the printed box, grown by a margin on every side: ml per cm². */
  z.strictObject({ kind: z.literal('per-area'), perCm2: Amount, marginMm: z.number().min(0).max(200) }),
  /** laydown in ml per m² at full coverage, times the channel's coverage. */
  z.strictObject({
    kind: z.literal('per-ink'),
    channel: z.enum(['c', 'm', 'y', 'k', 'w']),
    laydownMlPerM2: Amount,
  }),
  /** whole sheets on which prints are ganged and nested. */
  z.strictObject({
    kind: z.literal('per-sheet'),
    sheetWidthMm: Mm,
    sheetHeightMm: Mm,
    marginMm: z.number().min(0).max(100),
    gapMm: z.number().min(0).max(50),
    /** may prints of different designs share a sheet? */
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

/** What the floor must be told of; the ticket shows the matching cautions. */
export const Hazard = z.enum(['hot-surface', 'curing-fumes', 'spray-mist', 'moving-parts', 'electric']);

/** A step of a recipe. */
export const Step = z.strictObject({
  id: Id,
  name: LocalText,
  /** stations that can do it, first fit by surface and bed; empty for a wait (drying, cooling). */
  stations: z.array(Id).max(12),
  /** a wait without a station, seconds after the step before. */
  waitS: Seconds.default(0),
  setUpPerOrderS: Seconds.default(0),
  setUpPerDesignS: Seconds.default(0),
  /** of the set-up per order, what is saved when like work (same `like` key) comes just before. */
  like: z.array(z.enum(['cloth-color', 'method', 'temperature', 'blank'])).default([]),
  /** one run of the step handles this many prints (or pieces, or sheets). */
  per: z.enum(['print', 'piece', 'sheet']),
  batchSize: z.int().min(1).max(10_000).default(1),
  perBatchS: Seconds.default(0),
  perPrintS: Seconds.default(0),
  perCm2S: z.number().min(0).max(100).default(0),
  /** added per cm² where white is printed. */
  whitePerCm2S: z.number().min(0).max(100).default(0),
  /** share of one person's attention while it runs, and while it is set up. */
  crewShare: z.number().min(0).max(4),
  setUpCrewShare: z.number().min(0).max(4).default(1),
  /** the printed box must fit the bed of its station. */
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

/** Something done on top for a finish: a second cure, screened solids. */
export const Treatment = z.strictObject({
  id: Id,
  name: LocalText,
  /** qualities with it. */
  qualities: Qualities,
  /** steps added after the method's own. */
  steps: z.array(Step).max(10).default([]),
  /** ink that stays when solids are screened. */
  screen: z
    .strictObject({ tint: z.number().min(0.3).max(0.95), cellMm: z.number().min(0.2).max(10) })
    .optional(),
});
export type Treatment = z.infer<typeof Treatment>;

/** A way of decorating, as data: the core knows no method by name. */
export const Method = z.strictObject({
  id: Id,
  name: LocalText,
  description: LocalText.optional(),
  limits: Limits,
  qualities: Qualities,
  treatments: z.array(Treatment).max(6).default([]),
  /** white beneath the ink: where the cloth's L* is under this (100: on every cloth that is not white; 0: never). */
  whiteBelowLightness: z.number().min(0).max(100),
  /** underbase edge pulled in by, mm. */
  chokeMm: z.number().min(0).max(5).default(0),
  consumables: z.array(Consumable).max(30),
  steps: z.array(Step).min(1).max(20),
  /** pieces spoiled per piece made. */
  spoilage: ShareString,
  /** on a piece with several methods, lower goes first. */
  workOrder: z.int().min(0).max(100),
  /** methods that may not be on the same piece. */
  notWith: z.array(Id).default([]),
});
export type Method = z.infer<typeof Method>;
