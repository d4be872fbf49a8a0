import { withinDistance } from '../distance-transform.ts';
import type { Raster } from '../raster.ts';
import { dotScreen } from '../screen.ts';

/**
 * Opens holes in large solids so that the cloth breathes: inside every disc of `minDiameterPx` that fits in the ink, a
 * share `tint` (0..1) of the ink remains. Lines, lettering and small shapes, which no such disc fits in, stay as they
 * are, and so does a border half a cell wide along the edge of the solid.
 */
export function screenSolids(
  raster: Raster,
  {
    cellPx,
    tint,
    minDiameterPx,
    angleDeg,
  }: { cellPx: number; tint: number; minDiameterPx: number; angleDeg: number },
): Raster {
  const { width, height } = raster;
  const data = Uint8Array.from(raster.data);
  const solids = solidsOf(raster, minDiameterPx, cellPx / 2);
  const screen = dotScreen(cellPx, angleDeg);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at++) if (solids[at] === 1 && screen(x, y) >= tint) data[4 * at + 3] = 0;
  return { width, height, data };
}

/** A mask (1) of the union of all discs of the diameter that fit in the ink, each reduced by a border. */
function solidsOf(raster: Raster, diameterPx: number, borderPx: number): Uint8Array {
  const { width, height } = raster;
  // A border of one clear pixel stands for everything outside the canvas.
  const maskWidth = width + 2;
  const maskHeight = height + 2;
  const mask = new Uint8Array(maskWidth * maskHeight);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (raster.data[4 * (y * width + x) + 3]! >= 128) mask[(y + 1) * maskWidth + x + 1] = 1;
  // A disc of n pixels across has its nearest clear pixel (n + 1) / 2 from its center.
  const radius = (diameterPx + 1) / 2;
  const near = withinDistance(mask, maskWidth, maskHeight, radius - 1e-6);
  // `near` is 0 exactly where the center of a disc fits: dilate those pixels (together, a morphological opening).
  const opened = withinDistance(near, maskWidth, maskHeight, Math.max(0, radius - 1 - borderPx));
  const solids = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) solids[y * width + x] = opened[(y + 1) * maskWidth + x + 1]!;
  return solids;
}
