import type { PixelBox } from '../../contract/facts.ts';
import { blankRaster, type Raster } from '../raster.ts';

/** A clear canvas for a picture with room around its ink, and where the picture lies on it. */
export type PaddedCanvas = {
  readonly canvas: { readonly width: number; readonly height: number; readonly data: Uint8Array };
  /** left and top edge of the picture on the canvas, px. */
  readonly left: number;
  readonly top: number;
};

/** Makes a canvas of the size of the picture, grown only where there is less than `room` px around the ink. */
export function padCanvas(raster: Raster, inkBox: PixelBox, room: number): PaddedCanvas {
  const left = Math.max(0, room - inkBox.left);
  const top = Math.max(0, room - inkBox.top);
  const right = Math.max(0, room - (raster.width - inkBox.left - inkBox.width));
  const bottom = Math.max(0, room - (raster.height - inkBox.top - inkBox.height));
  return { canvas: blankRaster(raster.width + left + right, raster.height + top + bottom), left, top };
}

/** Composites the picture over what is on its padded canvas. */
export function compositeOver(raster: Raster, { canvas, left, top }: PaddedCanvas): void {
  for (let y = 0; y < raster.height; y++)
    for (let x = 0; x < raster.width; x++)
      sourceOver(
        raster.data,
        4 * (y * raster.width + x),
        canvas.data,
        4 * ((y + top) * canvas.width + x + left),
      );
}

/** Composites one straight-alpha pixel over another (Porter-Duff source-over). */
function sourceOver(source: Raster['data'], from: number, into: Uint8Array, to: number): void {
  const alpha = source[from + 3]!;
  if (alpha === 0) return;
  const below = (into[to + 3]! * (255 - alpha)) / 255;
  const all = alpha + below;
  for (let channel = 0; channel < 3; channel++)
    into[to + channel] = Math.round((source[from + channel]! * alpha + into[to + channel]! * below) / all);
  into[to + 3] = Math.round(all);
}
