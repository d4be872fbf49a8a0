import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { FrameColors, Picture } from './canvas/artwork-object.ts';
import type { FabricLayer, LayerListener } from './canvas/fabric-layer.ts';
import { isFaulty, placementFaults } from './geometry/placement-faults.ts';
import type { StageScene } from './geometry/stage-scene.ts';
import type { PictureState, StagePlacement } from './geometry/stage-types.ts';
import { aspectOf } from './geometry/stage-types.ts';

/** What the pictures are drawn from. */
export type PictureInput = {
  readonly scene: StageScene;
  readonly sizes: readonly string[];
  readonly selected: string | null;
  readonly readonly: boolean;
  readonly isGesturing: boolean;
  /** false while the stage has no size on the page. */
  readonly isSized: boolean;
};

/** What the canvas tells the stage; of pictures only those that cannot be had. */
export type CanvasListener = Omit<LayerListener, 'onPictureReady' | 'onPictureFail'> & {
  onPictureError(id: string): void;
};

const WHOLE = { left: 0, top: 0, width: 1, height: 1 } as const;
/** Colors of the frame may change with these, and nothing else tells of it. */
const THEMES = ['(prefers-color-scheme: dark)', '(forced-colors: active)'] as const;

/** The artworks' pictures: fetches Fabric with the first of them, and draws them after each update of the stage. */
export class PictureController implements ReactiveController {
  readonly #host: ReactiveControllerHost & HTMLElement;
  readonly #input: () => PictureInput;
  readonly #listener: CanvasListener;
  #layer: FabricLayer | null = null;
  #isLoading = false;
  #colors: { readonly line: string; readonly fault: string; readonly fill: string } | null = null;
  #themes: readonly MediaQueryList[] = [];
  #states: ReadonlyMap<string, PictureState> = new Map();

  constructor(
    host: ReactiveControllerHost & HTMLElement,
    input: () => PictureInput,
    listener: CanvasListener,
  ) {
    this.#host = host;
    this.#input = input;
    this.#listener = listener;
    host.addController(this);
  }

  hostConnected(): void {
    this.#themes = THEMES.map((query) => matchMedia(query));
    for (const theme of this.#themes) theme.addEventListener('change', this.#redraw);
  }

  hostDisconnected(): void {
    for (const theme of this.#themes) theme.removeEventListener('change', this.#redraw);
    const layer = this.#layer;
    this.#layer = null;
    this.#states = new Map();
    // the page may take the stage out in one of its own events, while Fabric is still handling the pointer
    queueMicrotask(() => layer?.dispose());
    this.#container?.replaceChildren();
  }

  hostUpdated(): void {
    this.#draw();
  }

  /** Undefined while an artwork's picture is on its way. */
  stateOf(id: string): PictureState | undefined {
    return this.#states.get(id);
  }

  /** Forgets what was known of artworks that are gone or have another picture now. */
  placementsChanged(before: readonly StagePlacement[], now: readonly StagePlacement[]): void {
    const sourceIn = (all: readonly StagePlacement[], id: string) => all.find((one) => one.id === id)?.source;
    this.#states = new Map(
      [...this.#states].filter(
        ([id]) => now.some((one) => one.id === id) && sourceIn(before, id) === sourceIn(now, id),
      ),
    );
  }

  /** Takes the artwork out of the pointer's hold. */
  readonly release = (): void => this.#layer?.letGo();

  readonly #redraw = (): void => this.#host.requestUpdate();

  get #container(): HTMLElement | null {
    return this.#host.shadowRoot?.querySelector<HTMLElement>('.pictures') ?? null;
  }

  #draw(): void {
    const { scene, sizes, selected, readonly, isSized } = this.#input();
    if (!this.#layer) {
      if (scene.placements.length > 0) void this.#load();
      return;
    }
    if (!isSized) return;
    this.#layer.look(scene.camera, devicePixelRatio);
    const found = scene.find(selected);
    const hasFaults =
      found !== null &&
      isFaulty(placementFaults(found.placement, found.face, aspectOf(found.placement), sizes));
    this.#layer.show(
      scene.placements.map((placement) => pictureOf(scene, placement)),
      { id: selected, colors: this.#frameColors(hasFaults), readonly },
    );
  }

  /** From the style sheet; not read anew while a gesture runs, since that makes the browser work out all styles. */
  #frameColors(hasFaults: boolean): FrameColors {
    const container = this.#container;
    if (container && (!this.#colors || !this.#input().isGesturing)) {
      const { color, stroke, fill } = getComputedStyle(container);
      this.#colors = { line: color, fault: stroke, fill };
    }
    const { line, fault, fill } = this.#colors ?? { line: '', fault: '', fill: '' };
    return { line: hasFaults ? fault : line, fill };
  }

  async #load(): Promise<void> {
    if (this.#isLoading) return;
    this.#isLoading = true;
    try {
      const { FabricLayer } = await import('./canvas/fabric-layer.ts');
      if (!this.#host.isConnected || this.#layer) return;
      const canvas = document.createElement('canvas');
      this.#container?.replaceChildren(canvas);
      const { onPictureError, ...listener } = this.#listener;
      this.#layer = new FabricLayer(canvas, {
        ...listener,
        onPictureReady: (id) => this.#setState(id, 'ready'),
        onPictureFail: (id) => {
          this.#setState(id, 'failed');
          onPictureError(id);
        },
      });
      this.#host.requestUpdate();
    } catch {
      // the script did not arrive; the next change of the placements tries again
      for (const { id } of this.#input().scene.placements) this.#listener.onPictureError(id);
    } finally {
      this.#isLoading = false;
    }
  }

  #setState(id: string, state: PictureState): void {
    this.#states = new Map(this.#states).set(id, state);
    this.#host.requestUpdate();
  }
}

function pictureOf(scene: StageScene, placement: StagePlacement): Picture {
  const face = scene.faceOf(placement);
  const { id, source, raster, inkBox, widthMm, angleDeg } = placement;
  return {
    id,
    source,
    ink: inkBox
      ? {
          left: inkBox.left / raster.widthPx,
          top: inkBox.top / raster.heightPx,
          width: inkBox.width / raster.widthPx,
          height: inkBox.height / raster.heightPx,
        }
      : WHOLE,
    xMm: (face?.onView.xMm ?? 0) + placement.xMm,
    yMm: (face?.onView.yMm ?? 0) + placement.yMm,
    widthMm,
    heightMm: widthMm * aspectOf(placement),
    angleDeg,
  };
}
