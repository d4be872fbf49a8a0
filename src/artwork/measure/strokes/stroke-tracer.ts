import type { InkPlane } from '../plane.ts';
import { type CrossSection, PlaneSampler } from './plane-sampler.ts';

/** A straight or gently curved piece of a stroke (or of a gap): its mean width and its centerline, in pixel centers. */
export type Stroke = {
  readonly widthPx: number;
  /** x, y of consecutive points of the centerline. */
  readonly path: readonly number[];
};

const DIRECTIONS = 16;
const UNIT_VECTORS = Array.from({ length: DIRECTIONS }, (_, direction) => {
  const angle = (Math.PI * direction) / DIRECTIONS;
  return [Math.cos(angle), Math.sin(angle)] as const;
});
type Minimum = { readonly aspect: number; readonly lengthPx: number };
/** A stroke is at least this many times as long as wide, and at least this long, px. */
const MIN_STROKE: Minimum = { aspect: 3, lengthPx: 6 };
/** A gap that closes does less harm than a line that breaks, and two shapes that pass close by are not yet a gap. */
const MIN_GAP: Minimum = { aspect: 4, lengthPx: 24 };
/** Change of width per length; more is a wedge: a corner, a serif, the tip of a star. */
const MAX_TAPER = 0.12;
/** How far a stroke is traced each way, in multiples of its width and in px; the larger counts. */
const MAX_TRACE_WIDTHS = 4;
const MAX_TRACE_PX = 24;
/** A stroke shorter than this, in multiples of its width or in px, must not end in a wedge. */
const SHORT_WIDTHS = 5;
const SHORT_PX = 16;
/** Steps that must keep widening, where a stroke becomes too wide, for a wedge. */
const WEDGE_STEPS = 3;

/** The trace of a stroke in one direction from its start. */
type Trace = {
  readonly path: readonly number[];
  readonly widths: readonly number[];
  /** arc length from the start to each point of the path, px. */
  readonly arcs: readonly number[];
  readonly length: number;
  /** it ended because the stroke became too wide ... */
  readonly widened: boolean;
  /** ... and that gradually, as a wedge does. */
  readonly isWedge: boolean;
};

/**
 * Decides whether a pixel on the medial axis of the ink (or, inverted, of the clear area) lies in a stroke: something of
 * nearly constant width, at least three times as long as wide.
 */
export class StrokeTracer {
  readonly #sampler: PlaneSampler;
  readonly #minimum: Minimum;
  /** work space: extent of the stroke in each direction, px. */
  readonly #lengths = new Float64Array(DIRECTIONS);

  /** @param inverted trace gaps. */
  constructor(plane: InkPlane, inverted: boolean) {
    this.#sampler = new PlaneSampler(plane, inverted);
    this.#minimum = inverted ? MIN_GAP : MIN_STROKE;
  }

  /**
   * The stroke through a pixel, or undefined if there is none.
   *
   * @param x pixel of the raster; the same for `y`.
   * @param radius distance from it to the nearest pixel of the other kind, px.
   */
  strokeAt(x: number, y: number, radius: number): Stroke | undefined {
    const reach = 1.35 * radius + 2.5;
    const normal = this.#normalAt(x, y, radius, reach);
    if (normal === undefined) return undefined;
    const [nx, ny] = normal;
    const start = this.#sampler.crossSection(x, y, nx, ny, radius, reach);
    if (start === undefined) return undefined;
    const forward = this.#trace(start, nx, ny, 1);
    const backward = this.#trace(start, nx, ny, -1);
    return toStroke(start, forward, backward, this.#minimum);
  }

  /** Unit vector across the stroke. */
  #normalAt(x: number, y: number, radius: number, reach: number): readonly [number, number] | undefined {
    const sampler = this.#sampler;
    const lengths = this.#lengths;
    let shortest = Number.POSITIVE_INFINITY;
    for (let direction = 0; direction < DIRECTIONS; direction++) {
      const [ux, uy] = UNIT_VECTORS[direction]!;
      const length =
        sampler.distanceToEdge(x, y, ux, uy, radius, reach) +
        sampler.distanceToEdge(x, y, -ux, -uy, radius, reach);
      lengths[direction] = length;
      if (length < shortest) shortest = length;
    }
    if (shortest === Number.POSITIVE_INFINITY) return undefined;
    // On pixel stairs several directions are about equally short: the stroke extends farthest at right angles to it.
    const along = 2 * radius + 4;
    let farthest = -1;
    let normal: readonly [number, number] | undefined;
    for (let direction = 0; direction < DIRECTIONS; direction++) {
      if (lengths[direction]! > shortest + 0.6) continue;
      const unit = UNIT_VECTORS[direction]!;
      const [ux, uy] = unit;
      const far =
        Math.min(along, sampler.distanceToEdge(x, y, -uy, ux, radius, along)) +
        Math.min(along, sampler.distanceToEdge(x, y, uy, -ux, radius, along)) -
        lengths[direction]!;
      if (far <= farthest) continue;
      farthest = far;
      normal = unit;
    }
    return normal;
  }

  #trace(start: CrossSection, normalX: number, normalY: number, sign: 1 | -1): Trace {
    const path: number[] = [];
    const widths: number[] = [];
    const arcs: number[] = [];
    let ux = normalX;
    let uy = normalY;
    let { x, y } = start;
    let arc = 0;
    let widened = false;
    let isWedge = false;
    const maxArc = Math.max(MAX_TRACE_PX, MAX_TRACE_WIDTHS * start.width);
    const step = Math.max(1.5, start.half / 2);
    while (arc < maxArc) {
      const tx = -uy * sign;
      const ty = ux * sign;
      const px = x + step * tx;
      const py = y + step * ty;
      if (!this.#sampler.isInside(px, py)) break;
      const section = this.#sampler.crossSection(px, py, ux, uy, 0, 1.6 * start.half + 3);
      if (section === undefined) {
        widened = true;
        break;
      }
      if (section.width < start.width / 1.35 - 0.75) break;
      if (section.width > 1.35 * start.width + 0.75) {
        widened = true;
        isWedge = this.#keepsWidening(section, ux, uy, sign, step);
        break;
      }
      let dx = section.x - x;
      let dy = section.y - y;
      const length = Math.hypot(dx, dy);
      if (length < 0.3 * step || length > 2.5 * step) break;
      dx /= length;
      dy /= length;
      // Turn half way toward the new direction: stable on pixel stairs, yet able to follow a bend.
      let nx = ux + 0.5 * sign * dy;
      let ny = uy - 0.5 * sign * dx;
      const norm = Math.hypot(nx, ny);
      nx /= norm;
      ny /= norm;
      const cosine = ux * nx + uy * ny;
      if (cosine < 0.8) break;
      ux = nx;
      uy = ny;
      x = section.x;
      y = section.y;
      arc += length;
      path.push(x, y);
      widths.push(section.width * Math.abs(dx * -uy * sign + dy * ux * sign));
      arcs.push(arc);
    }
    return { path, widths, arcs, length: arc, widened, isWedge };
  }

  /** Whether the stroke widens gradually from here on, like a wedge, and not at once, like a junction. */
  #keepsWidening(from: CrossSection, ux: number, uy: number, sign: 1 | -1, step: number): boolean {
    let last = from;
    for (let ahead = 0; ahead < WEDGE_STEPS; ahead++) {
      const x = last.x - step * uy * sign;
      const y = last.y + step * ux * sign;
      const section = this.#sampler.crossSection(x, y, ux, uy, 0, last.half + 2 * step + 2);
      if (section === undefined || section.width < last.width - 1) return false;
      last = section;
    }
    return true;
  }
}

/** Joins two traces, if together they are long and even enough for a stroke. */
function toStroke(
  start: CrossSection,
  forward: Trace,
  backward: Trace,
  minimum: Minimum,
): Stroke | undefined {
  const widths = [...backward.widths].reverse().concat(start.width, forward.widths);
  const arcs = backward.arcs
    .map((arc) => -arc)
    .reverse()
    .concat(0, forward.arcs);
  const mean = widths.reduce((sum, width) => sum + width, 0) / widths.length;
  // The ends of the path lie half a width short of the ends of the ink.
  const length = forward.length + backward.length;
  if (length < Math.max(minimum.lengthPx, minimum.aspect * mean) - mean) return undefined;
  if (widths.length < 4) return undefined;
  const isShort = length + mean < Math.max(SHORT_PX, SHORT_WIDTHS * mean);
  // A short piece may be the side of a wedge, or a neck where two shapes nearly touch.
  const isNeck = forward.widened && backward.widened;
  if (isShort && (forward.isWedge || backward.isWedge || isNeck)) return undefined;
  if (Math.abs(slopeOf(arcs, widths, mean)) > MAX_TAPER) return undefined;
  const path: number[] = [];
  for (let index = backward.path.length - 2; index >= 0; index -= 2)
    path.push(backward.path[index]!, backward.path[index + 1]!);
  path.push(start.x, start.y, ...forward.path);
  return { widthPx: mean, path };
}

/** Slope of the least-squares line through the widths along the arc; infinite if all are at one place. */
function slopeOf(arcs: readonly number[], widths: readonly number[], meanWidth: number): number {
  const meanArc = arcs.reduce((sum, arc) => sum + arc, 0) / arcs.length;
  let product = 0;
  let squares = 0;
  for (let index = 0; index < arcs.length; index++) {
    product += (arcs[index]! - meanArc) * (widths[index]! - meanWidth);
    squares += (arcs[index]! - meanArc) ** 2;
  }
  return squares === 0 ? Number.POSITIVE_INFINITY : product / squares;
}
