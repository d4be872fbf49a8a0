import { withinDistance } from '../distance-transform.ts';
import type { Raster } from '../raster.ts';
import { dotScreen } from '../screen.ts';

/**
 * Opens holes in large solids so that the cloth breathes: inside every disc of `minDiameterPx` that fits in the ink, the
 * share of ink that stays is `tint`. What such a disc does not reach, lines, lettering and small shapes, stays as it is,
 * and so does a border half a cell wide along the edge of the solid.
 *
 * @param tint share of ink that stays, 0..1.
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

/** Marks (1) the union of all discs of the diameter that fit in the ink, each less a border. */
function solidsOf(raster: Raster, diameterPx: number, borderPx: number): Uint8Array {
  const { width, height } = raster;
  // A clear ring around stands for the world beyond the canvas.
  const wide = width + 2;
  const high = height + 2;
  const mask = new Uint8Array(wide * high);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (raster.data[4 * (y * width + x) + 3]! >= 128) mask[(y + 1) * wide + x + 1] = 1;
  // A disc of n pixels across has its nearest clear pixel (n + 1) / 2 from its center.
  const radius = (diameterPx + 1) / 2;
  const near = withinDistance(mask, wide, high, radius - 1e-6);
  // `near` is 0 exactly where a disc's center fits: grow those.
  const reached = withinDistance(near, wide, high, Math.max(0, radius - 1 - borderPx));
  const solids = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) solids[y * width + x] = reached[(y + 1) * wide + x + 1]!;
  return solids;
}
