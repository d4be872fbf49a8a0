import { DRAWING_AREA_PX, DRAWING_LONG_SIDE_PX } from './limits.ts';

/** A long side of at most 4500 px and an area within bounds, keeping the ratio of the sides as near as whole pixels allow. */
export function pixelsFor(
  aspect: number,
  areaPx: number = DRAWING_AREA_PX,
): { readonly widthPx: number; readonly heightPx: number } {
  const ratio = aspect >= 1 ? aspect : 1 / aspect;
  const long = Math.min(DRAWING_LONG_SIDE_PX, Math.sqrt(areaPx * ratio));
  const longPx = Math.max(1, Math.round(long));
  const shortPx = Math.max(1, Math.round(long / ratio));
  return aspect >= 1 ? { widthPx: longPx, heightPx: shortPx } : { widthPx: shortPx, heightPx: longPx };
}
