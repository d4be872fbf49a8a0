import type { PixelBox } from '../../contract/facts.ts';
import { copyRaster, pixelWords, type Raster } from '../raster.ts';

/** Bounding box of the pixels with alpha over 0; undefined if there is no ink. */
export function inkBoxOf(raster: Raster): PixelBox | undefined {
  const { width, height } = raster;
  const words = pixelWords(raster);
  let left = width;
  let right = -1;
  let top = -1;
  let bottom = -1;
  for (let y = 0; y < height; y++) {
    const row = y * width;
    let first = 0;
    while (first < width && words[row + first]! >>> 24 === 0) first++;
    if (first === width) continue;
    let last = width - 1;
    while (words[row + last]! >>> 24 === 0) last--;
    if (first < left) left = first;
    if (last > right) right = last;
    if (top < 0) top = y;
    bottom = y;
  }
  return top < 0 ? undefined : { left, top, width: right - left + 1, height: bottom - top + 1 };
}

/** Crops the canvas to the ink. A picture without ink stays as it is. */
export function trim(raster: Raster): Raster {
  const box = inkBoxOf(raster);
  return box === undefined ? copyRaster(raster) : crop(raster, box);
}

/** A copy of the pixels inside the box, which must lie within the raster. */
export function crop(raster: Raster, box: PixelBox): { width: number; height: number; data: Uint8Array } {
  const data = new Uint8Array(4 * box.width * box.height);
  for (let y = 0; y < box.height; y++) {
    const from = 4 * ((box.top + y) * raster.width + box.left);
    data.set(raster.data.subarray(from, from + 4 * box.width), 4 * y * box.width);
  }
  return { width: box.width, height: box.height, data };
}
