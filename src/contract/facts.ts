import { z } from 'zod';
import { Hex, Id } from './ids.ts';

/** A box in pixels of the raster after EXIF orientation; `left` and `top` from the top left corner. */
export const PixelBox = z.strictObject({
  left: z.int().min(0),
  top: z.int().min(0),
  width: z.int().min(0),
  height: z.int().min(0),
});
export type PixelBox = z.infer<typeof PixelBox>;

/** A share, 0 to 1. */
const Share = z.number().min(0).max(1);

/** A measured width in pixels, and the box of the stroke (or gap) that has it. */
export const MeasuredWidth = z.strictObject({ px: z.number().positive(), box: PixelBox });
export type MeasuredWidth = z.infer<typeof MeasuredWidth>;

/** A disc of solid ink: its diameter and center in pixels. */
const SolidDisc = z.strictObject({ diameterPx: z.number().nonnegative(), xPx: z.number(), yPx: z.number() });

/**
 * One group of similar colors in the ink of an artwork. All `*Sum` members are sums over the pixels of the group, exact
 * at full resolution, in whole pixels (a pixel of alpha 0.5 adds 0.5 to `alphaSum`).
 */
export const ColorGroup = z.strictObject({
  /** alpha-weighted mean color of the group, sRGB. */
  hex: Hex,
  /** sum of alpha. */
  alphaSum: z.number().nonnegative(),
  /** sums of alpha times the ink of the separation, 0..1 for each pixel. */
  cSum: z.number().nonnegative(),
  mSum: z.number().nonnegative(),
  ySum: z.number().nonnegative(),
  kSum: z.number().nonnegative(),
  /** sum of alpha times `whiteFor(L*)` of the ink: the white beneath it on a cloth that is not white. */
  wSum: z.number().nonnegative(),
});
export type ColorGroup = z.infer<typeof ColorGroup>;

/**
 * What is true of a raster regardless of the cloth and the printed size. Lengths are in its pixels. Measured at full
 * resolution from straight-alpha RGBA.
 */
export const ArtworkFacts = z.strictObject({
  /** version of the measuring code; facts of an older version are measured again. */
  version: z.int().positive(),
  widthPx: z.int().positive(),
  heightPx: z.int().positive(),
  /** bounding box of all pixels with alpha > 0; null if there is no ink. */
  inkBox: PixelBox.nullable(),
  /** shares of all pixels: alpha 255, 1..254, 0. They add up to 1. */
  opaqueShare: Share,
  softShare: Share,
  clearShare: Share,
  /** share of the inked pixels that are soft, but not within 2 px of both solid and clear ones: shadows and fades, not antialiased edges. */
  deepSoftShare: Share,
  deepSoftBox: PixelBox.nullable(),
  /** the colors of the ink, most ink first, in at most 512 groups; every inked pixel is in exactly one. */
  colors: z.array(ColorGroup).max(512),
  /** number of clearly different flat ink colors, without antialiased edges; null if more than 12 or not flat (a photo). */
  inkColorCount: z.int().min(0).max(12).nullable(),
  /** strokes thinner than 1/20 of the longer side of the ink box, thinnest first, at most 24. */
  thinLines: z.array(MeasuredWidth).max(24),
  /** likewise gaps between ink. */
  thinGaps: z.array(MeasuredWidth).max(24),
  /** the largest disc that fits in the ink. */
  largestSolid: SolidDisc.nullable(),
  /** a flat, opaque background around the motif, with its color and share of all pixels. */
  background: z
    .strictObject({
      hex: Hex,
      share: Share,
      motifBox: PixelBox,
      /** the largest disc that fits in the motif. */
      motifSolid: SolidDisc.nullable(),
    })
    .nullable(),
  /** a rim of light pixels around darker ink, left by cutting it out of white. */
  lightRim: z.strictObject({ share: Share, hex: Hex, box: PixelBox }).nullable(),
  /** colors of the ink along its edges, with their share of the edges, most first. */
  edgeColors: z.array(z.strictObject({ hex: Hex, share: Share })).max(16),
  /** share of the ink that process inks cannot reproduce, with the colors concerned, most ink first. */
  outOfGamut: z.strictObject({
    share: Share,
    colors: z.array(z.strictObject({ hex: Hex, prints: Hex, share: Share })).max(12),
    box: PixelBox.nullable(),
  }),
});
export type ArtworkFacts = z.infer<typeof ArtworkFacts>;

/** A note about the file, besides its pixels. */
export const SourceNote = z.discriminatedUnion('code', [
  z.strictObject({ code: z.literal('turned-by-metadata'), orientation: z.int().min(2).max(8) }),
  z.strictObject({ code: z.literal('cmyk-converted'), profile: z.string().nullable() }),
  z.strictObject({ code: z.literal('wide-gamut-converted'), profile: z.string() }),
  z.strictObject({ code: z.literal('sixteen-bit-reduced') }),
  z.strictObject({ code: z.literal('first-frame-only'), frames: z.int().min(2) }),
  z.strictObject({ code: z.literal('first-page-only'), pages: z.int().min(2) }),
  z.strictObject({ code: z.literal('missing-font'), fonts: z.array(z.string().max(200)).max(50) }),
  z.strictObject({ code: z.literal('no-size-in-file') }),
  z.strictObject({ code: z.literal('external-reference-dropped'), count: z.int().positive() }),
  z.strictObject({ code: z.literal('active-content-dropped'), count: z.int().positive() }),
  z.strictObject({
    code: z.literal('name-does-not-match'),
    named: z.string().max(20),
    found: z.string().max(20),
  }),
  z.strictObject({ code: z.literal('reduced'), fromWidthPx: z.int(), fromHeightPx: z.int() }),
]);
export type SourceNote = z.infer<typeof SourceNote>;

/** The kind of file, detected from its bytes, and its natural size. */
export const SourceInfo = z.strictObject({
  kind: z.enum(['png', 'jpeg', 'webp', 'avif', 'tiff', 'gif', 'svg', 'pdf']),
  bytes: z.int().positive(),
  /** natural size in mm of a drawing (SVG, PDF); null for pictures, since a dpi tag is never used. */
  naturalMm: z.strictObject({ widthMm: z.number().positive(), heightMm: z.number().positive() }).nullable(),
  notes: z.array(SourceNote),
});
export type SourceInfo = z.infer<typeof SourceInfo>;

/**
 * A change to the raster that fixes a finding. Recorded in the slip, and applied again by the shop to the original file,
 * in order. Lengths are in pixels of the raster it is applied to.
 */
export const Remedy = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('remove-background'),
    hex: Hex,
    /** CIEDE2000 distance from `hex` that is still background. */
    tolerance: z.number().min(0).max(50).default(8),
    /** also areas of that color that are enclosed by ink (counters of letters). */
    enclosed: z.boolean().default(false),
  }),
  z.strictObject({ kind: z.literal('trim') }),
  z.strictObject({ kind: z.literal('firm-up'), threshold: z.int().min(1).max(254).default(128) }),
  z.strictObject({
    kind: z.literal('screen-soft'),
    /** cell of the halftone screen, px. */
    cellPx: z.number().min(2).max(200),
    angleDeg: z.number().min(0).max(90).default(45),
  }),
  z.strictObject({ kind: z.literal('thicken'), toPx: z.number().min(1).max(200) }),
  z.strictObject({ kind: z.literal('outline'), widthPx: z.number().min(1).max(200), hex: Hex }),
  z.strictObject({
    kind: z.literal('screen-solids'),
    cellPx: z.number().min(2).max(200),
    /** share of ink that remains, 0.3 to 0.95. */
    tint: z.number().min(0.3).max(0.95),
    /** only solids in which a disc of this diameter fits, px. */
    minDiameterPx: z.number().min(1).max(100000),
    angleDeg: z.number().min(0).max(90).default(45),
  }),
  z.strictObject({ kind: z.literal('recolor'), hex: Hex }),
]);
export type Remedy = z.infer<typeof Remedy>;

/** Remedies applied in order; at most 8. */
export const Remedies = z.array(Remedy).max(8);

/** How much a finding matters for a method; `stops` rules the method out. */
export const Severity = z.enum(['note', 'warning', 'stops']);
export type Severity = z.infer<typeof Severity>;

/** Every code of a finding. Closed: a new one needs a text in every language. */
export const FindingCode = z.enum([
  'nothing-to-print',
  'too-few-pixels',
  'thin-lines',
  'thin-gaps',
  'soft-alpha',
  'background-box',
  'vanishes',
  'light-rim',
  'out-of-gamut',
  'large-solid',
  'mostly-empty',
  'extreme-shape',
  'source-note',
]);
export type FindingCode = z.infer<typeof FindingCode>;

/** A problem of an artwork at a size on a cloth: what, where, how severe for which method, and what to do. */
export const Finding = z.strictObject({
  code: FindingCode,
  /** severity by method id; other methods are not affected. */
  severity: z.record(Id, Severity),
  /** the worst of them. */
  worst: Severity,
  box: PixelBox.nullable(),
  /** figures for the sentence: numbers in the unit that their name ends with, or short strings. */
  params: z.record(z.string(), z.union([z.number(), z.string(), z.array(z.string())])),
  /** remedies that would fix it, best first. */
  remedies: z.array(Remedy),
});
export type Finding = z.infer<typeof Finding>;
