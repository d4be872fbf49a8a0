import type { PixelBox } from '../../contract/facts.ts';
import { ciede2000 } from '../color/ciede2000.ts';
import { type Lab, labOfRgb } from '../color/lab.ts';
import { pixelWords, type Raster } from '../raster.ts';
import { BIN_COUNT, binOfWord } from './pixel-stats.ts';

/** With more colors than this, the art is not a set of flat inks. */
export const MAX_COLORS = 12;
/** Colors closer than this (CIEDE2000) are one ink with noise. */
const SAME_INK_DELTA_E = 8;
/** Flat ink: at least this share of it is within this distance (CIEDE2000) of its color. */
const NOISE_DELTA_E = 3;
const MIN_NEAR_SHARE = 0.85;
/** Neighbors whose channels differ by at most this are one flat area; it allows for JPEG noise. */
const MAX_FLAT_DIFFERENCE = 10;
/** Colors with a smaller share of the flat pixels are ignored. */
const MIN_COLOR_SHARE = 0.002;
/** Share of the sampled pixels that must be flat; with less it is a photo. */
const MIN_FLAT_SHARE = 0.5;
/** About how many pixels are sampled. */
const SAMPLED_PIXELS = 500_000;
/** Up to this many sampled pixels need not be flat. */
const MAX_FEW_PIXELS = 64;
/** Flat art has fewer bins than this with a noticeable share. */
const MAX_BINS = 2000;
/** Share of the flat pixels that must be in bins with a noticeable share. */
const MIN_COUNTED_SHARE = 0.8;

/**
 * Counts the clearly different flat colors of the ink; undefined if there are more than 12 or the ink is not flat. Only
 * solid pixels with similar neighbors on all four sides count, so that antialiased edges add no color. Large pictures
 * are sampled in every few rows and columns.
 */
export function countInkColors(raster: Raster, inkBox: PixelBox): number | undefined {
  const { width } = raster;
  const words = pixelWords(raster);
  const step = Math.max(1, Math.floor(Math.sqrt((inkBox.width * inkBox.height) / SAMPLED_PIXELS)));
  const counts = new Uint32Array(BIN_COUNT);
  const sums = new Float64Array(3 * BIN_COUNT);
  let sampled = 0;
  let flat = 0;
  const right = inkBox.left + inkBox.width;
  const bottom = inkBox.top + inkBox.height;
  for (let y = inkBox.top; y < bottom; y += step)
    for (let x = inkBox.left; x < right; x += step) {
      const at = y * width + x;
      const word = words[at]!;
      if (word >>> 24 < 128) continue;
      sampled++;
      const after = x + 1 < right ? words[at + 1]! : word;
      const below = y + 1 < bottom ? words[at + width]! : word;
      const before = x > inkBox.left ? words[at - 1]! : word;
      const above = y > inkBox.top ? words[at - width]! : word;
      if (!isSimilar(word, after) || !isSimilar(word, below)) continue;
      if (!isSimilar(word, before) || !isSimilar(word, above)) continue;
      flat++;
      const bin = binOfWord(word);
      counts[bin]!++;
      sums[3 * bin]! += word & 255;
      sums[3 * bin + 1]! += (word >>> 8) & 255;
      sums[3 * bin + 2]! += (word >>> 16) & 255;
    }
  if (sampled === 0) return 0;
  if (flat < MIN_FLAT_SHARE * sampled)
    return sampled <= MAX_FEW_PIXELS ? countFew(raster, inkBox) : undefined;
  const bins: number[] = [];
  for (let bin = 0; bin < BIN_COUNT; bin++)
    if (counts[bin]! >= Math.max(1, MIN_COLOR_SHARE * flat)) bins.push(bin);
  if (bins.length > MAX_BINS) return undefined;
  bins.sort((one, other) => counts[other]! - counts[one]!);
  let counted = 0;
  let near = 0;
  const inks: Lab[] = [];
  for (const bin of bins) {
    const count = counts[bin]!;
    counted += count;
    const lab = labOfRgb([sums[3 * bin]! / count, sums[3 * bin + 1]! / count, sums[3 * bin + 2]! / count]);
    let nearest = Number.POSITIVE_INFINITY;
    for (const ink of inks) nearest = Math.min(nearest, ciede2000(ink, lab));
    if (nearest >= SAME_INK_DELTA_E) {
      inks.push(lab);
      if (inks.length > MAX_COLORS) return undefined;
      nearest = 0;
    }
    if (nearest < NOISE_DELTA_E) near += count;
  }
  // Flat ink stays close to its color; a fade passes through everything in between.
  if (near < MIN_NEAR_SHARE * counted) return undefined;
  // Rare colors are the tail of flat art, but most of a photo.
  return counted < MIN_COUNTED_SHARE * flat ? undefined : Math.max(1, inks.length);
}

/** Counts the colors of a handful of pixels, flat or not. */
function countFew(raster: Raster, inkBox: PixelBox): number | undefined {
  const words = pixelWords(raster);
  const inks: Lab[] = [];
  for (let y = inkBox.top; y < inkBox.top + inkBox.height; y++)
    for (let x = inkBox.left; x < inkBox.left + inkBox.width; x++) {
      const word = words[y * raster.width + x]!;
      if (word >>> 24 < 128) continue;
      const lab = labOfRgb([word & 255, (word >>> 8) & 255, (word >>> 16) & 255]);
      if (!inks.some((ink) => ciede2000(ink, lab) < SAME_INK_DELTA_E)) inks.push(lab);
    }
  return inks.length > MAX_COLORS ? undefined : inks.length;
}

/** Whether two neighbors may be one flat area; a clear neighbor does not count against it. */
function isSimilar(word: number, other: number): boolean {
  if (word === other || other >>> 24 < 128) return true;
  return (
    Math.abs((word & 255) - (other & 255)) <= MAX_FLAT_DIFFERENCE &&
    Math.abs(((word >>> 8) & 255) - ((other >>> 8) & 255)) <= MAX_FLAT_DIFFERENCE &&
    Math.abs(((word >>> 16) & 255) - ((other >>> 16) & 255)) <= MAX_FLAT_DIFFERENCE
  );
}
