import { markDeepSoft } from '../measure/soft-alpha.ts';
import type { Raster } from '../raster.ts';
import { dotScreen } from '../screen.ts';

/**
 * Turns partly transparent ink into halftone dots that cover a share of the area equal to its alpha, and thresholds
 * antialiased edges at half alpha. The result has no partly transparent pixel.
 *
 * @param cellPx distance from dot to dot, px.
 * @param angleDeg angle of the rows of dots, degrees.
 */
export function screenSoft(raster: Raster, cellPx: number, angleDeg: number): Raster {
  const { width, height } = raster;
  const data = Uint8Array.from(raster.data);
  const screen = dotScreen(cellPx, angleDeg);
  const deep = markDeepSoft(raster);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) {
      const alpha = raster.data[4 * at + 3]!;
      if (alpha === 0 || alpha === 255) continue;
      const isInked = deep[at] === 1 ? alpha / 255 > screen(x, y) : alpha >= 128;
      data[4 * at + 3] = isInked ? 255 : 0;
    }
  return { width, height, data };
}
