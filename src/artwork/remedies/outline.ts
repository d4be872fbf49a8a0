import { rgbOfHex } from '../color/hex.ts';
import { copyRaster, type Raster } from '../raster.ts';
import { eachPixelWithin } from './dilate.ts';
import { compositeOver, padCanvas } from './pad-canvas.ts';
import { inkBoxOf } from './trim.ts';

/**
 * Puts an antialiased outline of one color, `widthPx` wide, around and beneath the ink. The canvas grows if the outline
 * needs room; the ink keeps its color.
 */
export function outline(raster: Raster, widthPx: number, hex: string): Raster {
  const box = inkBoxOf(raster);
  if (box === undefined) return copyRaster(raster);
  const [red, green, blue] = rgbOfHex(hex);
  const padded = padCanvas(raster, box, Math.ceil(widthPx) + 1);
  const { canvas, left, top } = padded;
  const { width, height, data } = canvas;
  const ink = new Uint8Array(width * height);
  for (let y = 0; y < raster.height; y++)
    for (let x = 0; x < raster.width; x++)
      if (raster.data[4 * (y * raster.width + x) + 3]! >= 128) ink[(y + top) * width + x + left] = 1;

  eachPixelWithin(ink, width, height, widthPx + 0.5, (x, y, distancePx) => {
    const at = 4 * (y * width + x);
    data[at] = red;
    data[at + 1] = green;
    data[at + 2] = blue;
    data[at + 3] = Math.round(255 * Math.min(1, widthPx + 0.5 - distancePx));
  });
  compositeOver(raster, padded);
  return canvas;
}
