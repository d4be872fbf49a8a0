import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { PlatenStage } from './stage.ts';

/** What the slip does with what happens on the drawing. */
export type StageActs = {
  readonly input: (
    placement: string,
    position: { xMm: number; yMm: number; widthMm: number; angleDeg: number },
  ) => void;
  readonly change: (
    placement: string,
    position: { xMm: number; yMm: number; widthMm: number; angleDeg: number },
  ) => void;
  readonly select: (placement: string | null) => void;
  readonly remove: (placement: string) => void;
  readonly drop: (files: readonly File[], face: string, at: { xMm: number; yMm: number }) => void;
  readonly add: (face: string) => void;
};

/** The stage's own tag: the first free one, so that two versions on a page keep their own. */
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

/** Holds the drawing: loads its code with the catalog, makes one element of it, and passes its events on. */
export class StageHost implements ReactiveController {
  #host: ReactiveControllerHost;
  #stage: PlatenStage | null = null;
  #asked = false;
  readonly #acts: StageActs;

  constructor(host: ReactiveControllerHost, acts: StageActs) {
    this.#host = host;
    this.#acts = acts;
    host.addController(this);
  }

  hostConnected(): void {}

  /** The stage's element once it was fetched; null before. */
  get stage(): PlatenStage | null {
    return this.#stage;
  }

  /** Fetches the stage: the customer has come near the drawing, or something is to be placed on it. */
  fetch(): void {
    if (!this.#asked) {
      this.#asked = true;
      void import('./stage.ts').then(
        ({ PlatenStage }) => {
          const stage = document.createElement(tagFor(PlatenStage)) as PlatenStage;
          stage.addEventListener('platen-stage-input', (event) => {
            // what was put back is over, as what was let go
            const act = event.cause === 'cancel' ? this.#acts.change : this.#acts.input;
            act(event.placement, event.position);
          });
          stage.addEventListener('platen-stage-change', (event) =>
            this.#acts.change(event.placement, event.position),
          );
          stage.addEventListener('platen-stage-select', (event) => this.#acts.select(event.placement));
          stage.addEventListener('platen-stage-remove', (event) => this.#acts.remove(event.placement));
          stage.addEventListener('platen-stage-drop', (event) =>
            this.#acts.drop(event.files, event.face, { xMm: event.xMm, yMm: event.yMm }),
          );
          stage.addEventListener('platen-stage-add', (event) => this.#acts.add(event.face));
          this.#stage = stage;
          this.#host.requestUpdate();
        },
        () => {
          this.#asked = false; // the script did not arrive; the next update asks again
        },
      );
    }
  }
}
