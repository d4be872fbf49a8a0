import type { ArtworkFacts, PixelBox } from '../../contract/facts.ts';
import { printedColor } from '../color/gamut.ts';
import { hexOfRgb, rgbOfHex } from '../color/hex.ts';
import { pixelWords, type Raster } from '../raster.ts';
import type { Grouping } from './color-groups.ts';
import { BIN_COUNT, binOfWord } from './pixel-stats.ts';

/** Most colors listed. */
const MAX_NAMED_COLORS = 12;
/** Colors with a smaller share of the ink are not listed, but count toward the total share. */
const MIN_NAMED_SHARE = 0.001;

/**
 * Share of the ink that process inks cannot reproduce, with the colors and the nearest ones that print. Decided for each
 * color group; the box bounds the pixels of those groups.
 */
export function findOutOfGamut(
  raster: Raster,
  inkBox: PixelBox,
  grouping: Grouping,
): ArtworkFacts['outOfGamut'] {
  const all = grouping.groups.reduce((sum, group) => sum + group.alphaSum, 0);
  const out = new Set<number>();
  const colors: { hex: string; prints: string; share: number }[] = [];
  let share = 0;
  grouping.groups.forEach((group, index) => {
    const printed = printedColor(...rgbOfHex(group.hex));
    if (printed.inGamut) return;
    out.add(index);
    const own = group.alphaSum / all;
    share += own;
    if (colors.length < MAX_NAMED_COLORS && own >= MIN_NAMED_SHARE)
      colors.push({ hex: group.hex, prints: hexOfRgb(printed.red, printed.green, printed.blue), share: own });
  });
  if (out.size === 0) return { share: 0, colors: [], box: null };
  const marked = new Uint8Array(BIN_COUNT);
  for (const [bin, index] of grouping.groupOfBin) if (out.has(index)) marked[bin] = 1;
  return { share: Math.min(1, share), colors, box: boxOfMarked(raster, inkBox, marked) };
}

/** Bounding box of the pixels in marked bins. Closes in from all four sides, so that its interior is not read. */
function boxOfMarked(raster: Raster, inkBox: PixelBox, marked: Uint8Array): PixelBox | null {
  const { width } = raster;
  const words = pixelWords(raster);
  const at = (x: number, y: number): boolean => {
    const word = words[y * width + x]!;
    return word >>> 24 !== 0 && marked[binOfWord(word)] === 1;
  };
  const rowHas = (y: number, from: number, to: number): boolean => {
    for (let x = from; x <= to; x++) if (at(x, y)) return true;
    return false;
  };
  let left = inkBox.left;
  let right = inkBox.left + inkBox.width - 1;
  let top = inkBox.top;
  let bottom = inkBox.top + inkBox.height - 1;
  while (top <= bottom && !rowHas(top, left, right)) top++;
  if (top > bottom) return null;
  while (!rowHas(bottom, left, right)) bottom--;
  let first = right;
  let last = left;
  for (let y = top; y <= bottom; y++) {
    for (let x = left; x < first; x++) if (at(x, y)) first = x;
    for (let x = right; x > last; x--) if (at(x, y)) last = x;
  }
  left = Math.min(first, last);
  right = Math.max(first, last);
  return { left, top, width: right - left + 1, height: bottom - top + 1 };
}
