import type { InkPlane } from './plane.ts';

/** A straight or gently bent piece of a stroke (or of a gap): its mean width and where it runs, in pixel centers. */
export type Stroke = {
  readonly widthPx: number;
  /** x, y of points along its middle, one after the other. */
  readonly path: readonly number[];
};

const DIRECTIONS = 16;
const UNITS = Array.from({ length: DIRECTIONS }, (_, direction) => {
  const angle = (Math.PI * direction) / DIRECTIONS;
  return [Math.cos(angle), Math.sin(angle)] as const;
});
/** A stroke is at least this many times as long as wide, and at least this long, px. */
const STROKE_LEAST = { aspect: 3, lengthPx: 6 };
/** A gap that closes does less harm than a line that breaks; two shapes that pass close by are not yet a gap. */
const GAP_LEAST = { aspect: 4, lengthPx: 24 };
/** Width may grow or shrink by this share along it; more is a wedge: a corner, a serif, the tip of a star. */
const MOST_TAPER = 0.12;
/** How far a stroke is followed each way from where it was found, in its widths and in px, the larger. */
const FOLLOW_WIDTHS = 4;
const FOLLOW_PX = 24;
/** A stroke shorter than this, in widths or in px, is only one if it does not run out into something ever wider. */
const SHORT_WIDTHS = 5;
const SHORT_PX = 16;
/** Steps looked ahead where a stroke becomes too wide, and how many must be there to see a gradual widening. */
const AHEAD_STEPS = 3;

/**
 * Judges whether a pixel on the medial axis of the ink (or, inverted, of the clear part) lies in a stroke: something of
 * steady width, at least three times as long as wide. The width is the integral of the ink across it, so that the soft
 * pixels of a smooth edge count for what they cover.
 */
export class StrokeTracer {
  readonly #plane: InkPlane;
  readonly #inverted: boolean;
  /** value from which a sample is inside. */
  readonly #threshold: number;
  readonly #outside: number;

  constructor(plane: InkPlane, inverted: boolean) {
    this.#plane = plane;
    this.#inverted = inverted;
    // Half of what makes a pixel ink: between the pixels of a thin slanting line the ink seems to fade by as much.
    this.#threshold = (inverted ? 256 - plane.threshold : plane.threshold) / 2;
    this.#outside = inverted ? 255 : 0;
  }

  /**
   * @param x pixel of the raster; the same for `y`.
   * @param radius distance from it to the nearest pixel of the other kind, px.
   */
  strokeAt(x: number, y: number, radius: number): Stroke | null {
    const reach = 1.35 * radius + 2.5;
    const lengths: number[] = [];
    let shortest = Number.POSITIVE_INFINITY;
    for (let direction = 0; direction < DIRECTIONS; direction++) {
      const [ux, uy] = UNITS[direction]!;
      const length = this.#extent(x, y, ux, uy, radius, reach) + this.#extent(x, y, -ux, -uy, radius, reach);
      lengths.push(length);
      if (length < shortest) shortest = length;
    }
    if (shortest === Number.POSITIVE_INFINITY) return null;
    // Among pixel stairs several directions are about as short: the one the stroke runs on farthest beside is it.
    const beside = 2 * radius + 4;
    let farthest = -1;
    let normalX = 0;
    let normalY = 0;
    for (let direction = 0; direction < DIRECTIONS; direction++) {
      if (lengths[direction]! > shortest + 0.6) continue;
      const [ux, uy] = UNITS[direction]!;
      const far =
        Math.min(beside, this.#extent(x, y, -uy, ux, radius, beside)) +
        Math.min(beside, this.#extent(x, y, uy, -ux, radius, beside)) -
        lengths[direction]!;
      if (far <= farthest) continue;
      farthest = far;
      normalX = ux;
      normalY = uy;
    }
    if (farthest < 0) return null;
    const first = this.#chord(x, y, normalX, normalY, radius, reach);
    if (first === null) return null;
    const forward = this.#follow(first, normalX, normalY, 1);
    const backward = this.#follow(first, normalX, normalY, -1);
    return judge(first, forward, backward, this.#inverted ? GAP_LEAST : STROKE_LEAST);
  }

  #valueAt(x: number, y: number): number {
    const { width, height, bytes, shift, offset } = this.#plane;
    if (x < 0 || y < 0 || x >= width || y >= height) return this.#outside;
    const value = bytes[((y * width + x) << shift) + offset]!;
    return this.#inverted ? 255 - value : value;
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

  /** How far from (x, y) along (ux, uy) it stays inside; infinite beyond `reach`. */
  #extent(x: number, y: number, ux: number, uy: number, radius: number, reach: number): number {
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

  /** The chord through (x, y) along the normal; null when it does not end within reach on both sides. */
  #chord(x: number, y: number, ux: number, uy: number, radius: number, reach: number): Chord | null {
    const after = this.#extent(x, y, ux, uy, radius, reach);
    const before = this.#extent(x, y, -ux, -uy, radius, reach);
    if (after + before === Number.POSITIVE_INFINITY) return null;
    const middle = (after - before) / 2;
    const cx = x + middle * ux;
    const cy = y + middle * uy;
    const half = (after + before) / 2;
    return { x: cx, y: cy, half, width: this.#width(cx, cy, ux, uy, half) };
  }

  /** Integral of the ink across, each sample as its share between full outside and full inside. */
  #width(x: number, y: number, ux: number, uy: number, half: number): number {
    const reach = half + 2;
    const center = this.#sample(x, y);
    const inside = this.#plane.full === null || half >= 2 ? Math.max(center, this.#threshold) : 255;
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
        // Past the edge only the falling tail belongs to this stroke; what rises again is the next one.
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

  #follow(start: Chord, normalX: number, normalY: number, sign: 1 | -1): Trace {
    const path: number[] = [];
    const widths: number[] = [];
    const arcs: number[] = [];
    let ux = normalX;
    let uy = normalY;
    let { x, y } = start;
    let arc = 0;
    let wide = false;
    let flares = false;
    const most = Math.max(FOLLOW_PX, FOLLOW_WIDTHS * start.width);
    const step = Math.max(1.5, start.half / 2);
    while (arc < most) {
      const tx = -uy * sign;
      const ty = ux * sign;
      const px = x + step * tx;
      const py = y + step * ty;
      if (this.#sample(px, py) < this.#threshold) break;
      const chord = this.#chord(px, py, ux, uy, 0, 1.6 * start.half + 3);
      if (chord === null) {
        wide = true;
        break;
      }
      if (chord.width < start.width / 1.35 - 0.75) break;
      if (chord.width > 1.35 * start.width + 0.75) {
        wide = true;
        flares = this.#widensOn(chord, ux, uy, sign, step);
        break;
      }
      let dx = chord.x - x;
      let dy = chord.y - y;
      const length = Math.hypot(dx, dy);
      if (length < 0.3 * step || length > 2.5 * step) break;
      dx /= length;
      dy /= length;
      // Turn half way toward where the middle went: steady on pixel stairs, able to follow a bend.
      let nx = ux + 0.5 * sign * dy;
      let ny = uy - 0.5 * sign * dx;
      const norm = Math.hypot(nx, ny);
      nx /= norm;
      ny /= norm;
      const turned = ux * nx + uy * ny;
      if (turned < 0.8) break;
      ux = nx;
      uy = ny;
      x = chord.x;
      y = chord.y;
      arc += length;
      path.push(x, y);
      widths.push(chord.width * Math.abs(dx * -uy * sign + dy * ux * sign));
      arcs.push(arc);
    }
    return { path, widths, arcs, length: arc, wide, flares };
  }

  /** Whether from here on the stroke widens bit by bit, as a wedge does, and not at once, as where it meets another. */
  #widensOn(from: Chord, ux: number, uy: number, sign: 1 | -1, step: number): boolean {
    let last = from;
    for (let ahead = 0; ahead < AHEAD_STEPS; ahead++) {
      const x = last.x - step * uy * sign;
      const y = last.y + step * ux * sign;
      const chord = this.#chord(x, y, ux, uy, 0, last.half + 2 * step + 2);
      if (chord === null || chord.width < last.width - 1) return false;
      last = chord;
    }
    return true;
  }
}

type Chord = { readonly x: number; readonly y: number; readonly half: number; readonly width: number };
type Trace = {
  readonly path: readonly number[];
  readonly widths: readonly number[];
  readonly arcs: readonly number[];
  readonly length: number;
  /** it ended by getting too wide ... */
  readonly wide: boolean;
  /** ... and did so bit by bit. */
  readonly flares: boolean;
};

function judge(
  first: Chord,
  forward: Trace,
  backward: Trace,
  least: { readonly aspect: number; readonly lengthPx: number },
): Stroke | null {
  const widths = [...backward.widths].reverse().concat(first.width, forward.widths);
  const arcs = backward.arcs
    .map((arc) => -arc)
    .reverse()
    .concat(0, forward.arcs);
  const mean = widths.reduce((sum, width) => sum + width, 0) / widths.length;
  // The ends of the path lie half a width short of the ends of the ink.
  const length = forward.length + backward.length;
  if (length < Math.max(least.lengthPx, least.aspect * mean) - mean) return null;
  if (widths.length < 4) return null;
  const short = length + mean < Math.max(SHORT_PX, SHORT_WIDTHS * mean);
  // Running out into a wedge on one side, or a neck where two shapes all but touch.
  if (short && (forward.flares || backward.flares || (forward.wide && backward.wide))) return null;
  const middle = arcs.reduce((sum, arc) => sum + arc, 0) / arcs.length;
  let product = 0;
  let squares = 0;
  for (let index = 0; index < arcs.length; index++) {
    product += (arcs[index]! - middle) * (widths[index]! - mean);
    squares += (arcs[index]! - middle) ** 2;
  }
  if (squares === 0 || Math.abs(product / squares) > MOST_TAPER) return null;
  const path: number[] = [];
  for (let index = backward.path.length - 2; index >= 0; index -= 2)
    path.push(backward.path[index]!, backward.path[index + 1]!);
  path.push(first.x, first.y, ...forward.path);
  return { widthPx: mean, path };
}
