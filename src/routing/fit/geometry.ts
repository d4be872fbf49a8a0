/** A point on a face: mm right of its center line, mm below its top edge. */
export type Point = readonly [xMm: number, yMm: number];

/** A box on a face; `leftMm` and `topMm` are its upper left corner. */
export type FaceBox = {
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
};

/** Half the width and height of the box around a turned rectangle. */
export function turnedHalf(
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

/** The corners of a rectangle turned clockwise about its center. */
export function turnedCorners(
  center: Point,
  widthMm: number,
  heightMm: number,
  angleDeg: number,
): readonly [Point, Point, Point, Point] {
  const [cos, sin] = cosSin(angleDeg);
  const corner = (signX: number, signY: number): Point => {
    const x = (signX * widthMm) / 2;
    const y = (signY * heightMm) / 2;
    return [center[0] + x * cos - y * sin, center[1] + x * sin + y * cos];
  };
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
}

/**
 * Whether a turned rectangle and an upright box overlap by more than a touch, by the separating axis theorem: two
 * convex shapes are apart exactly when a line along one of their edges parts them.
 */
export function overlaps(
  center: Point,
  widthMm: number,
  heightMm: number,
  angleDeg: number,
  box: FaceBox,
  touchMm = 1e-6,
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
    Math.abs(dx) < boxHalfX + halfX * absCos + halfY * absSin - touchMm &&
    Math.abs(dy) < boxHalfY + halfX * absSin + halfY * absCos - touchMm &&
    Math.abs(dx * cos + dy * sin) < halfX + boxHalfX * absCos + boxHalfY * absSin - touchMm &&
    Math.abs(dy * cos - dx * sin) < halfY + boxHalfX * absSin + boxHalfY * absCos - touchMm
  );
}

/** Exact at right angles, so that a quarter turn is not a hair wider than upright. */
function cosSin(angleDeg: number): readonly [number, number] {
  const turned = ((angleDeg % 360) + 360) % 360;
  if (turned === 0) return [1, 0];
  if (turned === 90) return [0, 1];
  if (turned === 180) return [-1, 0];
  if (turned === 270) return [0, -1];
  const radians = (turned * Math.PI) / 180;
  return [Math.cos(radians), Math.sin(radians)];
}
