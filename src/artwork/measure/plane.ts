import type { PixelBox } from '../../contract/facts.ts';
import type { Raster } from '../raster.ts';
import type { Tiles } from './tiles.ts';

/**
 * The amount of ink at each pixel, 0..255, at `bytes[((y * width + x) << shift) + offset]`, so that the alpha channel of
 * a raster is read in place. From `threshold` up a pixel counts as ink.
 */
export type InkPlane = {
  readonly width: number;
  readonly height: number;
  readonly bytes: Uint8Array | Uint8ClampedArray;
  readonly shift: 0 | 2;
  readonly offset: 0 | 3;
  readonly threshold: number;
  /** value of full ink; undefined where it varies (ink that is known by its contrast with a background). */
  readonly full: number | undefined;
  /** all ink is inside. */
  readonly box: PixelBox;
  /** the kinds of the plane's tiles, if known: opaque is all ink, clear is none. */
  readonly tiles: Tiles | undefined;
};

/** The alpha channel of a raster; a pixel is ink from half alpha up. */
export function alphaPlane(raster: Raster, box: PixelBox, tiles?: Tiles): InkPlane {
  const { width, height, data } = raster;
  return { width, height, bytes: data, shift: 2, offset: 3, threshold: 128, full: 255, box, tiles };
}
