import type { Raster } from '../raster.ts';
import { isNearRemoved } from './unmix.ts';

/** Largest speck of noise, px. */
const MAX_SPECK_PX = 24;

/**
 * Adds to `removed` the small islands of nearly the background color that touch no other ink: JPEG artifacts around a
 * motif.
 *
 * @param removed a mask (1) of the pixels removed so far; changed in place.
 * @param isNearBackground whether a color (bytes) may be noise of the background.
 * @param reachPx specks are at most this far from what was removed.
 */
export function removeSpecks(
  raster: Raster,
  removed: Uint8Array,
  isNearBackground: (red: number, green: number, blue: number) => boolean,
  reachPx: number,
): void {
  const { width, height, data } = raster;
  const isInk = (at: number): boolean => removed[at] === 0 && data[4 * at + 3] !== 0;
  const isNoise = (at: number): boolean =>
    isNearBackground(data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!);
  const visited = new Uint8Array(width * height);
  const speck: number[] = [];
  for (let start = 0; start < visited.length; start++) {
    if (visited[start] === 1 || !isInk(start) || !isNoise(start)) continue;
    const startX = start % width;
    if (!isNearRemoved(removed, width, height, startX, (start - startX) / width, reachPx)) continue;
    speck.length = 0;
    speck.push(start);
    visited[start] = 1;
    let isIsland = true;
    for (let index = 0; index < speck.length && isIsland; index++) {
      const at = speck[index]!;
      const x = at % width;
      for (let dy = -1; dy <= 1; dy++)
        for (let dx = -1; dx <= 1; dx++) {
          if (x + dx < 0 || x + dx >= width) continue;
          const other = at + dy * width + dx;
          if (other < 0 || other >= visited.length || !isInk(other) || speck.includes(other)) continue;
          visited[other] = 1;
          speck.push(other);
          if (!isNoise(other)) isIsland = false;
        }
      if (speck.length > MAX_SPECK_PX) isIsland = false;
    }
    if (isIsland) for (const at of speck) removed[at] = 1;
  }
}
