/**
 * Fingers, pens and mice on the artworks. The browser does the hit testing (each artwork and each handle is an element),
 * so that scrolled boxes, dialogs, page zoom and CSS transforms need no arithmetic of ours; the pointers are captured by
 * the surface, so that no listener is ever put on the page's window or document.
 */
import type { Bounds, Corner, Point, Position } from './placement-math.ts';
import {
  angleForPointer,
  clampCenter,
  pinchPosition,
  rounded,
  scaleFromCorner,
  widthForPointer,
} from './placement-math.ts';
import type { SnapPosition, Snapped } from './snap.ts';
import { snapAngle, snapMove, snapWidth, withoutGuides } from './snap.ts';

/** What a gesture does. */
export type GestureKind = 'move' | 'scale' | 'turn' | 'pinch';

/** The artwork under a gesture, as it was when it began. */
export type GestureSubject = {
  readonly id: string;
  readonly start: Position;
  /** ink height over ink width. */
  readonly aspect: number;
  readonly usual: readonly SnapPosition[];
  /** where the center may go, face mm. */
  readonly reach: Bounds;
  /** how near is near, mm: a few px at the present zoom. */
  readonly snapMm: number;
};

/** Modifiers read with each event. */
export type GestureKeys = { readonly free: boolean; readonly steady: boolean };

/** Pointers move this far, in px, before an artwork does: a click is not a nudge. */
const SLOP_PX = { mouse: 3, touch: 6 } as const;

type Held = { readonly fromPx: Point; readonly fromMm: Point; atMm: Point };

/** One gesture from the first pointer down to the last one up. Points come in face mm. */
export class Gesture {
  readonly subject: GestureSubject;
  readonly corner: Corner | null;
  kind: GestureKind;
  /** false until the pointer has left its slop. */
  moved = false;
  /** what is shown. */
  snapped: Snapped;
  readonly #pointers = new Map<number, Held>();
  readonly #slopPx: number;
  #base: Position;

  constructor(kind: GestureKind, subject: GestureSubject, pointerType: string, corner: Corner | null = null) {
    this.kind = kind;
    this.subject = subject;
    this.corner = corner;
    this.snapped = withoutGuides(subject.start);
    this.#base = subject.start;
    this.#slopPx = pointerType === 'mouse' ? SLOP_PX.mouse : SLOP_PX.touch;
  }

  get pointerCount(): number {
    return this.#pointers.size;
  }

  holds(pointerId: number): boolean {
    return this.#pointers.has(pointerId);
  }

  /** A pointer joins. With the second, moving becomes pinching. */
  add(pointerId: number, px: Point, mm: Point): void {
    if (this.#pointers.size >= 2) return;
    this.#pointers.set(pointerId, { fromPx: px, fromMm: mm, atMm: mm });
    if (this.#pointers.size === 2) this.#rebase('pinch');
  }

  /** A held pointer is at `mm` now. True when what is shown has changed. */
  move(pointerId: number, px: Point, mm: Point, keys: GestureKeys): boolean {
    const held = this.#pointers.get(pointerId);
    if (!held) return false;
    held.atMm = mm;
    if (!this.moved) {
      if (Math.hypot(px.x - held.fromPx.x, px.y - held.fromPx.y) < this.#slopPx) return false;
      this.moved = true;
    }
    this.snapped = this.#work(keys);
    return true;
  }

  /** A pointer leaves; one finger left of two goes on moving. */
  remove(pointerId: number): void {
    if (!this.#pointers.delete(pointerId)) return;
    if (this.kind === 'pinch' && this.#pointers.size === 1) this.#rebase('move');
  }

  /** The position to write down: rounded once, here. */
  get result(): Position {
    return this.moved ? rounded(this.snapped.position, this.subject.start) : this.subject.start;
  }

  /** Go on from what is shown, so that nothing jumps when a finger comes or goes. */
  #rebase(kind: GestureKind): void {
    this.kind = kind;
    this.#base = this.snapped.position;
    for (const [id, held] of this.#pointers)
      this.#pointers.set(id, { fromPx: held.fromPx, fromMm: held.atMm, atMm: held.atMm });
  }

  #work(keys: GestureKeys): Snapped {
    const { aspect, usual, reach, snapMm } = this.subject;
    const base = this.#base;
    const [first, second] = [...this.#pointers.values()];
    if (!first) return this.snapped;
    if (this.kind === 'pinch' && second)
      return withoutGuides(
        clampCenter(pinchPosition(base, [first.fromMm, second.fromMm], [first.atMm, second.atMm]), reach),
      );
    if (this.kind === 'scale' && this.corner) {
      const aboutCenter = keys.steady;
      // the corner keeps its distance to the pointer that grabbed it
      const grabbed = widthForPointer(base, aspect, this.corner, first.fromMm, aboutCenter);
      const asked =
        widthForPointer(base, aspect, this.corner, first.atMm, aboutCenter) - grabbed + base.widthMm;
      const widthMm = keys.free ? asked : (snapWidth(asked, usual, snapMm) ?? asked);
      const scaled = scaleFromCorner(base, aspect, this.corner, widthMm);
      return withoutGuides(clampCenter(aboutCenter ? { ...base, widthMm: scaled.widthMm } : scaled, reach));
    }
    if (this.kind === 'turn') {
      const angle = angleForPointer(base, first.fromMm, first.atMm);
      return withoutGuides({ ...base, angleDeg: keys.free ? angle : snapAngle(angle, keys.steady) });
    }
    const dx = first.atMm.x - first.fromMm.x;
    const dy = first.atMm.y - first.fromMm.y;
    // Shift keeps to one axis
    const straight = keys.steady
      ? Math.abs(dx) > Math.abs(dy)
        ? { x: dx, y: 0 }
        : { x: 0, y: dy }
      : { x: dx, y: dy };
    const moved = clampCenter({ ...base, xMm: base.xMm + straight.x, yMm: base.yMm + straight.y }, reach);
    return keys.free ? withoutGuides(moved) : snapMove(moved, usual, snapMm);
  }
}
