/** Where a dragged artwork likes to stop: the center line, the face's usual positions, upright angles. */
import type { Position } from './placement-math.ts';
import { normalizeAngle } from './placement-math.ts';

/** A usual position as the catalog gives it: center of the ink and usual width, mm on the face. */
export type SnapPosition = {
  readonly id: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
};

/** What held: lines to draw, and the usual position when both its coordinates were met. */
export type Snapped = {
  readonly position: Position;
  /** x of the vertical guide, mm on the face. */
  readonly guideX: number | null;
  /** y of the horizontal guide, mm on the face. */
  readonly guideY: number | null;
  /** id of the usual position met, or null. */
  readonly usual: string | null;
};

/** A position with no guide. */
export const withoutGuides = (position: Position): Snapped => ({
  position,
  guideX: null,
  guideY: null,
  usual: null,
});

/**
 * Moves the center to the nearest center line or usual position within `reachMm` of it, each axis by itself.
 * A usual position holds with both axes at once when both are within reach, before any single line does.
 */
export function snapMove(position: Position, usual: readonly SnapPosition[], reachMm: number): Snapped {
  let whole: SnapPosition | null = null;
  let wholeDistance = Number.POSITIVE_INFINITY;
  for (const candidate of usual) {
    const distance = Math.hypot(candidate.xMm - position.xMm, candidate.yMm - position.yMm);
    if (distance <= reachMm * Math.SQRT2 && distance < wholeDistance) {
      whole = candidate;
      wholeDistance = distance;
    }
  }
  if (whole)
    return {
      position: { ...position, xMm: whole.xMm, yMm: whole.yMm },
      guideX: whole.xMm,
      guideY: whole.yMm,
      usual: whole.id,
    };
  const guideX = nearest(position.xMm, [0, ...usual.map((one) => one.xMm)], reachMm);
  const guideY = nearest(
    position.yMm,
    usual.map((one) => one.yMm),
    reachMm,
  );
  return {
    position: { ...position, xMm: guideX ?? position.xMm, yMm: guideY ?? position.yMm },
    guideX,
    guideY,
    usual: null,
  };
}

/** The usual width within `reachMm` of a width, or null. */
export function snapWidth(widthMm: number, usual: readonly SnapPosition[], reachMm: number): number | null {
  return nearest(
    widthMm,
    usual.map((one) => one.widthMm),
    reachMm,
  );
}

/** Degrees within which an angle falls upright or on its side. */
const UPRIGHT_REACH_DEG = 2.5;

/** The angle, held at the quarter turns; with `coarse`, at every 15 degrees. */
export function snapAngle(angleDeg: number, coarse: boolean): number {
  if (coarse) return normalizeAngle(Math.round(angleDeg / 15) * 15);
  const quarter = Math.round(angleDeg / 90) * 90;
  return Math.abs(angleDeg - quarter) <= UPRIGHT_REACH_DEG
    ? normalizeAngle(quarter)
    : normalizeAngle(angleDeg);
}

function nearest(value: number, candidates: readonly number[], reach: number): number | null {
  let best: number | null = null;
  for (const candidate of candidates) {
    const distance = Math.abs(candidate - value);
    if (distance <= reach && (best === null || distance < Math.abs(best - value))) best = candidate;
  }
  return best;
}
