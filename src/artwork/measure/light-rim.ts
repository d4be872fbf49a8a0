import type { ArtworkFacts } from '../../contract/facts.ts';
import { hexOfRgb } from '../color/hex.ts';
import { labOfRgb } from '../color/lab.ts';
import { LINEAR_OF_BYTE } from '../color/srgb.ts';
import type { Raster } from '../raster.ts';

/** Depth at which the ink itself is read, px from its end: behind any rim. */
const DEPTH_PX = 5;
/** A wider rim is an outline that was drawn, px. */
const MAX_RIM_PX = 3;
/** Rim pixels have at least this L*, at most this chroma, and an L* higher than the ink behind by at least this. */
const MIN_LIGHTNESS = 60;
const MAX_CHROMA = 25;
const MIN_LIGHTNESS_STEP = 30;
/** Share of the ends of the ink that must have a rim. */
const MIN_RIM_SHARE = 0.25;
/** Fewer ends than this are too few to judge. */
const MIN_ENDS = 8;

/**
 * Detects the light rim (halo) that is left when a dark motif is cut out of a white background: at the ends of its rows
 * the ink is light and nearly neutral for a pixel or two, and dark five pixels in. A wider light outline is intended.
 */
export class LightRim {
  readonly #raster: Raster;
  #ends = 0;
  #rims = 0;
  readonly #sum: [number, number, number] = [0, 0, 0];
  #left = Number.POSITIVE_INFINITY;
  #right = -1;
  #top = -1;
  #bottom = -1;

  constructor(raster: Raster) {
    this.#raster = raster;
  }

  /** Adds one end of a run of visible ink, `run` px long; `inward` is the direction of the ink. */
  add(x: number, y: number, inward: 1 | -1, run: number): void {
    const { width, data } = this.#raster;
    // The edge of the picture is not a cut-out edge.
    if (run <= 2 * DEPTH_PX || (inward === 1 ? x === 0 : x === width - 1)) return;
    const at = 4 * (y * width + x);
    const deep = at + 4 * inward * DEPTH_PX;
    if (data[deep + 3]! < 128) return;
    this.#ends++;
    const inside = luminance(data, deep);
    // The rim is the lighter of the first two pixels.
    const next = at + 4 * inward;
    const rim = luminance(data, next) > luminance(data, at) ? next : at;
    if (luminance(data, rim) < 0.28 || luminance(data, rim) - inside < 0.05) return;
    const [lightness, a, b] = labOfRgb([data[rim]!, data[rim + 1]!, data[rim + 2]!]);
    if (lightness < MIN_LIGHTNESS || Math.hypot(a, b) > MAX_CHROMA) return;
    const [deepLightness] = labOfRgb([data[deep]!, data[deep + 1]!, data[deep + 2]!]);
    if (lightness - deepLightness < MIN_LIGHTNESS_STEP) return;
    // Still light further in: an outline that was drawn.
    const behind = luminance(data, at + 4 * inward * MAX_RIM_PX);
    if (behind - inside > (luminance(data, rim) - inside) / 2) return;
    this.#rims++;
    for (let channel = 0; channel < 3; channel++) this.#sum[channel]! += data[rim + channel]!;
    if (x < this.#left) this.#left = x;
    if (x > this.#right) this.#right = x;
    if (this.#top < 0) this.#top = y;
    this.#bottom = y;
  }

  /** The rim with its mean color and bounding box; null if there is none. */
  result(): ArtworkFacts['lightRim'] {
    if (this.#ends < MIN_ENDS || this.#rims < MIN_RIM_SHARE * this.#ends) return null;
    const [red, green, blue] = this.#sum;
    return {
      share: this.#rims / this.#ends,
      hex: hexOfRgb(red / this.#rims, green / this.#rims, blue / this.#rims),
      box: {
        left: this.#left,
        top: this.#top,
        width: this.#right - this.#left + 1,
        height: this.#bottom - this.#top + 1,
      },
    };
  }
}

function luminance(data: Raster['data'], at: number): number {
  return (
    0.2126 * LINEAR_OF_BYTE[data[at]!]! +
    0.7152 * LINEAR_OF_BYTE[data[at + 1]!]! +
    0.0722 * LINEAR_OF_BYTE[data[at + 2]!]!
  );
}
