import type { ReactiveController, ReactiveControllerHost } from 'lit';
import { Gesture, type Grip } from './geometry/gesture.ts';
import type { Point } from './geometry/placement-math.ts';
import { samePosition } from './geometry/placement-math.ts';
import { withoutGuides } from './geometry/snap.ts';
import { positionOf, toFaceMm } from './geometry/stage-scene.ts';
import { aspectOf } from './geometry/stage-types.ts';
import type { StageContext } from './stage-context.ts';

/**
 * Gestures on the artworks. The canvas reports what the first pointer does; the second finger of a pinch, pointers that
 * the system takes away and the scrolling of the page are looked after here, by listeners on the surface.
 */
export class PointerController implements ReactiveController {
  readonly #stage: StageContext;
  readonly #releaseArtwork: () => void;
  #gesture: Gesture | null = null;

  /** @param releaseArtwork takes the artwork out of the canvas's hold. */
  constructor(host: ReactiveControllerHost, stage: StageContext, releaseArtwork: () => void) {
    this.#stage = stage;
    this.#releaseArtwork = releaseArtwork;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.cancel();
  }

  get isGesturing(): boolean {
    return this.#gesture !== null;
  }

  /** Id of the artwork that is being moved, once the pointer has left its slop. */
  get movingId(): string | null {
    return this.#gesture?.moved ? this.#gesture.subject.id : null;
  }

  /** Id of the artwork in hand. */
  get heldId(): string | null {
    return this.#gesture?.subject.id ?? null;
  }

  /** The pointer took hold of the selected artwork. `at` in mm of the view. */
  press(id: string, grip: Grip, event: PointerEvent, at: Point): void {
    const stage = this.#stage;
    const scene = stage.scene();
    const found = scene.find(id);
    if (!found || this.#gesture) return;
    stage.endBurst();
    stage.focus(id);
    event.preventDefault(); // keeps the focus there, and selects no text
    if (stage.isReadonly()) return;
    const { placement, face } = found;
    const subject = {
      id,
      start: positionOf(placement),
      aspect: aspectOf(placement),
      usual: face.usual,
      reach: scene.reachOf(face),
      pxPerMm: scene.camera.pxPerMm,
    };
    this.#gesture = new Gesture(grip, subject, event.pointerType);
    this.#gesture.add(event.pointerId, toFaceMm(face, at));
  }

  /** A pointer has moved to `at`, mm of the view. */
  drag(event: PointerEvent, at: Point): void {
    const gesture = this.#gesture;
    const found = this.#stage.scene().find(gesture?.subject.id ?? null);
    if (!gesture || !found) return;
    const keys = { free: event.altKey, steady: event.shiftKey };
    if (!gesture.move(event.pointerId, toFaceMm(found.face, at), keys)) return;
    const { id } = gesture.subject;
    this.#stage.show({ id, snapped: gesture.snapped }, true);
    this.#stage.report('platen-stage-input', id, gesture.result, gesture.kind);
  }

  release(event: PointerEvent): void {
    const gesture = this.#gesture;
    if (!gesture?.holds(event.pointerId)) return;
    gesture.remove(event.pointerId);
    if (gesture.pointerCount > 0) return;
    this.#gesture = null;
    const { result } = gesture;
    const { id, start } = gesture.subject;
    if (samePosition(result, start)) {
      this.#stage.show(null, false);
      return;
    }
    this.#stage.show({ id, snapped: withoutGuides(result) }, false);
    this.#stage.report('platen-stage-change', id, result, gesture.kind);
    this.#stage.announce(result);
  }

  /** Ends the running gesture as if it had never been. */
  cancel(): void {
    this.#releaseArtwork();
    const gesture = this.#gesture;
    if (!gesture) return;
    this.#gesture = null;
    this.#stage.show(null, false);
    const { id, start } = gesture.subject;
    if (gesture.moved) this.#stage.report('platen-stage-input', id, start, 'cancel');
  }

  /* listeners of the surface; of the first pointer the canvas reports all but the canceling */

  readonly onPointerDown = (event: PointerEvent): void => {
    const gesture = this.#gesture;
    const found = this.#stage.scene().find(gesture?.subject.id ?? null);
    if (!gesture || !found || event.isPrimary || event.pointerType !== 'touch') return;
    gesture.add(event.pointerId, toFaceMm(found.face, this.#stage.toViewMm(event)));
  };

  readonly onPointerMove = (event: PointerEvent): void => {
    if (!event.isPrimary && this.#gesture?.holds(event.pointerId))
      this.drag(event, this.#stage.toViewMm(event));
  };

  readonly onPointerUp = (event: PointerEvent): void => {
    if (!event.isPrimary) this.release(event);
  };

  readonly onPointerCancel = (event: PointerEvent): void => {
    if (!this.#gesture || this.#gesture.holds(event.pointerId)) this.cancel();
  };

  /** A finger that holds an artwork neither scrolls nor zooms the page. */
  readonly onTouchStart = (event: TouchEvent): void => {
    if (this.#gesture) event.preventDefault();
  };

  /** No menu from a long press while holding an artwork. */
  readonly onContextMenu = (event: Event): void => {
    if (this.#gesture) event.preventDefault();
  };
}
