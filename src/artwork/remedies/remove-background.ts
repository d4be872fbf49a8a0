import { ciede2000 } from '../color/ciede2000.ts';
import { COLOR_SLOTS, ColorCache } from '../color/color-cache.ts';
import { rgbOfHex } from '../color/hex.ts';
import { labOfHex, labOfRgb } from '../color/lab.ts';
import { FloodFill } from '../flood-fill.ts';
import type { Raster } from '../raster.ts';
import { removeSpecks } from './remove-specks.ts';
import { isNearRemoved, unmix } from './unmix.ts';

/** How far from the removed background a pixel may still be mixed with it, px. */
const MIXED_PX = 2;
/** Specks of noise, and colors that may be, are within this many tolerances of the background. */
const SPECK_TOLERANCES = 3;

export type RemoveBackground = {
  /** color of the background, `#rrggbb`. */
  readonly hex: string;
  /** CIEDE2000 distance from it that is still background. */
  readonly tolerance: number;
  /** also areas of that color that are enclosed by ink. */
  readonly enclosed: boolean;
};

/** Whether an opaque color (bytes) is background. */
type ColorTest = (red: number, green: number, blue: number) => boolean;

/**
 * Clears the background: all pixels of its color that are connected to the edge of the canvas or to clear pixels.
 * Pixels along the cut are mixed with the background; its share is estimated from the ink behind them and removed from
 * their color and alpha (matting), so that no light rim shows on another cloth.
 */
export function removeBackground(raster: Raster, { hex, tolerance, enclosed }: RemoveBackground): Raster {
  const { width, height } = raster;
  const isBackground = colorTest(hex, tolerance);
  const removed = enclosed ? matchingPixels(raster, isBackground) : connectedPixels(raster, isBackground);
  removeSpecks(raster, removed, colorTest(hex, SPECK_TOLERANCES * tolerance), MIXED_PX);
  const data = Uint8Array.from(raster.data);
  const background = { rgb: rgbOfHex(hex), lab: labOfHex(hex), noiseDeltaE: SPECK_TOLERANCES * tolerance };
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) {
      if (raster.data[4 * at + 3] === 0) continue;
      if (removed[at] === 1) data.fill(0, 4 * at, 4 * at + 4);
      else if (isNearRemoved(removed, width, height, x, y, MIXED_PX))
        unmix(raster, removed, x, y, background, data);
    }
  return { width, height, data };
}

function colorTest(hex: string, tolerance: number): ColorTest {
  const lab = labOfHex(hex);
  const results = new Uint8Array(COLOR_SLOTS);
  const cache = new ColorCache((slot, red, green, blue) => {
    results[slot] = ciede2000(lab, labOfRgb([red, green, blue])) <= tolerance ? 1 : 0;
  });
  return (red, green, blue) => results[cache.slotOf(red, green, blue)] === 1;
}

/** A mask (1) of all pixels that pass the test. */
function matchingPixels({ data }: Raster, test: ColorTest): Uint8Array {
  const matching = new Uint8Array(data.length / 4);
  for (let at = 0; at < matching.length; at++)
    if (data[4 * at + 3] !== 0 && test(data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!)) matching[at] = 1;
  return matching;
}

/** A mask (1) of the pixels that are connected to the edge of the canvas or to clear pixels, clear ones left out. */
function connectedPixels({ width, height, data }: Raster, test: ColorTest): Uint8Array {
  const connected = new Uint8Array(width * height);
  const fill = new FloodFill(
    connected,
    width,
    height,
    (at) => data[4 * at + 3] === 0 || test(data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!),
  );
  fill.seedEdges();
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) if (data[4 * at + 3] === 0) fill.seedAt(x, y);
  fill.run();
  for (let at = 0; at < connected.length; at++) if (data[4 * at + 3] === 0) connected[at] = 0;
  return connected;
}
