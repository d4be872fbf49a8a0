import type { Face } from '../../../src/catalog/index.ts';
import type { Camera } from '../geometry/camera.ts';
import { toPx } from '../geometry/camera.ts';
import type { Position } from '../geometry/placement-math.ts';

/** Size (px) and style of an artwork's element: its ink box, turned about its center. */
export function placementBox(camera: Camera, face: Face, position: Position, aspect: number) {
  const widthPx = position.widthMm * camera.pxPerMm;
  const heightPx = widthPx * aspect;
  const center = toPx(camera, { x: face.onView.xMm + position.xMm, y: face.onView.yMm + position.yMm });
  return {
    width: `${widthPx}px`,
    height: `${heightPx}px`,
    transform: `translate(${center.x - widthPx / 2}px, ${center.y - heightPx / 2}px) rotate(${position.angleDeg}deg)`,
  };
}
