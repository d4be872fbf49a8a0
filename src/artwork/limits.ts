/** What of a method bears on artwork; a method's limits in the catalog carry the same names. */
export type ArtworkLimits = {
  /** id of the method. */
  readonly id: string;
  /** thinnest stroke that holds, mm. */
  readonly thinnestLineMm: number;
  /** thinnest gap that stays open, mm. */
  readonly thinnestGapMm: number;
  /** below this effective dpi it will not be printed. */
  readonly leastDpi: number;
  /** below this effective dpi the customer is warned. */
  readonly goodDpi: number;
  /** whether partly transparent ink prints as such, or is lost. */
  readonly softAlpha: 'prints' | 'lost';
  /** where soft alpha is lost: the share of the ink that may be deep soft; more stops. Left out: never stops. */
  readonly softShareMost?: number | undefined;
  /** a solid disc wider than this lets no air through, mm. Left out: no such limit. */
  readonly largestSolidMm?: number | undefined;
};
