import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Face } from '../../src/catalog/index.ts';
import type { Point } from './geometry/placement-math.ts';
import { StageDropEvent } from './stage-events.ts';

/** The face under the pointer, and the point on it, mm. */
type DropTarget = { readonly face: Face; readonly at: Point };

/** Files dragged over the drawing and dropped on it. */
export class FileDropController implements ReactiveController {
  readonly #host: ReactiveControllerHost & HTMLElement;
  readonly #isAccepting: () => boolean;
  readonly #targetOf: (event: DragEvent) => DropTarget | null;
  #isOver = false;

  constructor(
    host: ReactiveControllerHost & HTMLElement,
    isAccepting: () => boolean,
    targetOf: (event: DragEvent) => DropTarget | null,
  ) {
    this.#host = host;
    this.#isAccepting = isAccepting;
    this.#targetOf = targetOf;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.#isOver = false;
  }

  /** Files are being dragged over the drawing. */
  get isOver(): boolean {
    return this.#isOver;
  }

  readonly onDragOver = (event: DragEvent): void => {
    if (!this.#isAccepting() || !event.dataTransfer?.types.includes('Files')) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = 'copy';
    this.#setOver(true);
  };

  readonly onDragLeave = (event: DragEvent): void => {
    const surface = event.currentTarget as HTMLElement;
    if (!surface.contains(event.relatedTarget as Node | null)) this.#setOver(false);
  };

  readonly onDrop = (event: DragEvent): void => {
    this.#setOver(false);
    const files = [...(event.dataTransfer?.files ?? [])];
    if (files.length === 0 || !this.#isAccepting()) return;
    event.preventDefault();
    const target = this.#targetOf(event);
    if (target) this.#host.dispatchEvent(new StageDropEvent(files, target.face.id, target.at.x, target.at.y));
  };

  #setOver(isOver: boolean): void {
    if (isOver === this.#isOver) return;
    this.#isOver = isOver;
    this.#host.requestUpdate();
  }
}
