import { z } from 'zod';

/** A parameter of a reason. Lengths in mm, money as decimal strings, days as ISO dates. */
export const ReasonParam = z.union([z.number(), z.string(), z.boolean(), z.array(z.string())]);

/**
 * Every code of a reason, with its parameters. Closed: each has a sentence in every language, built from `params`.
 */
export const ReasonCode = z.enum([
  // limits: why a method is unfit for a placement
  'surface-unfit', // surface, allowed[]
  'off-the-face', // widthMm, heightMm, areaWidthMm, areaHeightMm, size
  'in-keep-out', // keepOut
  'too-large-for-bed', // widthMm, heightMm, bedWidthMm, bedHeightMm, station
  'too-large-for-sheet', // widthMm, heightMm, sheetWidthMm, sheetHeightMm
  'fiber-unfit', // fibers[], share, leastShare
  'cloth-too-light', // lightness, least
  'cloth-too-dark', // lightness, most
  'line-too-thin', // lineMm, leastMm
  'gap-too-thin', // gapMm, leastMm
  'too-few-pixels', // dpi, leastDpi
  'soft-alpha-lost', // share
  'too-few-pieces', // pieces, least
  'too-many-pieces', // pieces, most
  'hand-too-thick', // hand, most
  'gloss-out-of-bounds', // gloss, least, most
  'wash-life-too-short', // washLife, least
  'breathability-too-low', // breathability, least
  'not-together-on-a-piece', // other
  'no-station', // step
  'nothing-to-print',
  'method-not-asked', // asked
  // refusals of a whole slip or line
  'no-placement',
  'no-method-fits',
  'needed-by-too-early', // neededBy, earliest
  'plan-full', // horizonDays
  // what decided
  'only-fit', // method
  'best-margin-rate', // method, other: earns more per minute of the station everything waits for
  'lowest-price', // method, other, difference
  'earliest-day', // method, other, day, otherDay
  'equal-so-listed-first', // method, other
  'finish-asks', // finish, quality, value
  'keeps-needed-by', // neededBy, method, other, otherDay
  'underbase-needed', // color, lightness
  'treatment-added', // treatment, finish
  'many-alike', // pieces, method: one set-up serves all
  'each-different', // pieces
  'bound-reached', // gap: how far from the best it may be
  // prices
  'next-count-cheaper', // count, unit
  'count-capped', // count, total: no more than the next break costs
  'floor-applied',
  'set-up-fee',
  'rush-fee',
  'size-surcharge',
  // the day
  'after-cutoff', // cutoff
  // changes that would make it possible
  'move-onto-face', // xMm, yMm
  'make-smaller', // widthMm
  'use-other-face', // face
  'use-other-finish', // finish
  'use-other-blank', // blank
  'thicken-lines', // toMm
  'widen-gaps', // toMm
  'larger-letters', // capHeightMm, widthMm
  'use-other-color', // color
  'fewer-pieces', // pieces
  'more-pieces', // pieces
  'firm-up-soft-alpha',
  'sharper-file', // widthPx
  'choose-later-day', // day
  'pay-rush', // fee, day
  'rush-brings-nothing-earlier', // day: of the slip as it is
  // alternatives
  'method-flips-at', // count, method: from that count on; on: the face, where prints of the line flip apart
  'method-flips-below', // count, method: up to that count; on as above
]);
export type ReasonCode = z.infer<typeof ReasonCode>;

/** A coded reason for a decision. `at` is a path into the slip, such as `lines.0.placements.1`. */
export const Reason = z.strictObject({
  code: ReasonCode,
  at: z.string().max(200).optional(),
  params: z.record(z.string(), ReasonParam),
});
export type Reason = z.infer<typeof Reason>;

/** Builds a reason. `at` is a path into the slip. */
export function reason(code: ReasonCode, params: Reason['params'] = {}, at?: string): Reason {
  return at === undefined ? { code, params } : { code, at, params };
}
