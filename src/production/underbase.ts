import { COLOR_SLOTS, ColorCache } from '../artwork/color/color-cache.ts';
import { withinDistance } from '../artwork/distance-transform.ts';
import {
  assertRaster,
  ciede2000,
  type Lab,
  labOfHex,
  labOfRgb,
  type Raster,
  type Rgb,
  SAME_AS_CLOTH_DELTA_E,
  whiteFor,
} from '../artwork/index.ts';

/** One ink of a print, 0 (none) to 255 (full), row-major from the top left, length `width * height`. */
export type Plate = { readonly width: number; readonly height: number; readonly data: Uint8Array };

export type UnderbaseOptions = {
  /** color of the cloth, `#rrggbb`: no white where the ink has the same color. */
  readonly clothHex: string;
  /** how far the edge is pulled in, px of the raster, 0 to under 10,000; fractions allowed. Default 0. */
  readonly chokePx?: number;
};

/**
 * The white plate beneath an artwork: `alpha * whiteFor(L*)` at every pixel, nothing where the ink has the color of the
 * cloth, and nothing within `chokePx` of a pixel without white, measured from pixel center to pixel center. Outside the
 * raster there is no white. A larger choke never adds white anywhere.
 *
 * @throws RangeError for an invalid raster, a color not written `#rrggbb`, or a choke out of range
 */
export function underbase(raster: Raster, { clothHex, chokePx = 0 }: UnderbaseOptions): Plate {
  assertRaster(raster);
  if (!(chokePx >= 0 && chokePx < 10_000))
    throw new RangeError(`the choke is ${chokePx} px; it must be from 0 to under 10,000`);
  const plate = whiteOf(raster, clothHex);
  if (chokePx < 1) return plate;
  return choked(plate, chokePx);
}

/** Mean coverage of the plate, 0 to 1. */
export function coverageOfPlate({ data }: Plate): number {
  let sum = 0;
  for (const value of data) sum += value;
  return data.length === 0 ? 0 : sum / (255 * data.length);
}

/**
 * Colors farther apart than this in Lab (CIE76) are never the same: CIEDE2000 is at least about a seventh of that
 * distance, for the most saturated colors of sRGB, and the same means under 2.3.
 */
const NEVER_SAME_DELTA_E76 = 40;

function whiteOf({ width, height, data }: Raster, clothHex: string): Plate {
  const cloth = labOfHex(clothHex);
  const white = new Uint8Array(width * height);
  const whites = new Float64Array(COLOR_SLOTS);
  const cache = new ColorCache((slot, red, green, blue) => {
    whites[slot] = whiteUnder([red, green, blue], cloth);
  });
  for (let at = 0; at < white.length; at++) {
    const alpha = data[4 * at + 3]!;
    if (alpha === 0) continue;
    const slot = cache.slotOf(data[4 * at]!, data[4 * at + 1]!, data[4 * at + 2]!);
    white[at] = Math.round(alpha * whites[slot]!);
  }
  return { width, height, data: white };
}

/** Share of white beneath an opaque color on a cloth. */
function whiteUnder(rgb: Rgb, cloth: Lab): number {
  const lab = labOfRgb(rgb);
  const deltaE76 = Math.hypot(lab[0] - cloth[0], lab[1] - cloth[1], lab[2] - cloth[2]);
  if (deltaE76 < NEVER_SAME_DELTA_E76 && ciede2000(lab, cloth) < SAME_AS_CLOTH_DELTA_E) return 0;
  return whiteFor(lab[0]);
}

function choked({ width, height, data }: Plate, chokePx: number): Plate {
  // A border of one empty pixel stands for everything outside the raster.
  const padded = new Uint8Array((width + 2) * (height + 2));
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) padded[(y + 1) * (width + 2) + x + 1] = data[y * width + x] === 0 ? 0 : 1;
  const near = withinDistance(padded, width + 2, height + 2, chokePx);
  const kept = new Uint8Array(width * height);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++)
      if (near[(y + 1) * (width + 2) + x + 1] === 0) kept[y * width + x] = data[y * width + x]!;
  return { width, height, data: kept };
}
