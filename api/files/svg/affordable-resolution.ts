import { MAX_DRAWING_RESOLUTION, pixelsFor, type Resolution } from '../drawing-resolution.ts';
import { type FileRefusal, tooComplex } from '../refusal.ts';
import type { DrawingCost } from './drawing-cost.ts';

/** Bytes that pictures of the whole page may take while a drawing is drawn. */
const LAYER_BYTES = 150_000_000;
/** Time for making them, ms; well under what a file is given, for slower machines. */
const LAYER_TIME_MS = 700;
/** The renderer works in squares of this side, and makes every such picture anew for each square. */
const SQUARE_PX = 2000;
/** Fewer pixels than this (a square of 700) would not print well; such a drawing is refused instead. */
const LEAST_AREA_PX = 500_000;
const MAX_LAYERS = Math.floor(LAYER_BYTES / (4 * LEAST_AREA_PX)) - 2;
/** ms for each million pixels. */
const MAX_EFFECTS = Math.floor((LAYER_TIME_MS / LEAST_AREA_PX) * 1e6);

/**
 * How finely a drawing is turned into pixels: as finely as any, unless it needs so many pictures of the whole page that
 * time or memory would run out. Goes by the drawing alone, never by the machine: mends are recorded in these pixels, and
 * must find the same ones again.
 */
export function resolutionFor({ layers, layerMs }: DrawingCost, aspect: number): Resolution | FileRefusal {
  const byMemory = LAYER_BYTES / (4 * (layers + 2));
  if (byMemory < LEAST_AREA_PX) return tooComplex('layers', layers, MAX_LAYERS);
  const full: Resolution = {
    ...MAX_DRAWING_RESOLUTION,
    areaPx: Math.min(MAX_DRAWING_RESOLUTION.areaPx, byMemory),
  };
  const { widthPx, heightPx } = pixelsFor(aspect, full);
  const squares = Math.ceil(widthPx / SQUARE_PX) * Math.ceil(heightPx / SQUARE_PX);
  if ((layerMs * squares * widthPx * heightPx) / 1e6 <= LAYER_TIME_MS) return full;

  if (layerMs > MAX_EFFECTS) return tooComplex('effects', Math.round(layerMs), MAX_EFFECTS);
  const byTime = (LAYER_TIME_MS / layerMs) * 1e6;
  return { longSidePx: SQUARE_PX, areaPx: Math.min(SQUARE_PX * SQUARE_PX, byMemory, byTime) };
}
