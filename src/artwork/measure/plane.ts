import type { PixelBox } from '../../contract/facts.ts';
import type { Raster } from '../raster.ts';
import type { Tiles } from './tiles.ts';

/**
 * How much ink is where: one value 0..255 a pixel, at `bytes[((y * width + x) << shift) + offset]`, so that the alpha
 * bytes of a raster serve without a copy. From `threshold` up a pixel counts as ink.
 */
export type InkPlane = {
  readonly width: number;
  readonly height: number;
  readonly bytes: Uint8Array | Uint8ClampedArray;
  readonly shift: 0 | 2;
  readonly offset: 0 | 3;
  readonly threshold: number;
  /** value of full ink; null where it differs from place to place (ink told by its contrast with a background). */
  readonly full: number | null;
  /** all ink is inside. */
  readonly box: PixelBox;
  /** what each tile of the plane holds, where that is known: opaque is ink, clear is none. */
  readonly tiles: Tiles | null;
};

/** The alpha of a raster; ink is what covers half of its pixel or more. */
export function alphaPlane(raster: Raster, box: PixelBox, tiles: Tiles | null = null): InkPlane {
  const { width, height, data } = raster;
  return { width, height, bytes: data, shift: 2, offset: 3, threshold: 128, full: 255, box, tiles };
}
