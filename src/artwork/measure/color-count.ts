import type { PixelBox } from '../../contract/facts.ts';
import { ciede2000 } from '../color/ciede2000.ts';
import { type Lab, labOfRgb } from '../color/lab.ts';
import { pixelWords, type Raster } from '../raster.ts';
import { BIN_COUNT, binOfWord } from './pixel-stats.ts';

/** More colors than this are a picture, not a number of inks. */
export const MAX_COLORS = 12;
/** Two colors closer than this (CIEDE2000) are one ink with noise. */
const SAME_INK_DELTA_E = 8;
/** Flat ink scatters by less than this, at least this share of it. */
const NOISE_DELTA_E = 3;
const MIN_NEAR_SHARE = 0.85;
/** Neighbors differing by no more than this in every channel are one flat area, noise of JPEG allowed. */
const MAX_FLAT_DIFFERENCE = 10;
/** Colors with less than this share of the flat pixels are left out. */
const MIN_COLOR_SHARE = 0.002;
/** Of the pixels looked at, the share that must be flat; less is a photo. */
const MIN_FLAT_SHARE = 0.5;
/** About how many pixels are looked at. */
const SAMPLED_PIXELS = 500_000;

/**
 * Counts the clearly different flat colors of the ink, or null when there are more than 12 or the ink is not flat. Only
 * solid pixels whose neighbors right and below are alike are counted, so smooth edges add no color; a large picture is
 * looked at in every few rows and columns.
 */
export function countInkColors(raster: Raster, inkBox: PixelBox): number | null {
  const { width } = raster;
  const words = pixelWords(raster);
  const step = Math.max(1, Math.floor(Math.sqrt((inkBox.width * inkBox.height) / SAMPLED_PIXELS)));
  const counts = new Uint32Array(BIN_COUNT);
  const sums = new Float64Array(3 * BIN_COUNT);
  let looked = 0;
  let flat = 0;
  const right = inkBox.left + inkBox.width;
  const bottom = inkBox.top + inkBox.height;
  for (let y = inkBox.top; y < bottom; y += step)
    for (let x = inkBox.left; x < right; x += step) {
      const at = y * width + x;
      const word = words[at]!;
      if (word >>> 24 < 128) continue;
      const beside = x + 1 < right ? words[at + 1]! : word;
      const under = y + 1 < bottom ? words[at + width]! : word;
      const before = x > inkBox.left ? words[at - 1]! : word;
      const over = y > inkBox.top ? words[at - width]! : word;
      // At the rim of the ink a color need only be alike on the side that is inked.
      looked++;
      if (
        !isSimilar(word, beside) ||
        !isSimilar(word, under) ||
        !isSimilar(word, before) ||
        !isSimilar(word, over)
      )
        continue;
      flat++;
      const bin = binOfWord(word);
      counts[bin]!++;
      sums[3 * bin]! += word & 255;
      sums[3 * bin + 1]! += (word >>> 8) & 255;
      sums[3 * bin + 2]! += (word >>> 16) & 255;
    }
  if (looked === 0) return 0;
  if (flat < MIN_FLAT_SHARE * looked) return looked <= 64 ? countFew(raster, inkBox) : null;
  const bins: number[] = [];
  for (let bin = 0; bin < BIN_COUNT; bin++)
    if (counts[bin]! >= Math.max(1, MIN_COLOR_SHARE * flat)) bins.push(bin);
  if (bins.length > 2000) return null;
  bins.sort((one, other) => counts[other]! - counts[one]!);
  let told = 0;
  let near = 0;
  const inks: Lab[] = [];
  for (const bin of bins) {
    const count = counts[bin]!;
    told += count;
    const lab = labOfRgb([sums[3 * bin]! / count, sums[3 * bin + 1]! / count, sums[3 * bin + 2]! / count]);
    let nearest = Number.POSITIVE_INFINITY;
    for (const ink of inks) nearest = Math.min(nearest, ciede2000(ink, lab));
    if (nearest >= SAME_INK_DELTA_E) {
      inks.push(lab);
      if (inks.length > MAX_COLORS) return null;
      nearest = 0;
    }
    if (nearest < NOISE_DELTA_E) near += count;
  }
  // Flat ink stays about its color; a fade passes through all that lies between.
  if (near < MIN_NEAR_SHARE * told) return null;
  // What fell below the least share is the tail of flat art; in a photo it is most of it.
  return told < 0.8 * flat ? null : Math.max(1, inks.length);
}

/** A handful of pixels, none flat: count what is there. */
function countFew(raster: Raster, inkBox: PixelBox): number | null {
  const words = pixelWords(raster);
  const inks: Lab[] = [];
  for (let y = inkBox.top; y < inkBox.top + inkBox.height; y++)
    for (let x = inkBox.left; x < inkBox.left + inkBox.width; x++) {
      const word = words[y * raster.width + x]!;
      if (word >>> 24 < 128) continue;
      const lab = labOfRgb([word & 255, (word >>> 8) & 255, (word >>> 16) & 255]);
      if (!inks.some((ink) => ciede2000(ink, lab) < SAME_INK_DELTA_E)) inks.push(lab);
    }
  return inks.length > MAX_COLORS ? null : inks.length;
}

function isSimilar(word: number, other: number): boolean {
  if (word === other || other >>> 24 < 128) return true;
  return (
    Math.abs((word & 255) - (other & 255)) <= MAX_FLAT_DIFFERENCE &&
    Math.abs(((word >>> 8) & 255) - ((other >>> 8) & 255)) <= MAX_FLAT_DIFFERENCE &&
    Math.abs(((word >>> 16) & 255) - ((other >>> 16) & 255)) <= MAX_FLAT_DIFFERENCE
  );
}
