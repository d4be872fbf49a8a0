import { assertRaster, pixelWords, type Raster } from './raster.ts';

/** Longest side of a picture for a screen, px: every device can draw it. */
export const MAX_BITMAP_SIDE_PX = 4096;

/** The smallest level is at most this long, px. */
const MIN_LEVEL_PX = 64;

/** An image pyramid: the picture, then each level half the size of the one before. */
export type Pyramid = { readonly levels: readonly [Raster, ...Raster[]] };

/** Builds the pyramid of a picture. Colors are weighted by alpha, so the color of clear pixels never shows. */
export function buildPyramid(raster: Raster): Pyramid {
  assertRaster(raster);
  const levels: [Raster, ...Raster[]] = [raster];
  let last = raster;
  while (Math.max(last.width, last.height) > MIN_LEVEL_PX) {
    last = downsampled(last);
    levels.push(last);
  }
  return { levels };
}

/**
 * The whole picture, at most `sidePx` (1 to 4096) on its longer side, never larger than the original, and at least one
 * pixel on each side.
 *
 * @throws RangeError when `sidePx` is out of range.
 */
export function previewOf(pyramid: Pyramid, sidePx: number): Raster {
  if (!Number.isInteger(sidePx) || sidePx < 1 || sidePx > MAX_BITMAP_SIDE_PX)
    throw new RangeError(`sidePx is ${sidePx}; it must be a whole number from 1 to ${MAX_BITMAP_SIDE_PX}`);
  const [full] = pyramid.levels;
  const scale = Math.min(1, sidePx / Math.max(full.width, full.height));
  const width = Math.max(1, Math.round(full.width * scale));
  const height = Math.max(1, Math.round(full.height * scale));
  let source: Raster = full;
  for (const level of pyramid.levels) if (level.width >= width && level.height >= height) source = level;
  return resizedBilinear(source, width, height);
}

/** Each pixel is the alpha-weighted mean of four; the last row or column of an odd size counts twice. */
function downsampled(raster: Raster): Raster {
  const { data } = raster;
  const width = (raster.width + 1) >> 1;
  const height = (raster.height + 1) >> 1;
  const words = pixelWords(raster);
  const into = new Uint8Array(4 * width * height);
  const wordsInto = new Uint32Array(into.buffer);
  for (let y = 0, to = 0; y < height; y++) {
    const upper = 2 * y * raster.width;
    const lower = Math.min(raster.height - 1, 2 * y + 1) * raster.width;
    for (let x = 0; x < width; x++, to++) {
      const right = Math.min(raster.width - 1, 2 * x + 1);
      const a = upper + 2 * x;
      const b = upper + right;
      const c = lower + 2 * x;
      const d = lower + right;
      const word = words[a]!;
      // Most artwork is mostly flat: nothing to compute.
      if (word === words[b] && word === words[c] && word === words[d]) {
        if (word >>> 24 !== 0) wordsInto[to] = word;
        continue;
      }
      writeWeightedMean(data, 4 * a, 4 * b, 4 * c, 4 * d, 1, 1, 1, 1, into, 4 * to);
    }
  }
  return { width, height, data: into };
}

/** Bilinear interpolation; for scales above one half, where no pixel is skipped. */
function resizedBilinear(raster: Raster, width: number, height: number): Raster {
  const { data } = raster;
  if (raster.width === width && raster.height === height)
    return { width, height, data: Uint8Array.from(data) };
  // Signed words stay integers in the compiled code; unsigned ones may become doubles.
  const unsigned = pixelWords(raster);
  const words = new Int32Array(unsigned.buffer, unsigned.byteOffset, unsigned.length);
  const into = new Uint8Array(4 * width * height);
  const wordsInto = new Int32Array(into.buffer);
  const columns = samplePoints(raster.width, width);
  const rows = samplePoints(raster.height, height);
  for (let y = 0, to = 0; y < height; y++) {
    const upper = rows.pixel[y]! * raster.width;
    const lower = Math.min(raster.height - 1, rows.pixel[y]! + 1) * raster.width;
    const down = rows.fraction[y]!;
    for (let x = 0; x < width; x++, to++) {
      const left = columns.pixel[x]!;
      const right = left + 1 < raster.width ? left + 1 : left;
      const a = upper + left;
      const b = upper + right;
      const c = lower + left;
      const d = lower + right;
      const first = words[a]!;
      const second = words[b]!;
      const third = words[c]!;
      const fourth = words[d]!;
      if (first === second && first === third && first === fourth) {
        if (first >>> 24 !== 0) wordsInto[to] = first;
        continue;
      }
      const across = columns.fraction[x]!;
      if (((first & second & third & fourth) | ~OPAQUE) === -1) {
        wordsInto[to] = lerpOpaque(first, second, third, fourth, across, down);
        continue;
      }
      writeWeightedMean(
        data,
        4 * a,
        4 * b,
        4 * c,
        4 * d,
        (256 - across) * (256 - down),
        across * (256 - down),
        (256 - across) * down,
        across * down,
        into,
        4 * to,
      );
    }
  }
  return { width, height, data: into };
}

const OPAQUE = 0xff000000 | 0;
const EVEN = 0x00ff00ff;
const HALF = 0x00800080;

/**
 * Bilinear interpolation of four opaque pixels, two channels at a time; within 1 of the rounded value.
 *
 * @param across toward b and d, 256ths.
 * @param down toward c and d, 256ths.
 */
function lerpOpaque(a: number, b: number, c: number, d: number, across: number, down: number): number {
  const redBlue = lerpTwoChannels(
    lerpTwoChannels(a & EVEN, b & EVEN, across),
    lerpTwoChannels(c & EVEN, d & EVEN, across),
    down,
  );
  const green = lerpTwoChannels(
    lerpTwoChannels((a >>> 8) & 0xff, (b >>> 8) & 0xff, across),
    lerpTwoChannels((c >>> 8) & 0xff, (d >>> 8) & 0xff, across),
    down,
  );
  return redBlue | (green << 8) | OPAQUE;
}

/** Interpolates two channels, in bits 0..7 and 16..23; `share` toward the other pixel in 256ths. */
function lerpTwoChannels(one: number, other: number, share: number): number {
  // Truncated to 32 bits at every step: what overflows is shifted out again.
  const sum = (Math.imul(one, 256 - share) + Math.imul(other, share)) | 0;
  return (((sum + HALF) | 0) >>> 8) & EVEN;
}

/** Writes the mean of four pixels, weighted by alpha and by the given weights. */
function writeWeightedMean(
  data: Raster['data'],
  a: number,
  b: number,
  c: number,
  d: number,
  weightA: number,
  weightB: number,
  weightC: number,
  weightD: number,
  into: Uint8Array,
  to: number,
): void {
  const wa = weightA * data[a + 3]!;
  const wb = weightB * data[b + 3]!;
  const wc = weightC * data[c + 3]!;
  const wd = weightD * data[d + 3]!;
  const alpha = wa + wb + wc + wd;
  const byte = (alpha / (weightA + weightB + weightC + weightD) + 0.5) | 0;
  if (byte === 0) return;
  const scale = 1 / alpha;
  into[to] = (wa * data[a]! + wb * data[b]! + wc * data[c]! + wd * data[d]!) * scale + 0.5;
  into[to + 1] =
    (wa * data[a + 1]! + wb * data[b + 1]! + wc * data[c + 1]! + wd * data[d + 1]!) * scale + 0.5;
  into[to + 2] =
    (wa * data[a + 2]! + wb * data[b + 2]! + wc * data[c + 2]! + wd * data[d + 2]!) * scale + 0.5;
  into[to + 3] = byte;
}

/** For each of `count` sample points, the source pixel before it and the fraction toward the next, in 256ths. */
function samplePoints(size: number, count: number): { pixel: Int32Array; fraction: Int32Array } {
  const pixel = new Int32Array(count);
  const fraction = new Int32Array(count);
  for (let index = 0; index < count; index++) {
    const place = Math.max(0, ((index + 0.5) * size) / count - 0.5);
    pixel[index] = Math.min(size - 1, Math.floor(place));
    fraction[index] = Math.round(256 * (place - Math.floor(place)));
  }
  return { pixel, fraction };
}
