import { squaredDistances } from '../distance-transform.ts';

/** Side of the tiles processed one at a time, so that memory does not grow with the picture. */
const TILE_PX = 512;

/**
 * Calls `onPixel` for every pixel within `radius` px of a seed (seeds too) with its distance to the nearest one.
 *
 * @param seeds one byte for each pixel, 1 at a seed.
 */
export function eachPixelWithin(
  seeds: Uint8Array,
  width: number,
  height: number,
  radius: number,
  onPixel: (x: number, y: number, distancePx: number) => void,
): void {
  const margin = Math.ceil(radius);
  const maxSquared = radius * radius;
  for (let top = 0; top < height; top += TILE_PX)
    for (let left = 0; left < width; left += TILE_PX) {
      const fromX = Math.max(0, left - margin);
      const fromY = Math.max(0, top - margin);
      const across = Math.min(width, left + TILE_PX + margin) - fromX;
      const down = Math.min(height, top + TILE_PX + margin) - fromY;
      const mask = new Uint8Array(across * down);
      let hasSeed = false;
      for (let y = 0; y < down; y++)
        for (let x = 0; x < across; x++) {
          const seed = seeds[(fromY + y) * width + fromX + x] === 1;
          mask[y * across + x] = seed ? 0 : 1;
          hasSeed ||= seed;
        }
      if (!hasSeed) continue;
      const squared = squaredDistances(mask, across, down);
      const right = Math.min(width, left + TILE_PX);
      const bottom = Math.min(height, top + TILE_PX);
      for (let y = top; y < bottom; y++)
        for (let x = left; x < right; x++) {
          const distance = squared[(y - fromY) * across + x - fromX]!;
          if (distance <= maxSquared) onPixel(x, y, Math.sqrt(distance));
        }
    }
}
