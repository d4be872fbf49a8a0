import { rgbOfHex } from '../color/hex.ts';
import { blankRaster, type Raster } from '../raster.ts';
import { eachPixelWithin } from './dilate.ts';
import { inkBoxOf } from './trim.ts';

/**
 * Lays an outline of one color around and beneath the ink, `widthPx` wide, its own edge smooth. Where the canvas leaves
 * no room for it, the canvas grows; the ink itself keeps its color.
 */
export function outline(raster: Raster, widthPx: number, hex: string): Raster {
  const box = inkBoxOf(raster);
  if (box === null) return { width: raster.width, height: raster.height, data: Uint8Array.from(raster.data) };
  const [red, green, blue] = rgbOfHex(hex);
  const room = Math.ceil(widthPx) + 1;
  const left = Math.max(0, room - box.left);
  const top = Math.max(0, room - box.top);
  const right = Math.max(0, room - (raster.width - box.left - box.width));
  const bottom = Math.max(0, room - (raster.height - box.top - box.height));
  const grown = blankRaster(raster.width + left + right, raster.height + top + bottom);
  const { width, height, data } = grown;
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
  for (let y = 0; y < raster.height; y++)
    for (let x = 0; x < raster.width; x++)
      compositeOver(raster.data, 4 * (y * raster.width + x), data, 4 * ((y + top) * width + x + left));
  return grown;
}

/** Lays one straight-alpha pixel over another. */
export function compositeOver(over: Raster['data'], from: number, under: Uint8Array, to: number): void {
  const alpha = over[from + 3]!;
  if (alpha === 0) return;
  const below = (under[to + 3]! * (255 - alpha)) / 255;
  const all = alpha + below;
  for (let channel = 0; channel < 3; channel++)
    under[to + channel] = Math.round((over[from + channel]! * alpha + under[to + channel]! * below) / all);
  under[to + 3] = Math.round(all);
}
