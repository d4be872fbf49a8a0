/** The limits of a method that concern artwork; they have the same names in the catalog. */
export type ArtworkLimits = {
  /** id of the method. */
  readonly id: string;
  /** thinnest stroke that prints, mm. */
  readonly thinnestLineMm: number;
  /** thinnest gap that stays open, mm. */
  readonly thinnestGapMm: number;
  /** below this effective dpi the artwork is refused. */
  readonly leastDpi: number;
  /** below this effective dpi the customer is warned. */
  readonly goodDpi: number;
  /** whether partly transparent ink prints, or is lost. */
  readonly softAlpha: 'prints' | 'lost';
  /** if soft alpha is lost: the largest share of deep soft ink that is accepted; undefined: any. */
  readonly softShareMost?: number | undefined;
  /** a solid disc wider than this, mm, lets no air through; undefined: no limit. */
  readonly largestSolidMm?: number | undefined;
};
