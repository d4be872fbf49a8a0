import { rgbOfHex } from '../color/hex.ts';
import type { Raster } from '../raster.ts';

/** Gives all ink one color and keeps its alpha. Clear pixels become transparent black. */
export function recolor(raster: Raster, hex: string): Raster {
  const [red, green, blue] = rgbOfHex(hex);
  const data = new Uint8Array(raster.data.length);
  for (let at = 0; at < data.length; at += 4) {
    const alpha = raster.data[at + 3]!;
    if (alpha === 0) continue;
    data[at] = red;
    data[at + 1] = green;
    data[at + 2] = blue;
    data[at + 3] = alpha;
  }
  return { width: raster.width, height: raster.height, data };
}
