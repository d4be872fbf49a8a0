/**
 * How large a bitmap a page may make. Phones refuse or blank larger ones: 4096 px a side and 16.7 million px in all are
 * safe on every browser in use (common practice; browsers publish no list).
 */
export const BITMAP_SIDE_MAX = 4096;
export const BITMAP_AREA_MAX = 16_777_216;

/** Factor of at most 1 that brings a bitmap of this size within the limits. */
export function shrinkToLimits(widthPx: number, heightPx: number): number {
  return Math.min(
    1,
    BITMAP_SIDE_MAX / Math.max(1, widthPx),
    BITMAP_SIDE_MAX / Math.max(1, heightPx),
    Math.sqrt(BITMAP_AREA_MAX / Math.max(1, widthPx * heightPx)),
  );
}
