import type { ArtworkFacts } from '../../contract/facts.ts';
import { ciede2000 } from '../color/ciede2000.ts';
import { hexOfRgb } from '../color/hex.ts';
import { type Lab, labOfRgb } from '../color/lab.ts';
import type { Raster } from '../raster.ts';

/** Most edge colors told; the rest counts to the nearest of them. */
const MAX_COLORS = 16;
/** Colors closer than this (CIEDE2000) are told as one. */
const SAME_COLOR_DELTA_E = 5;
/** How far in from its end the ink is solid, px, smooth edges being what they are. */
const ANTIALIASED_PX = 2;
const BINS = 4096;

type EdgeColor = { count: number; readonly lab: Lab; readonly hex: string };

/** Gathers the colors the ink has along its outer and inner edges: what its shape is seen by. */
export class EdgeColors {
  readonly #raster: Raster;
  /** number of ends, and sums of their red, green and blue, by bin. */
  readonly #sums = new Float64Array(4 * BINS);

  constructor(raster: Raster) {
    this.#raster = raster;
  }

  /** Takes in one end of a run of visible ink, `run` px long; `inward` is the direction of the ink. */
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
    const told: EdgeColor[] = [];
    for (const bin of bins) {
      const [nearest, deltaE] = nearestOf(told, bin.lab);
      if (nearest !== undefined && (deltaE < SAME_COLOR_DELTA_E || told.length === MAX_COLORS))
        nearest.count += bin.count;
      else told.push(bin);
    }
    return told
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
