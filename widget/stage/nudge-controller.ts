import type { ReactiveController, ReactiveControllerHost } from 'lit';
import type { Position } from './geometry/placement-math.ts';
import { clampCenter, clampWidth, roundPosition, samePosition } from './geometry/placement-math.ts';
import { positionOf } from './geometry/stage-scene.ts';
import type { StageContext } from './stage-context.ts';
import type { PlacementCause } from './stage-events.ts';
import { keyAction } from './stage-keys.ts';

/** Keys or wheel turns count as one change when nothing follows for so long. */
const BURST_MS = 500;
/** Change of width by one notch of a mouse wheel, as a share. */
const WHEEL_SHARE = 0.04;

type Burst = {
  readonly id: string;
  readonly start: Position;
  readonly position: Position;
  readonly cause: PlacementCause;
  readonly timer: number;
};

/** Steps by keys and by the wheel. */
export class NudgeController implements ReactiveController {
  readonly #stage: StageContext;
  #burst: Burst | null = null;
  /** The mouse itself was moved onto the selected artwork: the wheel may scale it. */
  #isWheelArmed = false;
  #hovered: string | null = null;

  constructor(host: ReactiveControllerHost, stage: StageContext) {
    this.#stage = stage;
    host.addController(this);
  }

  hostDisconnected(): void {
    this.endBurst();
  }

  get isRunning(): boolean {
    return this.#burst !== null;
  }

  /** The mouse is over this artwork; `moved` is false when the page was scrolled beneath it. */
  hover(id: string | null, moved: boolean): void {
    if (moved) this.#isWheelArmed = id !== null && id === this.#stage.selected();
    else if (id !== this.#hovered) this.#isWheelArmed = false;
    this.#hovered = id;
  }

  /** Scales the selected artwork under the mouse; any other turn of the wheel is the page's. */
  wheel(id: string | null, event: WheelEvent): void {
    const stage = this.#stage;
    const found = id !== null && id === stage.selected() ? stage.scene().find(id) : null;
    if (!found) this.#isWheelArmed = false;
    const isWanted = event.ctrlKey || this.#isWheelArmed;
    if (!found || !isWanted || stage.isReadonly() || stage.isGesturing()) return;
    event.preventDefault();
    if (event.deltaY === 0) return;
    // a notch of a wheel is about 100 px; a pinch on a touchpad comes as small steps with Ctrl
    const pixels = event.deltaMode === 0 ? event.deltaY : event.deltaY * 33;
    const notches = Math.max(-3, Math.min(3, event.ctrlKey ? pixels / 8 : pixels / 100));
    const { placement } = found;
    const widthMm = clampWidth(placement.widthMm * (1 - WHEEL_SHARE) ** notches);
    this.#nudge(placement.id, { ...positionOf(placement), widthMm }, 'wheel');
  }

  /** A key on an artwork's element. What is handled here is no shortcut of the page around the slip. */
  key(id: string, event: KeyboardEvent, actions: { cancel(): void; remove(id: string): void }): void {
    const stage = this.#stage;
    const placement = stage.scene().find(id)?.placement;
    if (!placement) return;
    const command = event.metaKey || ((event.ctrlKey || event.altKey) && !event.getModifierState('AltGraph'));
    const press = { key: event.key, shift: event.shiftKey, command };
    const action = keyAction(press, positionOf(placement), stage.units());
    if (!action) return;
    if (action.kind === 'escape') {
      if (stage.isGesturing()) {
        event.preventDefault();
        event.stopPropagation();
        actions.cancel();
      } else if (stage.selected() !== null) {
        // deselects the artwork instead of closing a dialog the slip may be in
        event.preventDefault();
        stage.select(null);
      }
      return;
    }
    if (stage.isReadonly() || stage.isGesturing()) return;
    event.preventDefault();
    event.stopPropagation();
    if (action.kind === 'remove') {
      this.endBurst();
      actions.remove(id);
      return;
    }
    stage.select(id);
    this.#nudge(id, action.position, 'keys');
  }

  keyUp(event: KeyboardEvent): void {
    if (this.#burst?.cause === 'keys' && event.key !== 'Shift') this.endBurst();
  }

  readonly endBurst = (): void => {
    const burst = this.#burst;
    if (!burst) return;
    clearTimeout(burst.timer);
    this.#burst = null;
    const { id, start, position, cause } = burst;
    this.#stage.show({ id, snapped: { position, guideX: null, guideY: null, usual: null } }, false);
    if (samePosition(position, start)) return;
    this.#stage.report('platen-stage-change', id, position, cause);
    this.#stage.announce(position);
  };

  /** One step; steps that follow each other are one change. */
  #nudge(id: string, target: Position, cause: PlacementCause): void {
    const scene = this.#stage.scene();
    if (this.#burst && (this.#burst.id !== id || this.#burst.cause !== cause)) this.endBurst();
    const found = scene.find(id);
    if (!found) return;
    const before = positionOf(found.placement);
    const position = roundPosition(clampCenter(target, scene.reachOf(found.face)), before);
    clearTimeout(this.#burst?.timer);
    const timer = window.setTimeout(this.endBurst, BURST_MS);
    this.#burst = { id, start: this.#burst?.start ?? before, position, cause, timer };
    const guideX = position.xMm === 0 ? 0 : null;
    this.#stage.show({ id, snapped: { position, guideX, guideY: null, usual: null } }, true);
    this.#stage.report('platen-stage-input', id, position, cause);
  }
}
