import { rgbOfHex } from '../../../src/artwork/color/hex.ts';
import type { Raster } from '../../../src/artwork/raster.ts';

/** Whether a point (pixel edges at whole numbers) is inside a shape. */
export type Shape = (x: number, y: number) => boolean;

export type Canvas = { readonly width: number; readonly height: number; readonly data: Uint8Array };

/** A canvas of clear pixels, or of one opaque color. */
export function canvas(width: number, height: number, hex?: string): Canvas {
  const data = new Uint8Array(4 * width * height);
  if (hex !== undefined) {
    const [red, green, blue] = rgbOfHex(hex);
    for (let at = 0; at < data.length; at += 4) data.set([red, green, blue, 255], at);
  }
  return { width, height, data };
}

/** Paints a shape. With `samples` over 1 its edge is antialiased (so many samples each way), otherwise hard. */
export function paint(into: Canvas, shape: Shape, hex: string, samples = 1, opacity = 1): Canvas {
  const [red, green, blue] = rgbOfHex(hex);
  for (let y = 0, at = 0; y < into.height; y++)
    for (let x = 0; x < into.width; x++, at += 4) {
      let hits = 0;
      for (let row = 0; row < samples; row++)
        for (let column = 0; column < samples; column++)
          if (shape(x + (column + 0.5) / samples, y + (row + 0.5) / samples)) hits++;
      if (hits > 0) lay(into.data, at, red, green, blue, (opacity * hits) / (samples * samples));
    }
  return into;
}

/** Composites a color over a pixel, straight alpha. */
export function lay(
  data: Uint8Array,
  at: number,
  red: number,
  green: number,
  blue: number,
  alpha: number,
): void {
  const below = (data[at + 3]! / 255) * (1 - alpha);
  const all = alpha + below;
  if (all === 0) return;
  data[at] = Math.round((red * alpha + data[at]! * below) / all);
  data[at + 1] = Math.round((green * alpha + data[at + 1]! * below) / all);
  data[at + 2] = Math.round((blue * alpha + data[at + 2]! * below) / all);
  data[at + 3] = Math.round(255 * all);
}

export function rect(left: number, top: number, width: number, height: number): Shape {
  return (x, y) => x >= left && x < left + width && y >= top && y < top + height;
}

export function disc(cx: number, cy: number, radius: number): Shape {
  return (x, y) => (x - cx) ** 2 + (y - cy) ** 2 <= radius ** 2;
}

export function ring(cx: number, cy: number, radius: number, stroke: number): Shape {
  return (x, y) => Math.abs(Math.hypot(x - cx, y - cy) - radius) <= stroke / 2;
}

/** A straight stroke with round ends, from one point to another. */
export function stroke(x0: number, y0: number, x1: number, y1: number, width: number): Shape {
  const dx = x1 - x0;
  const dy = y1 - y0;
  const squared = dx * dx + dy * dy;
  // A little over half the width, so that rounding never rejects a point of the stroke.
  const reach = width / 2 + 1e-6;
  const left = Math.min(x0, x1) - reach;
  const right = Math.max(x0, x1) + reach;
  const top = Math.min(y0, y1) - reach;
  const bottom = Math.max(y0, y1) + reach;
  return (x, y) => {
    if (x < left || x > right || y < top || y > bottom) return false;
    const along = squared === 0 ? 0 : Math.min(1, Math.max(0, ((x - x0) * dx + (y - y0) * dy) / squared));
    return Math.hypot(x - x0 - along * dx, y - y0 - along * dy) <= width / 2;
  };
}

/** A straight bar with square ends, centered at (cx, cy) and rotated. */
export function bar(cx: number, cy: number, length: number, width: number, angleDeg: number): Shape {
  const cos = Math.cos((angleDeg * Math.PI) / 180);
  const sin = Math.sin((angleDeg * Math.PI) / 180);
  return (x, y) =>
    Math.abs((x - cx) * cos + (y - cy) * sin) <= length / 2 &&
    Math.abs((y - cy) * cos - (x - cx) * sin) <= width / 2;
}

/** A filled polygon, even-odd. Its crossings with a horizontal line are computed once for each line. */
export function polygon(...points: readonly (readonly [number, number])[]): Shape {
  const crossingsByY = new Map<number, readonly number[]>();
  const crossingsAt = (y: number): readonly number[] => {
    let crossings = crossingsByY.get(y);
    if (crossings === undefined) {
      crossings = points.flatMap(([x0, y0], index) => {
        const [x1, y1] = points[(index + points.length - 1) % points.length]!;
        return y0 > y !== y1 > y ? [((x1 - x0) * (y - y0)) / (y1 - y0) + x0] : [];
      });
      crossingsByY.set(y, crossings);
    }
    return crossings;
  };
  return (x, y) => {
    let inside = false;
    for (const crossing of crossingsAt(y)) if (x < crossing) inside = !inside;
    return inside;
  };
}

export function any(...shapes: readonly Shape[]): Shape {
  return (x, y) => shapes.some((shape) => shape(x, y));
}

export function without(shape: Shape, hole: Shape): Shape {
  return (x, y) => shape(x, y) && !hole(x, y);
}

/** Deterministic noise, -1..1, from an integer seed. */
export function noise(seed: number): number {
  let value = Math.imul(seed ^ (seed >>> 15), 0x2c1b3c6d);
  value = Math.imul(value ^ (value >>> 12), 0x297a2d39);
  return ((value ^ (value >>> 15)) >>> 0) / 0x80000000 - 1;
}

/**
 * Adds noise like that of a JPEG encoder: in every 8 x 8 block with contrast all pixels change by up to `amplitude`; flat
 * blocks stay flat.
 */
export function jpegNoise(raster: Canvas, amplitude: number): Canvas {
  const { width, height, data } = raster;
  for (let top = 0; top < height; top += 8)
    for (let left = 0; left < width; left += 8) {
      let least = 255;
      let most = 0;
      const each = (onPixel: (at: number, seed: number) => void): void => {
        for (let y = top; y < Math.min(height, top + 8); y++)
          for (let x = left; x < Math.min(width, left + 8); x++) onPixel(4 * (y * width + x), y * width + x);
      };
      each((at) => {
        least = Math.min(least, data[at + 1]!);
        most = Math.max(most, data[at + 1]!);
      });
      if (most - least < 8) continue;
      each((at, seed) => {
        for (let channel = 0; channel < 3; channel++) {
          const off = Math.round(amplitude * noise(3 * seed + channel + 17));
          data[at + channel] = Math.min(255, Math.max(0, data[at + channel]! + off));
        }
      });
    }
  return raster;
}

/** A picture like a photo: opaque, with broad areas of changing color and grain. */
export function photo(width: number, height: number): Canvas {
  const raster = canvas(width, height);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 4) {
      const u = x / width;
      const v = y / height;
      const grain = 8 * noise(y * width + x);
      raster.data[at] = Math.min(255, Math.max(0, 128 + 90 * Math.sin(7 * u + 3 * v) + grain));
      raster.data[at + 1] = Math.min(255, Math.max(0, 120 + 80 * Math.cos(5 * v - 2 * u) + grain));
      raster.data[at + 2] = Math.min(255, Math.max(0, 110 + 100 * Math.sin(4 * u * v + 1) + grain));
      raster.data[at + 3] = 255;
    }
  return raster;
}

/** The letters T E A M as strokes of one width with round ends, 120 px high. */
export function lettering(left: number, top: number, width: number): Shape {
  const line = (x0: number, y0: number, x1: number, y1: number): Shape =>
    stroke(left + x0, top + y0, left + x1, top + y1, width);
  return any(
    line(10, 10, 80, 10),
    line(45, 10, 45, 110),
    line(110, 10, 110, 110),
    line(110, 10, 170, 10),
    line(110, 60, 160, 60),
    line(110, 110, 170, 110),
    line(200, 110, 240, 10),
    line(240, 10, 280, 110),
    line(216, 75, 264, 75),
    line(310, 110, 310, 10),
    line(310, 10, 350, 70),
    line(350, 70, 390, 10),
    line(390, 10, 390, 110),
  );
}

/** The pixel at (x, y). */
export function pixelAt(raster: Raster, x: number, y: number): [number, number, number, number] {
  const at = 4 * (y * raster.width + x);
  return [raster.data[at]!, raster.data[at + 1]!, raster.data[at + 2]!, raster.data[at + 3]!];
}

/** Whether two pictures have the same bytes; much faster than a deep comparison. */
export function sameBytes(one: Raster['data'], other: Raster['data']): boolean {
  return one.length === other.length && Buffer.from(one).equals(other as Uint8Array);
}
