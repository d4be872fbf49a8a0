/** Which part of a view is shown, and how large: the only place where mm become px. */
import type { Bounds, Point } from './placement-math.ts';

/** Bounds of a view (mm) fitted into a surface of so many CSS px. */
export type Camera = {
  readonly pxPerMm: number;
  /** view coordinates of the surface's top left corner. */
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
};

/** Fits the bounds into the middle of the surface, as large as possible. */
export function fitCamera(bounds: Bounds, widthPx: number, heightPx: number): Camera {
  const widthMm = Math.max(1, bounds.right - bounds.left);
  const heightMm = Math.max(1, bounds.bottom - bounds.top);
  const pxPerMm = Math.max(1e-6, Math.min(widthPx / widthMm, heightPx / heightMm));
  return {
    pxPerMm,
    leftMm: bounds.left - (widthPx / pxPerMm - widthMm) / 2,
    topMm: bounds.top - (heightPx / pxPerMm - heightMm) / 2,
    widthPx,
    heightPx,
  };
}

/** View mm to surface px. */
export const toPx = (camera: Camera, point: Point): Point => ({
  x: (point.x - camera.leftMm) * camera.pxPerMm,
  y: (point.y - camera.topMm) * camera.pxPerMm,
});

/** Surface px to view mm. */
export const toMm = (camera: Camera, point: Point): Point => ({
  x: point.x / camera.pxPerMm + camera.leftMm,
  y: point.y / camera.pxPerMm + camera.topMm,
});

export const expandBounds = (bounds: Bounds, byMm: number): Bounds => ({
  left: bounds.left - byMm,
  top: bounds.top - byMm,
  right: bounds.right + byMm,
  bottom: bounds.bottom + byMm,
});

export const unionBounds = (a: Bounds, b: Bounds): Bounds => ({
  left: Math.min(a.left, b.left),
  top: Math.min(a.top, b.top),
  right: Math.max(a.right, b.right),
  bottom: Math.max(a.bottom, b.bottom),
});
