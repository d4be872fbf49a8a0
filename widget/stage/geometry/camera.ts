/** Which part of a view is shown, and how large: the one place where mm become px. */
import type { Bounds, Point } from './placement-math.ts';

/** What is looked at: a box of the view, mm. */
export type Look = Bounds;

/** A look fitted into a surface of so many CSS px. */
export type Camera = {
  readonly pxPerMm: number;
  /** view coordinates of the surface's top left corner. */
  readonly leftMm: number;
  readonly topMm: number;
  readonly widthPx: number;
  readonly heightPx: number;
};

/** Fits `look` into the middle of the surface, as large as it goes. */
export function fitCamera(look: Look, widthPx: number, heightPx: number): Camera {
  const widthMm = Math.max(1, look.right - look.left);
  const heightMm = Math.max(1, look.bottom - look.top);
  const pxPerMm = Math.max(1e-6, Math.min(widthPx / widthMm, heightPx / heightMm));
  return {
    pxPerMm,
    leftMm: look.left - (widthPx / pxPerMm - widthMm) / 2,
    topMm: look.top - (heightPx / pxPerMm - heightMm) / 2,
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
