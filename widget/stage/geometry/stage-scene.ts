/** What is where on the stage, worked out from its properties. */
import type { Face, View } from '../../../src/catalog/index.ts';
import type { Camera } from './camera.ts';
import { expandBounds, fitCamera, toMm, toPx, unionBounds } from './camera.ts';
import type { Bounds, Point, Position } from './placement-math.ts';
import { rotatedBounds } from './placement-math.ts';
import type { Snapped } from './snap.ts';
import type { StagePlacement } from './stage-types.ts';
import { aspectOf } from './stage-types.ts';

/** Numbers shown in place of the property's: during a gesture, and until the property follows. */
export type Live = { readonly id: string; readonly snapped: Snapped };

export type SceneInput = {
  readonly view: View | null;
  readonly faces: readonly Face[];
  readonly face: string;
  readonly placements: readonly StagePlacement[];
  readonly live: Live | null;
  readonly widthPx: number;
  readonly heightPx: number;
};

/** Share of the view's longer side that is left free around it. */
const MARGIN_SHARE = 0.025;

/** A face's printable area in view mm. */
export const areaOnView = (face: Face, area: { widthMm: number; heightMm: number }): Bounds => ({
  left: face.onView.xMm - area.widthMm / 2,
  top: face.onView.yMm,
  right: face.onView.xMm + area.widthMm / 2,
  bottom: face.onView.yMm + area.heightMm,
});

export class StageScene {
  readonly camera: Camera;
  /** The faces on this view. */
  readonly faces: readonly Face[];
  readonly activeFace: Face | null;
  /** The artworks on this view, with the numbers now shown. */
  readonly placements: readonly StagePlacement[];
  /** Everything there is to see of the view, in its mm. */
  readonly #bounds: Bounds;

  constructor({ view, faces, face, placements, live, widthPx, heightPx }: SceneInput) {
    this.faces = faces.filter((one) => one.onView.view === view?.id);
    this.activeFace = this.faces.find((one) => one.id === face) ?? this.faces[0] ?? null;
    this.placements = placements
      .filter((placement) => this.faceOf(placement) !== null)
      .map((placement) =>
        live?.id === placement.id ? { ...placement, ...live.snapped.position } : placement,
      );
    const whole = { left: 0, top: 0, right: view?.widthMm ?? 1, bottom: view?.heightMm ?? 1 };
    this.#bounds = this.faces.reduce((box, one) => unionBounds(box, areaOnView(one, one)), whole);
    const { left, top, right, bottom } = this.#bounds;
    const margin = Math.max(right - left, bottom - top) * MARGIN_SHARE;
    this.camera = fitCamera(expandBounds(this.#bounds, margin), Math.max(1, widthPx), Math.max(1, heightPx));
  }

  faceOf(placement: Pick<StagePlacement, 'face'>): Face | null {
    return this.faces.find((face) => face.id === placement.face) ?? null;
  }

  /** A placement with the numbers now shown, and its face; null when it is not on this view. */
  find(id: string | null): { readonly placement: StagePlacement; readonly face: Face } | null {
    const placement = this.placements.find((one) => one.id === id);
    const face = placement && this.faceOf(placement);
    return placement && face ? { placement, face } : null;
  }

  /** Where the center of an artwork may go, in a face's mm: nowhere out of sight. */
  reachOf(face: Face): Bounds {
    const { left, top, right, bottom } = this.#bounds;
    const { xMm, yMm } = face.onView;
    return { left: left - xMm, top: top - yMm, right: right - xMm, bottom: bottom - yMm };
  }

  /** The upright box around an artwork, surface px. */
  boundsPx(placement: StagePlacement): Bounds {
    const face = this.faceOf(placement);
    const box = rotatedBounds(placement, aspectOf(placement));
    const x = face?.onView.xMm ?? 0;
    const y = face?.onView.yMm ?? 0;
    const from = toPx(this.camera, { x: x + box.left, y: y + box.top });
    const to = toPx(this.camera, { x: x + box.right, y: y + box.bottom });
    return { left: from.x, top: from.y, right: to.x, bottom: to.y };
  }

  /** The face at a point of the surface (px), else the active one, and the point in that face's mm. */
  faceAt(px: Point): { readonly face: Face; readonly at: Point } | null {
    const mm = toMm(this.camera, px);
    const hit = this.faces.find((face) => {
      const area = areaOnView(face, face);
      return mm.x >= area.left && mm.x <= area.right && mm.y >= area.top && mm.y <= area.bottom;
    });
    const face = hit ?? this.activeFace;
    return face ? { face, at: toFaceMm(face, mm) } : null;
  }
}

/** A point of the view in a face's own mm. */
export const toFaceMm = (face: Face, { x, y }: Point): Point => ({
  x: x - face.onView.xMm,
  y: y - face.onView.yMm,
});

export const positionOf = ({ xMm, yMm, widthMm, angleDeg }: Position): Position => ({
  xMm,
  yMm,
  widthMm,
  angleDeg,
});
