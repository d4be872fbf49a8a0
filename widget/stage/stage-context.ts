import type { Units } from '../format/index.ts';
import type { Point, Position } from './geometry/placement-math.ts';
import type { Live, StageScene } from './geometry/stage-scene.ts';
import type { PlacementCause } from './stage-events.ts';

/** What the stage's controllers may ask of it. */
export type StageContext = {
  scene(): StageScene;
  selected(): string | null;
  isReadonly(): boolean;
  units(): Units;
  isGesturing(): boolean;
  /** A point of the page in mm of the view. */
  toViewMm(client: { readonly clientX: number; readonly clientY: number }): Point;
  /** Shows these numbers until the property follows; null for the property's own. */
  show(live: Live | null, measuring: boolean): void;
  select(id: string | null): void;
  /** Puts the focus on an artwork's element. */
  focus(id: string): void;
  /** Ends a burst of keys or wheel turns: what it did is now a change. */
  endBurst(): void;
  report(
    type: 'platen-stage-input' | 'platen-stage-change',
    id: string,
    position: Position,
    cause: PlacementCause,
  ): void;
  /** Tells a screen reader the new place, once things are still. */
  announce(position: Position): void;
};
