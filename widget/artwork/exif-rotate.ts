import type { Raster } from '../../src/artwork/index.ts';
import type { Orientation } from './image-header.ts';

/** A raster turned and mirrored for display, given its Exif orientation (1 to 8). */
export function applyExifOrientation(raster: Raster, orientation: Orientation): Raster {
  if (orientation === 1) return raster;
  const { width, height } = raster;
  const swaps = orientation >= 5;
  const displayWidth = swaps ? height : width;
  const source = new Uint32Array(raster.data.slice().buffer);
  const target = new Uint32Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const [displayX, displayY] = displayed(x, y, width - 1, height - 1, orientation);
      target[displayY * displayWidth + displayX] = source[y * width + x]!;
    }
  }
  return { width: displayWidth, height: swaps ? width : height, data: new Uint8ClampedArray(target.buffer) };
}

/** Where a stored pixel is displayed. */
function displayed(
  x: number,
  y: number,
  right: number,
  bottom: number,
  orientation: Orientation,
): [number, number] {
  switch (orientation) {
    case 2:
      return [right - x, y];
    case 3:
      return [right - x, bottom - y];
    case 4:
      return [x, bottom - y];
    case 5:
      return [y, x];
    case 6:
      return [bottom - y, x];
    case 7:
      return [bottom - y, right - x];
    case 8:
      return [y, right - x];
    default:
      return [x, y];
  }
}
