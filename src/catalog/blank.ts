import { z } from 'zod';
import { Amount, Hex, Id, LocalText, ShareString } from '../contract/index.ts';

/** Surface of a face: `flat` lies flat, `curved` cannot be flattened (cap front, brim), `cylinder` is round (mug). */
export const Surface = z.enum(['flat', 'curved', 'cylinder']);
export type Surface = z.infer<typeof Surface>;

const Mm = z.number().positive().max(3000);
const Area = z.strictObject({ widthMm: Mm, heightMm: Mm });

/** An area that must not be printed: a box in the face's coordinates, `xMm` its left and `yMm` its top edge. */
export const KeepOut = z.strictObject({
  id: Id,
  name: LocalText,
  kind: z.enum(['seam', 'rim', 'handle', 'button', 'pocket', 'other']),
  xMm: z.number().min(-3000).max(3000),
  yMm: z.number().min(-3000).max(3000),
  ...Area.shape,
});

/** A usual position: center of the ink and its width, in the face's coordinates. */
export const UsualPosition = z.strictObject({
  id: Id,
  name: LocalText,
  xMm: z.number().min(-3000).max(3000),
  yMm: z.number().min(0).max(3000),
  widthMm: Mm,
});

/**
 * A decoratable side of a blank. Its coordinates have their origin at the top center of the printable area: x to
 * the right, y down, mm.
 */
export const Face = z.strictObject({
  id: Id,
  name: LocalText,
  surface: Surface,
  /** printable area of the largest size. */
  ...Area.shape,
  /** printable areas of smaller sizes; same origin. */
  areaBySize: z.record(Id, Area).default({}),
  /** cylinder only: outer diameter. */
  diameterMm: Mm.optional(),
  keepOuts: z.array(KeepOut).max(20).default([]),
  usual: z.array(UsualPosition).max(12).default([]),
  /** the origin on one of the blank's views, mm from its top left corner. */
  onView: z.strictObject({ view: Id, xMm: z.number(), yMm: z.number() }),
});
export type Face = z.infer<typeof Face>;

/** One shape of a drawing: SVG path data in mm of the view. `cloth` has the color of the blank; the other roles shade or outline it. */
export const DrawingShape = z.strictObject({
  d: z
    .string()
    .max(20_000)
    .regex(/^[MmZzLlHhVvCcSsQqTtAa0-9eE.,+\-\s]*$/, 'a drawing takes SVG path data only'),
  role: z.enum(['cloth', 'shade', 'light', 'seam', 'trim']),
  hex: Hex.optional(),
});
export type DrawingShape = z.infer<typeof DrawingShape>;

/** A drawing of one side, to scale. */
export const View = z.strictObject({
  id: Id,
  name: LocalText,
  ...Area.shape,
  shapes: z.array(DrawingShape).min(1).max(80),
});
export type View = z.infer<typeof View>;

export const BlankSize = z.strictObject({
  id: Id,
  name: LocalText,
  /** what one costs the shop. */
  cost: Amount,
  /** added to the list price. */
  surcharge: Amount.default('0'),
});

export const BlankColor = z.strictObject({
  id: Id,
  name: LocalText,
  hex: Hex,
  /** added to what one costs the shop. */
  extraCost: Amount.default('0'),
});
export type BlankColor = z.infer<typeof BlankColor>;

/** An undecorated item. */
export const Blank = z.strictObject({
  id: Id,
  name: LocalText,
  description: LocalText.optional(),
  /** composition; shares add up to 1. */
  fibers: z
    .array(z.strictObject({ fiber: Id, share: ShareString }))
    .min(1)
    .max(8),
  sizes: z.array(BlankSize).min(1).max(40),
  colors: z.array(BlankColor).min(1).max(80),
  faces: z.array(Face).min(1).max(12),
  views: z.array(View).min(1).max(8),
  /** uses that need a caution on the ticket. */
  use: z.array(z.enum(['childrens', 'drinkware', 'food'])).default([]),
  /** text of its care label, for the care card. */
  care: z.array(LocalText).max(10).default([]),
});
export type Blank = z.infer<typeof Blank>;
