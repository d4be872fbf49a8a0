import type { Raster } from '../raster.ts';

/** Thresholds alpha: pixels of at least `threshold` (1..254) become opaque, all others clear. */
export function firmUp(raster: Raster, threshold: number): Raster {
  const data = Uint8Array.from(raster.data);
  for (let at = 3; at < data.length; at += 4) data[at] = data[at]! >= threshold ? 255 : 0;
  return { width: raster.width, height: raster.height, data };
}
