import { z } from 'zod';
import { Remedies } from './facts.ts';
import { Day, Hex, Id, Sha256 } from './ids.ts';

/** Most lines on one slip. */
export const LINES_MAX = 50;
/** Most placements on one piece. */
export const PLACEMENTS_MAX = 8;
/** Largest count of one size on one line. */
export const COUNT_MAX = 10_000;
/** Largest coordinate and width, mm: larger than any press. */
export const MM_MAX = 3_000;

/** A count of pieces: a whole JSON number, 1 to 10,000. */
export const Count = z
  .number({ error: `a count is a whole number from 1 to ${COUNT_MAX}` })
  .int(`a count is a whole number from 1 to ${COUNT_MAX}`)
  .min(1, `a count is a whole number from 1 to ${COUNT_MAX}`)
  .max(COUNT_MAX, `a count is a whole number from 1 to ${COUNT_MAX}`);

/** Position on a face. */
const position = {
  /** Center of the ink, mm right of the vertical center line of the face's printable area (negative: left). */
  xMm: z.number().min(-MM_MAX).max(MM_MAX),
  /** Center of the ink, mm below the top edge of the face's printable area. */
  yMm: z.number().min(-MM_MAX).max(MM_MAX),
  /** Rotation about that center, degrees clockwise, -360 to 360. */
  angleDeg: z.number().min(-360).max(360).default(0),
};

/** Artwork on a face: its ink box at a position, angle and width. The height follows from the ink. */
export const ArtworkPlacement = z.strictObject({
  id: Id,
  face: Id,
  artwork: Sha256,
  remedies: Remedies.default([]),
  ...position,
  /** Printed width of the ink box before rotation, mm. */
  widthMm: z.number().min(1).max(MM_MAX),
});
export type ArtworkPlacement = z.infer<typeof ArtworkPlacement>;

/** One name or number for one piece. */
export const NameEntry = z.strictObject({ size: Id, text: z.string().trim().min(1).max(40) });
export type NameEntry = z.infer<typeof NameEntry>;

/** A list of names or numbers, one for each piece, in a bundled typeface; every piece is a different print. */
export const NamesPlacement = z.strictObject({
  id: Id,
  face: Id,
  font: Id,
  hex: Hex,
  ...position,
  /** Height of the capitals, mm. */
  capHeightMm: z.number().min(3).max(400),
  /** Largest width of a name, mm; longer ones are condensed, never cut. */
  widthMm: z.number().min(5).max(MM_MAX),
  entries: z.array(NameEntry).min(1).max(2_000),
});
export type NamesPlacement = z.infer<typeof NamesPlacement>;

/** One line of a slip: a blank in one color, with its sizes and counts, its prints and its finish. */
export const SlipLine = z.strictObject({
  id: Id,
  blank: Id,
  color: Id,
  counts: z
    .array(z.strictObject({ size: Id, count: Count }))
    .min(1)
    .max(40),
  placements: z.array(ArtworkPlacement).max(PLACEMENTS_MAX).default([]),
  names: NamesPlacement.optional(),
  finish: Id,
  /** The method the customer asks for; if absent, the shop chooses. */
  method: Id.optional(),
});
export type SlipLine = z.infer<typeof SlipLine>;

/** What a customer has configured. `format` is the version of this shape. */
export const Slip = z.strictObject({
  format: z.literal(1),
  lines: z.array(SlipLine).min(1).max(LINES_MAX),
  neededBy: Day.optional(),
  /** An id of the catalog's deliveries. */
  delivery: Id,
  /** Pay for an earlier day, if the shop offers it. */
  rush: z.boolean().default(false),
});
export type Slip = z.infer<typeof Slip>;
/** A slip as it may be sent: members with a default are optional. */
export type SlipInput = z.input<typeof Slip>;

/** Number of pieces of a line, over all sizes. */
export function piecesOf(line: Pick<SlipLine, 'counts'>): number {
  return line.counts.reduce((sum, entry) => sum + entry.count, 0);
}
