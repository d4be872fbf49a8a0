import type { Bounds, Corner, Point, Position } from './placement-math.ts';
import {
  angleForPointer,
  clampCenter,
  pinchPosition,
  roundPosition,
  scaleFromCorner,
  widthForPointer,
} from './placement-math.ts';
import type { SnapPosition, Snapped } from './snap.ts';
import { snapAngle, snapMove, snapWidth, withoutGuides } from './snap.ts';

/** Where the pointer took hold of an artwork. */
export type Grip = Corner | 'turn' | 'body';

/** What a gesture does. */
export type GestureKind = 'move' | 'scale' | 'turn' | 'pinch';

/** The artwork under a gesture, as it was when the gesture began. */
export type GestureSubject = {
  readonly id: string;
  readonly start: Position;
  /** ink height over ink width. */
  readonly aspect: number;
  readonly usual: readonly SnapPosition[];
  /** where the center may go, face mm. */
  readonly reach: Bounds;
  /** CSS px of the drawing per mm. */
  readonly pxPerMm: number;
};

/** Modifiers read with each event: `free` ignores guides, `steady` keeps to an axis, the center or 15 degrees. */
export type GestureKeys = { readonly free: boolean; readonly steady: boolean };

/** A pointer moves this far, in px, before an artwork does: a click is not a nudge. */
const SLOP_PX = { mouse: 3, touch: 6 } as const;
/** How near a guide must be to attract an artwork, px. */
const SNAP_PX = 7;

type Held = { readonly from: Point; at: Point };

/** One gesture, from the first pointer down to the last one up. Points are in face mm. */
export class Gesture {
  readonly subject: GestureSubject;
  kind: GestureKind;
  /** False until the pointer has left its slop. */
  moved = false;
  /** What is shown. */
  snapped: Snapped;
  readonly #corner: Corner | null;
  readonly #pointers = new Map<number, Held>();
  readonly #slopMm: number;
  #base: Position;

  constructor(grip: Grip, subject: GestureSubject, pointerType: string) {
    this.kind = grip === 'body' ? 'move' : grip === 'turn' ? 'turn' : 'scale';
    this.subject = subject;
    this.snapped = withoutGuides(subject.start);
    this.#corner = typeof grip === 'string' ? null : grip;
    this.#base = subject.start;
    this.#slopMm = (pointerType === 'mouse' ? SLOP_PX.mouse : SLOP_PX.touch) / subject.pxPerMm;
  }

  get pointerCount(): number {
    return this.#pointers.size;
  }

  holds(pointerId: number): boolean {
    return this.#pointers.has(pointerId);
  }

  /** A pointer joins. With the second, the gesture becomes a pinch; a third is ignored. */
  add(pointerId: number, at: Point): void {
    if (this.#pointers.size >= 2) return;
    this.#pointers.set(pointerId, { from: at, at });
    if (this.#pointers.size === 2) this.#rebase('pinch');
  }

  /** A held pointer is at this point now. True when what is shown may have changed. */
  move(pointerId: number, at: Point, keys: GestureKeys): boolean {
    const held = this.#pointers.get(pointerId);
    if (!held) return false;
    held.at = at;
    if (!this.moved) {
      if (Math.hypot(at.x - held.from.x, at.y - held.from.y) < this.#slopMm) return false;
      this.moved = true;
    }
    this.snapped = this.#position(keys);
    return true;
  }

  /** A pointer leaves; one finger left of two goes on moving. */
  remove(pointerId: number): void {
    if (!this.#pointers.delete(pointerId)) return;
    if (this.kind === 'pinch' && this.#pointers.size === 1) this.#rebase('move');
  }

  /** The position to write down: rounded once, here. */
  get result(): Position {
    return this.moved ? roundPosition(this.snapped.position, this.subject.start) : this.subject.start;
  }

  /** Continues from what is shown, so that nothing jumps when a finger comes or goes. */
  #rebase(kind: GestureKind): void {
    this.kind = kind;
    this.#base = this.snapped.position;
    for (const [id, { at }] of this.#pointers) this.#pointers.set(id, { from: at, at });
  }

  #position(keys: GestureKeys): Snapped {
    const [first, second] = [...this.#pointers.values()];
    if (!first) return this.snapped;
    if (this.kind === 'pinch' && second) return this.#pinched(first, second);
    if (this.kind === 'scale' && this.#corner) return this.#scaled(first, this.#corner, keys);
    if (this.kind === 'turn') {
      const angle = angleForPointer(this.#base, first.from, first.at);
      return withoutGuides({ ...this.#base, angleDeg: keys.free ? angle : snapAngle(angle, keys.steady) });
    }
    return this.#moved(first, keys);
  }

  #pinched(first: Held, second: Held): Snapped {
    const position = pinchPosition(this.#base, [first.from, second.from], [first.at, second.at]);
    return withoutGuides(clampCenter(position, this.subject.reach));
  }

  #scaled({ from, at }: Held, corner: Corner, keys: GestureKeys): Snapped {
    const { aspect, usual, reach, pxPerMm } = this.subject;
    const base = this.#base;
    const aboutCenter = keys.steady;
    // the corner keeps its distance to the pointer that grabbed it
    const grabbed = widthForPointer(base, aspect, corner, from, aboutCenter);
    const followed = widthForPointer(base, aspect, corner, at, aboutCenter) - grabbed + base.widthMm;
    const widthMm = keys.free ? followed : (snapWidth(followed, usual, SNAP_PX / pxPerMm) ?? followed);
    const scaled = scaleFromCorner(base, aspect, corner, widthMm);
    return withoutGuides(clampCenter(aboutCenter ? { ...base, widthMm: scaled.widthMm } : scaled, reach));
  }

  #moved({ from, at }: Held, keys: GestureKeys): Snapped {
    const { usual, reach, pxPerMm } = this.subject;
    const base = this.#base;
    const dx = at.x - from.x;
    const dy = at.y - from.y;
    const isAcross = Math.abs(dx) > Math.abs(dy);
    const moved = clampCenter(
      {
        ...base,
        xMm: base.xMm + (keys.steady && !isAcross ? 0 : dx),
        yMm: base.yMm + (keys.steady && isAcross ? 0 : dy),
      },
      reach,
    );
    return keys.free ? withoutGuides(moved) : snapMove(moved, usual, SNAP_PX / pxPerMm);
  }
}
