import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Position } from './geometry/placement-math.ts';
import type { PlatenStage } from './stage.ts';

/** What the slip does about the stage's events. */
export type StageHandlers = {
  readonly input: (placement: string, position: Position) => void;
  readonly change: (placement: string, position: Position) => void;
  readonly select: (placement: string | null) => void;
  readonly remove: (placement: string) => void;
  readonly drop: (files: readonly File[], face: string, at: { xMm: number; yMm: number }) => void;
  readonly add: (face: string) => void;
};

/** A free tag for the stage, so that two versions of the slip on a page keep their own. */
function tagFor(stage: CustomElementConstructor): string {
  for (let n = 1; ; n++) {
    const tag = n === 1 ? 'platen-order-stage' : `platen-order-stage-${n}`;
    const known = customElements.get(tag);
    if (known === stage) return tag;
    if (!known) {
      customElements.define(tag, stage);
      return tag;
    }
  }
}

/** Loads the stage's code on request, makes one element of it and passes its events on. */
export class StageHost implements ReactiveController {
  #host: ReactiveControllerHost;
  #stage: PlatenStage | null = null;
  #isRequested = false;
  readonly #handlers: StageHandlers;

  constructor(host: ReactiveControllerHost, handlers: StageHandlers) {
    this.#host = host;
    this.#handlers = handlers;
    host.addController(this);
  }

  hostConnected(): void {}

  /** The stage's element; null until its code is there. */
  get stage(): PlatenStage | null {
    return this.#stage;
  }

  /** Loads the stage: the customer has come near the drawing, or something is to be placed on it. */
  fetch(): void {
    if (this.#isRequested) return;
    this.#isRequested = true;
    import('./stage.ts').then(
      ({ PlatenStage }) => {
        this.#stage = this.#create(PlatenStage);
        this.#host.requestUpdate();
      },
      () => {
        this.#isRequested = false; // the script did not arrive; the next update tries again
      },
    );
  }

  #create(stageClass: typeof PlatenStage): PlatenStage {
    const { input, change, select, remove, drop, add } = this.#handlers;
    const stage = document.createElement(tagFor(stageClass)) as PlatenStage;
    stage.addEventListener('platen-stage-input', ({ placement, position, cause }) => {
      // a canceled gesture is over, like a finished one
      (cause === 'cancel' ? change : input)(placement, position);
    });
    stage.addEventListener('platen-stage-change', ({ placement, position }) => change(placement, position));
    stage.addEventListener('platen-stage-select', ({ placement }) => select(placement));
    stage.addEventListener('platen-stage-remove', ({ placement }) => remove(placement));
    stage.addEventListener('platen-stage-drop', ({ files, face, xMm, yMm }) =>
      drop(files, face, { xMm, yMm }),
    );
    stage.addEventListener('platen-stage-add', ({ face }) => add(face));
    return stage;
  }
}
