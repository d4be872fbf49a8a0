import type { Position } from './geometry/placement-math.ts';

/** What moved an artwork. `cancel` puts back what was there before the gesture. */
export type PlacementCause = 'move' | 'scale' | 'turn' | 'pinch' | 'wheel' | 'keys' | 'cancel';

/** An artwork's numbers while (`platen-stage-input`) or after (`platen-stage-change`) the customer moves it. */
export class StagePlacementEvent extends Event {
  readonly placement: string;
  /** rounded to 0.01 mm and 0.01 degree. */
  readonly position: Position;
  readonly cause: PlacementCause;

  constructor(
    type: 'platen-stage-input' | 'platen-stage-change',
    placement: string,
    position: Position,
    cause: PlacementCause,
  ) {
    super(type, { bubbles: true });
    this.placement = placement;
    this.position = position;
    this.cause = cause;
  }
}

/** The customer picked an artwork, or none. */
export class StageSelectEvent extends Event {
  readonly placement: string | null;

  constructor(placement: string | null) {
    super('platen-stage-select', { bubbles: true });
    this.placement = placement;
  }
}

/** The customer asks to take an artwork off. */
export class StageRemoveEvent extends Event {
  readonly placement: string;

  constructor(placement: string) {
    super('platen-stage-remove', { bubbles: true });
    this.placement = placement;
  }
}

/** Files were dropped, on which face and where (center of the drop, mm on that face). */
export class StageDropEvent extends Event {
  readonly files: readonly File[];
  readonly face: string;
  readonly xMm: number;
  readonly yMm: number;

  constructor(files: readonly File[], face: string, xMm: number, yMm: number) {
    super('platen-stage-drop', { bubbles: true });
    this.files = files;
    this.face = face;
    this.xMm = xMm;
    this.yMm = yMm;
  }
}

/** The empty face's button was pressed: choose a file for it. */
export class StageAddEvent extends Event {
  readonly face: string;

  constructor(face: string) {
    super('platen-stage-add', { bubbles: true });
    this.face = face;
  }
}

/** An artwork's picture could not be shown: blocked by its origin, gone, or no picture at all. */
export class StagePictureErrorEvent extends Event {
  readonly placement: string;

  constructor(placement: string) {
    super('platen-stage-picture-error', { bubbles: true });
    this.placement = placement;
  }
}

declare global {
  interface HTMLElementEventMap {
    'platen-stage-input': StagePlacementEvent;
    'platen-stage-change': StagePlacementEvent;
    'platen-stage-select': StageSelectEvent;
    'platen-stage-remove': StageRemoveEvent;
    'platen-stage-drop': StageDropEvent;
    'platen-stage-add': StageAddEvent;
    'platen-stage-picture-error': StagePictureErrorEvent;
  }
}
