/**
 * Geometry of placements, in the face's own coordinates: origin at the top center of the printable area, x to the
 * right, y down, mm; angles in degrees clockwise. A position is the center of the ink box, its width and its angle.
 */

import { EDGE_TOLERANCE_MM, overlapsBox, rotatedHalfSize } from '../../../src/geometry.ts';
import type { Area } from './smallest-area.ts';

/** A point, mm or px as the context says. */
export type Point = { readonly x: number; readonly y: number };

/** Where an artwork's ink lies on a face. */
export type Position = {
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly angleDeg: number;
};

/** A box by its edges, mm. */
export type Bounds = {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
};

/** Smallest and largest ink width that a gesture gives, mm. The input fields allow what the slip allows. */
export const GESTURE_WIDTH_MM = { least: 5, most: 3000 } as const;

/** A length rounded to 0.01 mm. */
export const roundMm = (mm: number): number => roundHundredth(mm);

/** An angle brought to (-180, 180] and rounded to 0.01 degree. */
export function normalizeAngle(deg: number): number {
  const positive = ((deg % 360) + 360) % 360;
  const angle = roundHundredth(positive > 180 ? positive - 360 : positive);
  return angle === -180 ? 180 : angle;
}

function roundHundredth(value: number): number {
  const rounded = Math.round(value * 100) / 100;
  return rounded === 0 ? 0 : rounded; // never -0, which JSON writes as 0: it would look changed
}

/**
 * The position as it is written down after a gesture: what the gesture changed, to 0.01 mm and 0.01 degree. What it did
 * not change stays as it was to the last digit, so that moving an artwork never alters its width.
 */
export function roundPosition(position: Position, before: Position): Position {
  const { xMm, yMm, widthMm, angleDeg } = position;
  return {
    xMm: xMm === before.xMm ? xMm : roundMm(xMm),
    yMm: yMm === before.yMm ? yMm : roundMm(yMm),
    widthMm: widthMm === before.widthMm ? widthMm : roundMm(widthMm),
    angleDeg: angleDeg === before.angleDeg ? angleDeg : normalizeAngle(angleDeg),
  };
}

export function samePosition(a: Position, b: Position): boolean {
  return a.xMm === b.xMm && a.yMm === b.yMm && a.widthMm === b.widthMm && a.angleDeg === b.angleDeg;
}

/** `point` turned about the origin by `deg` clockwise (y down). */
export function rotatePoint(point: Point, deg: number): Point {
  const radians = (deg * Math.PI) / 180;
  const cos = Math.cos(radians);
  const sin = Math.sin(radians);
  return { x: point.x * cos - point.y * sin, y: point.x * sin + point.y * cos };
}

/** The upright box around the turned ink. `aspect` is ink height over ink width. */
export function rotatedBounds(position: Position, aspect: number): Bounds {
  const { xMm, yMm, widthMm, angleDeg } = position;
  const [halfWidth, halfHeight] = rotatedHalfSize(widthMm, widthMm * aspect, angleDeg);
  return {
    left: xMm - halfWidth,
    top: yMm - halfHeight,
    right: xMm + halfWidth,
    bottom: yMm + halfHeight,
  };
}

/** Is the turned ink wholly inside the printable area? */
export function isInsideArea(position: Position, aspect: number, area: Area): boolean {
  const box = rotatedBounds(position, aspect);
  return (
    box.left >= -area.widthMm / 2 - EDGE_TOLERANCE_MM &&
    box.right <= area.widthMm / 2 + EDGE_TOLERANCE_MM &&
    box.top >= -EDGE_TOLERANCE_MM &&
    box.bottom <= area.heightMm + EDGE_TOLERANCE_MM
  );
}

/** Whether the turned ink overlaps an upright box, as the shop judges it. */
export function intersectsBox(position: Position, aspect: number, box: Bounds): boolean {
  const { xMm, yMm, widthMm, angleDeg } = position;
  return overlapsBox(
    [xMm, yMm],
    widthMm,
    widthMm * aspect,
    angleDeg,
    { leftMm: box.left, topMm: box.top, widthMm: box.right - box.left, heightMm: box.bottom - box.top },
    EDGE_TOLERANCE_MM,
  );
}

/** One of the ink's corners: -1 is left or top, 1 right or bottom, before turning. */
export type Corner = { readonly x: -1 | 1; readonly y: -1 | 1 };

/** Where a corner of the turned ink lies. */
export function cornerPoint(position: Position, aspect: number, corner: Corner): Point {
  const offset = rotatePoint(
    { x: (corner.x * position.widthMm) / 2, y: (corner.y * position.widthMm * aspect) / 2 },
    position.angleDeg,
  );
  return { x: position.xMm + offset.x, y: position.yMm + offset.y };
}

/** A width a gesture may give, mm. */
export const clampWidth = (widthMm: number): number =>
  Math.min(GESTURE_WIDTH_MM.most, Math.max(GESTURE_WIDTH_MM.least, widthMm));

/** Scaled by `widthMm` while the corner opposite to `corner` stays where it is. */
export function scaleFromCorner(start: Position, aspect: number, corner: Corner, widthMm: number): Position {
  const width = clampWidth(widthMm);
  const fixed = cornerPoint(start, aspect, { x: -corner.x as -1 | 1, y: -corner.y as -1 | 1 });
  const toCenter = rotatePoint(
    { x: (corner.x * width) / 2, y: (corner.y * width * aspect) / 2 },
    start.angleDeg,
  );
  return { ...start, xMm: fixed.x + toCenter.x, yMm: fixed.y + toCenter.y, widthMm: width };
}

/**
 * The width that brings `corner` nearest to the pointer along the ink's diagonal, from the opposite corner
 * (`aboutCenter` false) or from the center.
 */
export function widthForPointer(
  start: Position,
  aspect: number,
  corner: Corner,
  pointer: Point,
  aboutCenter: boolean,
): number {
  const anchor = aboutCenter
    ? { x: start.xMm, y: start.yMm }
    : cornerPoint(start, aspect, { x: -corner.x as -1 | 1, y: -corner.y as -1 | 1 });
  const local = rotatePoint({ x: pointer.x - anchor.x, y: pointer.y - anchor.y }, -start.angleDeg);
  const along = (local.x * corner.x + local.y * corner.y * aspect) / (1 + aspect * aspect);
  return clampWidth(aboutCenter ? along * 2 : along);
}

/** Turned so that the pointer, grabbed at `from`, is at `to`. Degrees clockwise. */
export function angleForPointer(start: Position, from: Point, to: Point): number {
  const before = Math.atan2(from.y - start.yMm, from.x - start.xMm);
  const after = Math.atan2(to.y - start.yMm, to.x - start.xMm);
  return normalizeAngle(start.angleDeg + ((after - before) * 180) / Math.PI);
}

/** Two fingers turn an artwork only beyond this angle, so that a pinch does not tilt it by accident. */
const PINCH_DEAD_DEG = 7;

/** Two fingers: from where they were to where they are, in mm. */
export function pinchPosition(
  start: Position,
  from: readonly [Point, Point],
  to: readonly [Point, Point],
): Position {
  const span = (pair: readonly [Point, Point]) => Math.hypot(pair[1].x - pair[0].x, pair[1].y - pair[0].y);
  const direction = (pair: readonly [Point, Point]) =>
    (Math.atan2(pair[1].y - pair[0].y, pair[1].x - pair[0].x) * 180) / Math.PI;
  const middle = (pair: readonly [Point, Point]) => ({
    x: (pair[0].x + pair[1].x) / 2,
    y: (pair[0].y + pair[1].y) / 2,
  });
  const spanBefore = span(from);
  const widthMm = clampWidth(spanBefore > 0 ? (start.widthMm * span(to)) / spanBefore : start.widthMm);
  const scale = widthMm / start.widthMm;
  const turn = normalizeAngle(direction(to) - direction(from));
  const free = Math.abs(turn) <= PINCH_DEAD_DEG ? 0 : turn - Math.sign(turn) * PINCH_DEAD_DEG;
  const before = middle(from);
  const after = middle(to);
  const offset = rotatePoint({ x: (start.xMm - before.x) * scale, y: (start.yMm - before.y) * scale }, free);
  return {
    xMm: after.x + offset.x,
    yMm: after.y + offset.y,
    widthMm,
    angleDeg: normalizeAngle(start.angleDeg + free),
  };
}

/** The position with its center inside `bounds`, so that no gesture moves an artwork out of sight. */
export function clampCenter(position: Position, bounds: Bounds): Position {
  return {
    ...position,
    xMm: Math.min(bounds.right, Math.max(bounds.left, position.xMm)),
    yMm: Math.min(bounds.bottom, Math.max(bounds.top, position.yMm)),
  };
}
