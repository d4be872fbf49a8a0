import type { PixelBox } from '../../contract/facts.ts';
import { pixelWords, type Raster } from '../raster.ts';
import {
  TILE_BINARY,
  TILE_CLEAR,
  TILE_OPAQUE,
  TILE_SHIFT,
  TILE_SOFT,
  type Tiles,
  tilesAcross,
} from './tiles.ts';

/** Bins of the color histogram: five bits of each channel. */
export const BIN_COUNT = 32_768;

/** The bin of a pixel, given as a word of `pixelWords`. */
export function binOfWord(word: number): number {
  return ((word >>> 3) & 0x1f) | ((word >>> 6) & 0x3e0) | ((word >>> 9) & 0x7c00);
}

/** The pixels of one bin of the color histogram, exact. */
export type ColorBin = {
  readonly bin: number;
  /** sum of alpha, 0..255 for each pixel. */
  readonly alpha: number;
  /** alpha-weighted mean of each channel, 0..255. */
  readonly red: number;
  readonly green: number;
  readonly blue: number;
};

/** Alpha counts, ink box, tiles and color histogram of a picture, from one pass over its pixels. */
export type PixelStats = {
  readonly opaque: number;
  readonly soft: number;
  readonly clear: number;
  readonly inkBox: PixelBox | undefined;
  readonly tiles: Tiles;
  readonly bins: readonly ColorBin[];
};

/** Pixels that may be summed before the packed sums must be flushed: 7 * 2^23 stays below 2^26. */
const MAX_PACKED_PIXELS = 2 ** 23;
const COUNT_UNIT = 2 ** 28;
const RED_SHIFT = 27;
const RED_UNIT = 2 ** RED_SHIFT;
/** As signed numbers, the words of opaque pixels are the negative ones from here up. */
const MIN_OPAQUE_WORD = -0x1000000;

/**
 * Reads every pixel once.
 *
 * Opaque pixels, nearly all of most pictures, are added to two packed sums for each bin: one holds their number and the
 * low bits of blue, the other the low bits of red and green (the bin determines the high bits). Doubles hold 53 bits, so
 * the sums stay exact if they are flushed every 2^23 pixels. Runs of one color are added at once.
 */
export function collectPixelStats(raster: Raster): PixelStats {
  const { width, height } = raster;
  // Signed words stay integers in the compiled code; unsigned ones may become doubles.
  const unsigned = pixelWords(raster);
  const words = new Int32Array(unsigned.buffer, unsigned.byteOffset, unsigned.length);
  const packed = new Float64Array(2 * BIN_COUNT);
  const sums = new Float64Array(4 * BIN_COUNT);
  const tiles = { across: tilesAcross(width), kinds: new Uint8Array(tilesAcross(width) * height) };
  let opaque = 0;
  let soft = 0;
  let packedCount = 0;
  let top = -1;
  let bottom = -1;
  let left = width;
  let right = -1;

  for (let y = 0; y < height; y++) {
    const start = y * width;
    const end = start + width;
    const inkedBefore = opaque + soft;
    let at = start;
    for (let tile = 0; at < end; tile++) {
      const tileEnd = Math.min(end, at + (1 << TILE_SHIFT));
      const pixels = tileEnd - at;
      const opaqueBefore = opaque;
      const softBefore = soft;
      while (at < tileEnd) {
        const word = words[at]!;
        let next = at + 1;
        if (word < 0 && word >= MIN_OPAQUE_WORD) {
          // Twice the bin: the index of its two sums.
          const place = ((word >>> 2) & 0x3e) | ((word >>> 5) & 0x7c0) | ((word >>> 8) & 0xf800);
          const low = COUNT_UNIT + ((word >>> 16) & 7);
          const high = ((word & 7) << RED_SHIFT) + ((word >>> 8) & 7);
          if (next < tileEnd && words[next] === word) {
            while (next < tileEnd && words[next] === word) next++;
            packed[place]! += (next - at) * low;
            packed[place + 1]! += (next - at) * high;
          } else {
            packed[place]! += low;
            packed[place + 1]! += high;
          }
          opaque += next - at;
        } else if (word >>> 24 !== 0) {
          while (next < tileEnd && words[next] === word) next++;
          soft += next - at;
          const place = 4 * binOfWord(word);
          const weight = (word >>> 24) * (next - at);
          sums[place]! += weight;
          sums[place + 1]! += weight * (word & 255);
          sums[place + 2]! += weight * ((word >>> 8) & 255);
          sums[place + 3]! += weight * ((word >>> 16) & 255);
        }
        at = next;
      }
      let kind = TILE_BINARY;
      if (soft !== softBefore) kind = TILE_SOFT;
      else if (opaque === opaqueBefore) kind = TILE_CLEAR;
      else if (opaque - opaqueBefore === pixels) kind = TILE_OPAQUE;
      tiles.kinds[y * tiles.across + tile] = kind;
    }
    packedCount += width;
    if (packedCount + width > MAX_PACKED_PIXELS) {
      flushPacked(packed, sums);
      packedCount = 0;
    }
    if (opaque + soft === inkedBefore) continue;
    if (top < 0) top = y;
    bottom = y;
    for (let x = 0; x < left; x++) if (words[start + x]! >>> 24 !== 0) left = x;
    for (let x = width - 1; x > right; x--) if (words[start + x]! >>> 24 !== 0) right = x;
  }
  flushPacked(packed, sums);

  return {
    opaque,
    soft,
    clear: width * height - opaque - soft,
    inkBox: top < 0 ? undefined : { left, top, width: right - left + 1, height: bottom - top + 1 },
    tiles,
    bins: binsOf(sums),
  };
}

function flushPacked(packed: Float64Array, sums: Float64Array): void {
  for (let bin = 0; bin < BIN_COUNT; bin++) {
    const first = packed[2 * bin]!;
    if (first === 0) continue;
    const count = Math.floor(first / COUNT_UNIT);
    const blue = first - count * COUNT_UNIT;
    const second = packed[2 * bin + 1]!;
    const red = Math.floor(second / RED_UNIT);
    const green = second - red * RED_UNIT;
    packed[2 * bin] = 0;
    packed[2 * bin + 1] = 0;
    sums[4 * bin]! += 255 * count;
    sums[4 * bin + 1]! += 255 * (red + count * ((bin & 31) << 3));
    sums[4 * bin + 2]! += 255 * (green + count * (((bin >>> 5) & 31) << 3));
    sums[4 * bin + 3]! += 255 * (blue + count * ((bin >>> 10) << 3));
  }
}

function binsOf(sums: Float64Array): ColorBin[] {
  const bins: ColorBin[] = [];
  for (let bin = 0; bin < BIN_COUNT; bin++) {
    const alpha = sums[4 * bin]!;
    if (alpha === 0) continue;
    bins.push({
      bin,
      alpha,
      red: sums[4 * bin + 1]! / alpha,
      green: sums[4 * bin + 2]! / alpha,
      blue: sums[4 * bin + 3]! / alpha,
    });
  }
  return bins;
}
