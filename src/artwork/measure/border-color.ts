import type { PixelBox } from '../../contract/facts.ts';
import type { Rgb } from '../color/hex.ts';
import type { Raster } from '../raster.ts';

/** Of the pixels along the border of the ink box, the share that must be opaque and of the background color. */
const MIN_BORDER_SHARE = 0.9;
/** How far a channel may differ from the background color at most, 0..255. */
const MAX_TOLERANCE = 28;

/** The color of a border and how far its channels may differ from it, 0..255. */
export type BorderColor = { readonly rgb: Rgb; readonly tolerance: number };

type ColorSum = { count: number; red: number; green: number; blue: number };

/** The most frequent color along the border of a box, with its noise; undefined if no color covers nearly all of it. */
export function borderColor({ width, data }: Raster, box: PixelBox): BorderColor | undefined {
  const pixels = borderPixels(width, box);
  const mode = modeOf(data, pixels);
  if (mode === undefined) return undefined;
  let rgb: Rgb = [mode.red / mode.count, mode.green / mode.count, mode.blue / mode.count];
  // The mean of the bin may be off the center of the noise; two steps of the mean shift bring it there.
  for (let step = 0; step < 2; step++) rgb = meanNear(data, pixels, rgb) ?? rgb;
  const differences = pixels.map((at) => (data[at + 3] === 255 ? channelDifference(data, at, rgb) : 255));
  differences.sort((one, other) => one - other);
  const typical = differences[Math.floor(MIN_BORDER_SHARE * (differences.length - 1))]!;
  if (typical > MAX_TOLERANCE) return undefined;
  const tolerance = Math.min(MAX_TOLERANCE, 3 * typical + 4);
  return { rgb: [Math.round(rgb[0]), Math.round(rgb[1]), Math.round(rgb[2])], tolerance };
}

/** Byte offsets of the pixels along the border of a box. */
function borderPixels(width: number, box: PixelBox): number[] {
  const pixels: number[] = [];
  const add = (x: number, y: number): void => {
    pixels.push(4 * (y * width + x));
  };
  const right = box.left + box.width - 1;
  const bottom = box.top + box.height - 1;
  for (let x = box.left; x <= right; x++) {
    add(x, box.top);
    add(x, bottom);
  }
  for (let y = box.top + 1; y < bottom; y++) {
    add(box.left, y);
    add(right, y);
  }
  return pixels;
}

/** The fullest bin of a histogram of four bits a channel; undefined if too few of the pixels are opaque. */
function modeOf(data: Raster['data'], pixels: readonly number[]): ColorSum | undefined {
  const bins = new Map<number, ColorSum>();
  let mode: ColorSum | undefined;
  let opaque = 0;
  for (const at of pixels) {
    if (data[at + 3] !== 255) continue;
    opaque++;
    const key = ((data[at]! >>> 4) << 8) | ((data[at + 1]! >>> 4) << 4) | (data[at + 2]! >>> 4);
    let bin = bins.get(key);
    if (bin === undefined) {
      bin = { count: 0, red: 0, green: 0, blue: 0 };
      bins.set(key, bin);
    }
    bin.count++;
    bin.red += data[at]!;
    bin.green += data[at + 1]!;
    bin.blue += data[at + 2]!;
    if (mode === undefined || bin.count > mode.count) mode = bin;
  }
  return opaque < MIN_BORDER_SHARE * pixels.length ? undefined : mode;
}

/** Mean of the opaque pixels close to a color; undefined if there are none. */
function meanNear(data: Raster['data'], pixels: readonly number[], rgb: Rgb): Rgb | undefined {
  let count = 0;
  let red = 0;
  let green = 0;
  let blue = 0;
  for (const at of pixels) {
    if (data[at + 3] !== 255 || channelDifference(data, at, rgb) > MAX_TOLERANCE) continue;
    count++;
    red += data[at]!;
    green += data[at + 1]!;
    blue += data[at + 2]!;
  }
  return count === 0 ? undefined : [red / count, green / count, blue / count];
}

/** Largest difference of a channel from the color. */
function channelDifference(data: Raster['data'], at: number, rgb: Rgb): number {
  return Math.max(
    Math.abs(data[at]! - rgb[0]),
    Math.abs(data[at + 1]! - rgb[1]),
    Math.abs(data[at + 2]! - rgb[2]),
  );
}
