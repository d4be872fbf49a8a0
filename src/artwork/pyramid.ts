import { assertRaster, pixelWords, type Raster } from './raster.ts';

/** Longest side of any picture made for a screen, px: what every device draws. */
export const BITMAP_SIDE_MOST = 4096;

/** Levels stop halving here, px on the longer side. */
const LEVEL_LEAST = 64;

/** A picture and its halvings, largest first. Each level is a raster of its own. */
export type Pyramid = { readonly levels: readonly [Raster, ...Raster[]] };

/** Halves a picture again and again, alpha-weighted, so that the color of clear pixels never shows. */
export function buildPyramid(raster: Raster): Pyramid {
  assertRaster(raster);
  const levels: [Raster, ...Raster[]] = [raster];
  let last = raster;
  while (Math.max(last.width, last.height) > LEVEL_LEAST) {
    last = halved(last);
    levels.push(last);
  }
  return { levels };
}

/**
 * A picture of the whole at most `sidePx` on its longer side (1 to 4096), never larger than the original, never under one
 * pixel a side.
 *
 * @throws RangeError when `sidePx` is out of range.
 */
export function previewOf(pyramid: Pyramid, sidePx: number): Raster {
  if (!Number.isInteger(sidePx) || sidePx < 1 || sidePx > BITMAP_SIDE_MOST)
    throw new RangeError(`sidePx is ${sidePx}; it must be a whole number from 1 to ${BITMAP_SIDE_MOST}`);
  const [full] = pyramid.levels;
  const scale = Math.min(1, sidePx / Math.max(full.width, full.height));
  const width = Math.max(1, Math.round(full.width * scale));
  const height = Math.max(1, Math.round(full.height * scale));
  let source: Raster = full;
  for (const level of pyramid.levels) if (level.width >= width && level.height >= height) source = level;
  return shrunk(source, width, height);
}

function halved(raster: Raster): Raster {
  const { data } = raster;
  const width = Math.max(1, raster.width >> 1);
  const height = Math.max(1, raster.height >> 1);
  if (raster.width !== 2 * width || raster.height !== 2 * height) return shrunk(raster, width, height);
  const into = new Uint8Array(4 * width * height);
  const words = pixelWords(raster);
  const wordsInto = new Uint32Array(into.buffer);
  const below = 4 * raster.width;
  for (let y = 0, to = 0; y < height; y++) {
    let at = 2 * y * below;
    for (let x = 0; x < width; x++, at += 8, to += 4) {
      // Flat areas, most of most artwork, need no arithmetic.
      const word = words[at >>> 2]!;
      if (
        word === words[(at >>> 2) + 1] &&
        word === words[(at + below) >>> 2] &&
        word === words[((at + below) >>> 2) + 1]
      ) {
        if (word >>> 24 !== 0) wordsInto[to >>> 2] = word;
        continue;
      }
      const a = data[at + 3]!;
      const b = data[at + 7]!;
      const c = data[at + below + 3]!;
      const d = data[at + below + 7]!;
      const alpha = a + b + c + d;
      if (alpha === 0) continue;
      for (let channel = 0; channel < 3; channel++)
        into[to + channel] =
          (a * data[at + channel]! +
            b * data[at + channel + 4]! +
            c * data[at + below + channel]! +
            d * data[at + below + channel + 4]!) /
            alpha +
          0.5;
      into[to + 3] = (alpha + 2) >> 2;
    }
  }
  return { width, height, data: into };
}

/** Each pixel of the result is the alpha-weighted mean of the area of the source it covers. */
function shrunk(raster: Raster, width: number, height: number): Raster {
  if (raster.width === width && raster.height === height)
    return { width, height, data: Uint8Array.from(raster.data) };
  const { data } = raster;
  const into = new Uint8Array(4 * width * height);
  const sums = new Float64Array(4 * width);
  const stepX = raster.width / width;
  const stepY = raster.height / height;
  for (let y = 0; y < height; y++) {
    sums.fill(0);
    const top = y * stepY;
    const bottom = Math.min(raster.height, top + stepY);
    for (let row = Math.floor(top); row < bottom; row++) {
      const share = Math.min(bottom, row + 1) - Math.max(top, row);
      const start = 4 * row * raster.width;
      for (let x = 0; x < width; x++) {
        const left = x * stepX;
        const right = Math.min(raster.width, left + stepX);
        const first = Math.floor(left);
        let alpha = 0;
        let red = 0;
        let green = 0;
        let blue = 0;
        for (let column = first; column < right; column++) {
          const at = start + 4 * column;
          const own = data[at + 3]!;
          if (own === 0) continue;
          const weight = own * (Math.min(right, column + 1) - Math.max(left, column));
          alpha += weight;
          red += weight * data[at]!;
          green += weight * data[at + 1]!;
          blue += weight * data[at + 2]!;
        }
        sums[4 * x]! += share * red;
        sums[4 * x + 1]! += share * green;
        sums[4 * x + 2]! += share * blue;
        sums[4 * x + 3]! += share * alpha;
      }
    }
    const area = stepX * (bottom - top);
    for (let x = 0, to = 4 * y * width; x < width; x++, to += 4) {
      const alpha = sums[4 * x + 3]!;
      const byte = Math.round(alpha / area);
      if (byte === 0) continue;
      into[to] = sums[4 * x]! / alpha + 0.5;
      into[to + 1] = sums[4 * x + 1]! / alpha + 0.5;
      into[to + 2] = sums[4 * x + 2]! / alpha + 0.5;
      into[to + 3] = byte;
    }
  }
  return { width, height, data: into };
}
