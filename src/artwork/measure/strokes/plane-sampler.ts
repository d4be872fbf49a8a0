import type { InkPlane } from '../plane.ts';

/** A cut across a stroke: its center, half the distance between the edges, and the width of the ink along it, px. */
export type CrossSection = {
  readonly x: number;
  readonly y: number;
  readonly half: number;
  readonly width: number;
};

/** Samples a plane between its pixels (bilinear) and cuts across its strokes or, inverted, across its gaps. */
export class PlaneSampler {
  readonly #plane: InkPlane;
  readonly #inverted: boolean;
  /** samples from this value up are inside. */
  readonly #threshold: number;
  /** value outside the plane. */
  readonly #outside: number;

  constructor(plane: InkPlane, inverted: boolean) {
    this.#plane = plane;
    this.#inverted = inverted;
    // Half the threshold of a pixel: between the pixels of a thin slanted line the samples drop by as much.
    this.#threshold = (inverted ? 256 - plane.threshold : plane.threshold) / 2;
    this.#outside = inverted ? 255 : 0;
  }

  isInside(x: number, y: number): boolean {
    return this.#sample(x, y) >= this.#threshold;
  }

  /**
   * Distance from (x, y) to the edge in the direction (ux, uy); infinite beyond `reach`.
   *
   * @param radius a distance that is known to be inside, px.
   */
  distanceToEdge(x: number, y: number, ux: number, uy: number, radius: number, reach: number): number {
    let before = Number.POSITIVE_INFINITY;
    for (let r = Math.max(0, radius - 1.5); r <= reach; r += 0.5) {
      const value = this.#sample(x + r * ux, y + r * uy);
      if (value < this.#threshold) {
        if (before === Number.POSITIVE_INFINITY) return r;
        return r - (0.5 * (this.#threshold - value)) / (before - value);
      }
      before = value;
    }
    return Number.POSITIVE_INFINITY;
  }

  /**
   * The cross section through (x, y) along the unit vector (ux, uy); undefined if an edge is farther than `reach`.
   *
   * @param radius a distance that is known to be inside, px.
   */
  crossSection(
    x: number,
    y: number,
    ux: number,
    uy: number,
    radius: number,
    reach: number,
  ): CrossSection | undefined {
    const after = this.distanceToEdge(x, y, ux, uy, radius, reach);
    const before = this.distanceToEdge(x, y, -ux, -uy, radius, reach);
    if (after + before === Number.POSITIVE_INFINITY) return undefined;
    const shift = (after - before) / 2;
    const cx = x + shift * ux;
    const cy = y + shift * uy;
    const half = (after + before) / 2;
    return { x: cx, y: cy, half, width: this.#widthAcross(cx, cy, ux, uy, half) };
  }

  /** Integral of the ink across the stroke, so that antialiased pixels count for what they cover. */
  #widthAcross(x: number, y: number, ux: number, uy: number, half: number): number {
    const reach = half + 2;
    const center = this.#sample(x, y);
    const inside = this.#plane.full === undefined || half >= 2 ? Math.max(center, this.#threshold) : 255;
    let sum = 0;
    for (const sign of [-1, 1]) {
      const outside = this.#inverted
        ? Math.min(this.#threshold - 1, this.#sample(x + sign * reach * ux, y + sign * reach * uy))
        : 0;
      const scale = 1 / Math.max(1, inside - outside);
      const core = Math.max(0, half - 2.5);
      let before = (this.#sample(x + sign * core * ux, y + sign * core * uy) - outside) * scale;
      sum += core;
      for (let r = core + 0.25; r <= reach; r += 0.25) {
        let share = (this.#sample(x + sign * r * ux, y + sign * r * uy) - outside) * scale;
        if (share > 1) share = 1;
        // Past the edge only the falling tail belongs to this stroke; a rise belongs to the next one.
        if (share <= 0 || (r > half && share > before)) {
          sum += 0.125 * Math.min(1, Math.max(0, before));
          break;
        }
        sum += 0.125 * (share + Math.min(1, before));
        before = share;
      }
    }
    return sum;
  }

  #sample(x: number, y: number): number {
    const left = Math.floor(x);
    const top = Math.floor(y);
    const fx = x - left;
    const fy = y - top;
    let value = this.#valueAt(left, top) * (1 - fx) * (1 - fy);
    if (fx > 0) value += this.#valueAt(left + 1, top) * fx * (1 - fy);
    if (fy > 0) value += this.#valueAt(left, top + 1) * (1 - fx) * fy;
    if (fx > 0 && fy > 0) value += this.#valueAt(left + 1, top + 1) * fx * fy;
    return value;
  }

  #valueAt(x: number, y: number): number {
    const { width, height, bytes, shift, offset } = this.#plane;
    if (x < 0 || y < 0 || x >= width || y >= height) return this.#outside;
    const value = bytes[((y * width + x) << shift) + offset]!;
    return this.#inverted ? 255 - value : value;
  }
}
