import type { ArtworkFacts } from '../../contract/facts.ts';
import { ciede2000 } from '../color/ciede2000.ts';
import { hexOfRgb } from '../color/hex.ts';
import { type Lab, labOfRgb } from '../color/lab.ts';
import type { Raster } from '../raster.ts';

/** Most colors in the result; further ones are added to the nearest. */
const MAX_COLORS = 16;
/** Colors closer than this (CIEDE2000) are one. */
const SAME_COLOR_DELTA_E = 5;
/** Width of an antialiased edge, px: the color of the ink is read behind it. */
const ANTIALIASED_PX = 2;
const BINS = 4096;

type EdgeColor = { count: number; readonly lab: Lab; readonly hex: string };

/** Collects the colors of the ink along its outer and inner edges, which make its shape visible. */
export class EdgeColors {
  readonly #raster: Raster;
  /** number of pixels, and sums of their red, green and blue, by bin (four bits of each channel). */
  readonly #sums = new Float64Array(4 * BINS);

  constructor(raster: Raster) {
    this.#raster = raster;
  }

  /** Adds one end of a run of visible ink, `run` px long; `inward` is the direction of the ink. */
  add(x: number, y: number, inward: 1 | -1, run: number): void {
    const { width, data } = this.#raster;
    let at = 4 * (y * width + x);
    const most = Math.min(ANTIALIASED_PX, run - 1);
    for (let step = 0; step < most && data[at + 3]! < 255; step++) at += 4 * inward;
    const red = data[at]!;
    const green = data[at + 1]!;
    const blue = data[at + 2]!;
    const bin = 4 * (((red >>> 4) << 8) | ((green >>> 4) << 4) | (blue >>> 4));
    this.#sums[bin]!++;
    this.#sums[bin + 1]! += red;
    this.#sums[bin + 2]! += green;
    this.#sums[bin + 3]! += blue;
  }

  /** The colors with their shares, most frequent first. */
  result(): ArtworkFacts['edgeColors'] {
    const bins: EdgeColor[] = [];
    let all = 0;
    for (let bin = 0; bin < this.#sums.length; bin += 4) {
      const count = this.#sums[bin]!;
      if (count === 0) continue;
      all += count;
      const rgb = [
        this.#sums[bin + 1]! / count,
        this.#sums[bin + 2]! / count,
        this.#sums[bin + 3]! / count,
      ] as const;
      bins.push({ count, lab: labOfRgb(rgb), hex: hexOfRgb(...rgb) });
    }
    bins.sort((one, other) => other.count - one.count);
    const colors: EdgeColor[] = [];
    for (const bin of bins) {
      const [nearest, deltaE] = nearestOf(colors, bin.lab);
      if (nearest !== undefined && (deltaE < SAME_COLOR_DELTA_E || colors.length === MAX_COLORS))
        nearest.count += bin.count;
      else colors.push(bin);
    }
    return colors
      .sort((one, other) => other.count - one.count)
      .map(({ hex, count }) => ({ hex, share: count / all }));
  }
}

function nearestOf(colors: readonly EdgeColor[], lab: Lab): [EdgeColor | undefined, number] {
  let nearest: EdgeColor | undefined;
  let least = Number.POSITIVE_INFINITY;
  for (const color of colors) {
    const deltaE = ciede2000(color.lab, lab);
    if (deltaE >= least) continue;
    least = deltaE;
    nearest = color;
  }
  return [nearest, least];
}
