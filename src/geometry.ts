/** A point, mm: x to the right, y down. */
export type Point = readonly [xMm: number, yMm: number];

/** An upright box; `leftMm` and `topMm` are its upper left corner. */
export type Box = {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
};

/** Rounding of positions may carry a print over an edge by this much, mm; it still counts as inside. */
export const EDGE_TOLERANCE_MM = 0.05;

/** Half the width and height of the upright box around a rotated rectangle. */
export function rotatedHalfSize(
  widthMm: number,
  heightMm: number,
  angleDeg: number,
): readonly [halfWidthMm: number, halfHeightMm: number] {
  const [cos, sin] = cosSin(angleDeg);
  return [
    (widthMm * Math.abs(cos) + heightMm * Math.abs(sin)) / 2,
    (widthMm * Math.abs(sin) + heightMm * Math.abs(cos)) / 2,
  ];
}

/**
 * Whether a rotated rectangle and an upright box overlap, by the separating axis theorem: two convex shapes do not overlap
 * exactly when a line parallel to one of their edges separates them.
 *
 * @param center of the rectangle
 * @param angleDeg clockwise, about the center
 * @param toleranceMm overlaps up to this deep do not count
 */
export function overlapsBox(
  center: Point,
  widthMm: number,
  heightMm: number,
  angleDeg: number,
  box: Box,
  toleranceMm = 1e-6,
): boolean {
  const [cos, sin] = cosSin(angleDeg);
  const boxHalfX = box.widthMm / 2;
  const boxHalfY = box.heightMm / 2;
  const dx = box.leftMm + boxHalfX - center[0];
  const dy = box.topMm + boxHalfY - center[1];
  const halfX = widthMm / 2;
  const halfY = heightMm / 2;
  const absCos = Math.abs(cos);
  const absSin = Math.abs(sin);
  return (
    Math.abs(dx) < boxHalfX + halfX * absCos + halfY * absSin - toleranceMm &&
    Math.abs(dy) < boxHalfY + halfX * absSin + halfY * absCos - toleranceMm &&
    Math.abs(dx * cos + dy * sin) < halfX + boxHalfX * absCos + boxHalfY * absSin - toleranceMm &&
    Math.abs(dy * cos - dx * sin) < halfY + boxHalfX * absSin + boxHalfY * absCos - toleranceMm
  );
}

/** Exact at right angles, so that a quarter turn is not a hair wider than upright. */
function cosSin(angleDeg: number): readonly [number, number] {
  const positive = ((angleDeg % 360) + 360) % 360;
  if (positive === 0) return [1, 0];
  if (positive === 90) return [0, 1];
  if (positive === 180) return [-1, 0];
  if (positive === 270) return [0, -1];
  const radians = (positive * Math.PI) / 180;
  return [Math.cos(radians), Math.sin(radians)];
}
