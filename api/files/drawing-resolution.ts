/** Limits on the pixels of a drawing (SVG, PDF). */
export type Resolution = { readonly longSidePx: number; readonly areaPx: number };

/**
 * 4500 px is 381 mm at 300 dpi; the area limits a square drawing to 3464 x 3464 px, 293 mm at 300 dpi. Our own choice, to
 * bound time and memory.
 */
export const MAX_DRAWING_RESOLUTION: Resolution = { longSidePx: 4500, areaPx: 12_000_000 };

/**
 * The largest size within a resolution, as close to the aspect ratio as whole pixels allow; each side is at least 1.
 * @param aspect width over height
 */
export function pixelsFor(
  aspect: number,
  { longSidePx, areaPx }: Resolution = MAX_DRAWING_RESOLUTION,
): { readonly widthPx: number; readonly heightPx: number } {
  const ratio = aspect >= 1 ? aspect : 1 / aspect;
  const long = Math.min(longSidePx, Math.sqrt(areaPx * ratio));
  const longPx = Math.max(1, Math.round(long));
  const shortPx = Math.max(1, Math.round(long / ratio));
  return aspect >= 1 ? { widthPx: longPx, heightPx: shortPx } : { widthPx: shortPx, heightPx: longPx };
}
