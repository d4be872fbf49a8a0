import { MAX_DRAWING_RESOLUTION, pixelsFor, type Resolution } from '../drawing-resolution.ts';
import { type FileRefusal, tooComplex } from '../refusal.ts';
import type { DrawingCost } from './drawing-cost.ts';

/** Memory for full-page buffers while drawing, bytes. */
const LAYER_BYTES = 150_000_000;
/** Time for full-page buffers, ms; well under the bound for a file, for slower machines. */
const LAYER_TIME_MS = 700;
/** The renderer works in tiles of this side, and makes every buffer again for each tile. */
const TILE_PX = 2000;
/** With fewer pixels (a square of 700) a drawing would not print well; it is refused instead. */
const MIN_AREA_PX = 500_000;
const MAX_LAYERS = Math.floor(LAYER_BYTES / (4 * MIN_AREA_PX)) - 2;
/** ms per million pixels. */
const MAX_EFFECTS = Math.floor((LAYER_TIME_MS / MIN_AREA_PX) * 1e6);

/**
 * The resolution for a drawing: the maximum, unless it needs so many full-page buffers that time or memory would run out.
 * Depends on the drawing alone, never on the machine: remedies are recorded in these pixels and must find the same ones
 * again.
 */
export function resolutionFor({ layers, layerMs }: DrawingCost, aspect: number): Resolution | FileRefusal {
  const byMemory = LAYER_BYTES / (4 * (layers + 2));
  if (byMemory < MIN_AREA_PX) return tooComplex('layers', layers, MAX_LAYERS);
  const full: Resolution = {
    ...MAX_DRAWING_RESOLUTION,
    areaPx: Math.min(MAX_DRAWING_RESOLUTION.areaPx, byMemory),
  };
  const { widthPx, heightPx } = pixelsFor(aspect, full);
  const tiles = Math.ceil(widthPx / TILE_PX) * Math.ceil(heightPx / TILE_PX);
  if ((layerMs * tiles * widthPx * heightPx) / 1e6 <= LAYER_TIME_MS) return full;

  if (layerMs > MAX_EFFECTS) return tooComplex('effects', Math.round(layerMs), MAX_EFFECTS);
  const byTime = (LAYER_TIME_MS / layerMs) * 1e6;
  return { longSidePx: TILE_PX, areaPx: Math.min(TILE_PX * TILE_PX, byMemory, byTime) };
}
