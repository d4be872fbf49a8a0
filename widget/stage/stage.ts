import type { PropertyValues, TemplateResult } from 'lit';
import { html, LitElement, nothing } from 'lit';
import { repeat } from 'lit/directives/repeat.js';
import type { Face, View } from '../../src/catalog/index.ts';
import type { MessageFormat } from '../locales/message-format.ts';
import type { StageWords } from '../locales/stage-words.ts';
import { FileDropController } from './file-drop-controller.ts';
import { toMm } from './geometry/camera.ts';
import type { Point, Position } from './geometry/placement-math.ts';
import type { Live } from './geometry/stage-scene.ts';
import { StageScene } from './geometry/stage-scene.ts';
import type { StagePlacement } from './geometry/stage-types.ts';
import { NudgeController } from './nudge-controller.ts';
import { PictureController } from './picture-controller.ts';
import { PointerController } from './pointer-controller.ts';
import type { StageContext } from './stage-context.ts';
import { DEFAULT_SAY, DEFAULT_WORDS } from './stage-defaults.ts';
import {
  StageAddEvent,
  StagePictureErrorEvent,
  StagePlacementEvent,
  StageRemoveEvent,
  StageSelectEvent,
} from './stage-events.ts';
import { luminance } from './view/blank-svg.ts';
import { stageStyle } from './view/stage-style.ts';
import type { ItemHandlers } from './view/stage-view.ts';
import { addButton, areaNames, artworkItem, drawing, liveMeasures, rulers } from './view/stage-view.ts';

/** How long to wait before the new place is spoken. */
const SPEAK_MS = 600;
const DARK_CLOTH_BELOW = 0.16;

/**
 * One view of a blank, true to scale, with its artworks to be moved, scaled and turned.
 *
 * The slip's numbers go in by `placements`, what the customer does comes out by events; the stage keeps a number of its
 * own only while a gesture runs. The drawing, rulers and areas are there at once; Fabric is loaded with the first
 * artwork. Keys on a focused artwork: arrows (1 mm, Shift 10 mm; in inches 1/16 and 1/2), `+` `-` width (5 mm, 1/4 in),
 * `[` `]` turn (1 degree, with Shift 15), Delete removes, Escape deselects. While dragging, Alt ignores guides and Shift
 * keeps to one axis (moving), the center (scaling) or 15 degrees (turning).
 *
 * @fires platen-stage-input - an artwork's numbers while it is moved
 * @fires platen-stage-change - an artwork's numbers once it is released
 * @fires platen-stage-select - an artwork was selected, or none
 * @fires platen-stage-remove - the customer asks to take an artwork off
 * @fires platen-stage-drop - files were dropped
 * @fires platen-stage-add - the empty area was pressed
 * @fires platen-stage-picture-error - a picture cannot be shown
 */
export class PlatenStage extends LitElement {
  static override styles = stageStyle;
  static override properties = {
    view: { attribute: false },
    faces: { attribute: false },
    face: {},
    sizes: { attribute: false },
    clothHex: { attribute: 'cloth-hex' },
    placements: { attribute: false },
    selected: {},
    readonly: { type: Boolean, reflect: true },
    say: { attribute: false },
    words: { attribute: false },
    widthPx: { state: true },
    heightPx: { state: true },
    spoken: { state: true },
    isPointing: { state: true },
    hovered: { state: true },
  };

  /** The drawing. */
  view: View | null = null;
  /** Faces that lie on this view; those of other views are left out. */
  faces: readonly Face[] = [];
  /** Id of the face being decorated. */
  face = '';
  /** Sizes chosen, by id: the smallest area among them is drawn too. */
  sizes: readonly string[] = [];
  /** Cloth color, `#rrggbb`. */
  clothHex = '#ffffff';
  placements: readonly StagePlacement[] = [];
  /** Id of the selected placement, or null. */
  selected: string | null = null;
  /** Nothing can be moved; artworks can still be selected and read. */
  readonly = false;
  /** Language, units and names. */
  say: MessageFormat = DEFAULT_SAY;
  words: StageWords = DEFAULT_WORDS;

  private widthPx = 0;
  private heightPx = 0;
  private spoken = '';
  /** the last thing used was a pointer: no focus ring around what it selects. */
  private isPointing = false;
  private hovered: string | null = null;

  private live: Live | null = null;
  private isMeasuring = false;
  private resizes: ResizeObserver | null = null;
  private speakTimer = 0;

  private readonly context: StageContext = {
    scene: () => this.scene,
    selected: () => this.selected,
    isReadonly: () => this.readonly,
    units: () => this.say.units,
    isGesturing: () => this.pointers.isGesturing,
    toViewMm: ({ clientX, clientY }) => toMm(this.scene.camera, this.surfacePx(clientX, clientY)),
    show: (live, measuring) => {
      this.live = live;
      this.isMeasuring = measuring;
      this.requestUpdate();
    },
    select: (id) => this.select(id),
    focus: (id) => this.itemOf(id)?.focus({ preventScroll: true }),
    endBurst: () => this.nudges.endBurst(),
    report: (type, id, position, cause) =>
      this.dispatchEvent(new StagePlacementEvent(type, id, position, cause)),
    announce: (position) => this.announceSoon(position),
  };
  private readonly pointers = new PointerController(this, this.context, () => this.pictures.release());
  private readonly nudges = new NudgeController(this, this.context);
  private readonly pictures: PictureController = new PictureController(
    this,
    () => ({
      scene: this.scene,
      sizes: this.sizes,
      selected: this.selected,
      readonly: this.readonly,
      isGesturing: this.pointers.isGesturing,
      isSized: this.widthPx > 0 && this.heightPx > 0,
    }),
    {
      onSelect: (id) => {
        this.select(id);
        if (id !== null) this.context.focus(id);
      },
      onPress: (id, grip, event, at) => this.pointers.press(id, grip, event, at),
      onDrag: (event, at) => this.pointers.drag(event, at),
      onRelease: (event) => this.pointers.release(event),
      onTapEmpty: (event) => this.pressEmpty(event),
      onHover: (id, moved) => {
        this.hovered = id;
        this.nudges.hover(id, moved);
      },
      onWheel: (id, event) => this.nudges.wheel(id, event),
      onPictureError: (id) => this.dispatchEvent(new StagePictureErrorEvent(id)),
    },
  );

  private readonly files = new FileDropController(
    this,
    () => !this.readonly,
    ({ clientX, clientY }) => this.scene.faceAt(this.surfacePx(clientX, clientY)),
  );

  private get surface(): HTMLElement {
    return this.renderRoot.querySelector('.surface') as HTMLElement;
  }

  private get scene(): StageScene {
    const { view, faces, face, placements, live, widthPx, heightPx } = this;
    return new StageScene({ view, faces, face, placements, live, widthPx, heightPx });
  }

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.observe();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.resizes?.disconnect();
    this.resizes = null;
    clearTimeout(this.speakTimer);
  }

  protected override firstUpdated(): void {
    this.observe();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (!changed.has('placements')) return;
    const held = this.pointers.heldId;
    if (held !== null && !this.placements.some(({ id }) => id === held)) this.pointers.cancel();
    if (!this.pointers.isGesturing && !this.nudges.isRunning) this.live = null;
    this.pictures.placementsChanged(changed.get('placements') ?? [], this.placements);
  }

  protected override update(changed: PropertyValues<this>): void {
    const root = this.renderRoot as ShadowRoot;
    const hadFocus = root.activeElement !== null;
    super.update(changed);
    // an artwork taken off leaves the focus to another, or to the button for the next
    if (hadFocus && !root.activeElement) root.querySelector<HTMLElement>('.item, .add')?.focus();
  }

  protected override render(): TemplateResult {
    const { say, words, scene, pointers } = this;
    const language = { say, words };
    const { lang } = say.formatter;
    const isDark = luminance(this.clothHex) < DARK_CLOTH_BELOW;
    const measures = this.isMeasuring ? liveMeasures(scene, language, this.selected, this.live) : null;
    const hasItems = this.placements.length > 0;
    return html`
      <div class="sheet" lang=${lang}>
        ${rulers(scene, say, scene.find(this.selected)?.placement ?? null)}
        <div
          class="surface ${this.isPointing ? 'pointing' : ''}"
          @pointerdown=${this.onPointerDown}
          @pointermove=${pointers.onPointerMove}
          @pointerup=${pointers.onPointerUp}
          @pointercancel=${pointers.onPointerCancel}
          @lostpointercapture=${pointers.onPointerCancel}
          @touchstart=${this.touchStart}
          @contextmenu=${pointers.onContextMenu}
          @dragenter=${this.files.onDragOver}
          @dragover=${this.files.onDragOver}
          @dragleave=${this.files.onDragLeave}
          @drop=${this.files.onDrop}
        >
          ${drawing(scene, language, this.view, this.clothHex, isDark, this)}
          ${areaNames(scene, lang)}
          <div class="pictures"></div>
          <svg class="marks" aria-hidden="true">${measures?.lines ?? nothing}</svg>
          ${this.renderAdd(scene, isDark)}
          <div
            class="items"
            role=${hasItems ? 'application' : nothing}
            aria-label=${hasItems ? words.artworks : nothing}
            aria-describedby="keys"
          >
            ${repeat(
              scene.placements,
              ({ id }) => id,
              (placement) => this.renderItem(scene, placement),
            )}
          </div>
          ${measures?.tags ?? nothing}
          <div class="over ${this.files.isOver ? 'on' : ''}"></div>
        </div>
      </div>
      <p class="spoken" id="keys">${words.keys}</p>
      <p class="spoken" role="status">${this.spoken}</p>
    `;
  }

  private renderAdd(scene: StageScene, isDark: boolean) {
    const face = scene.activeFace;
    if (!face || this.readonly || this.placements.some((placement) => placement.face === face.id))
      return nothing;
    return addButton(scene, this.words, face, this.sizes, isDark, () =>
      this.dispatchEvent(new StageAddEvent(face.id)),
    );
  }

  private renderItem(scene: StageScene, placement: StagePlacement) {
    const { id } = placement;
    return artworkItem(
      scene,
      this,
      placement,
      this.sizes,
      {
        isSelected: id === this.selected,
        isHovered: id === this.hovered,
        picture: this.pictures.stateOf(id),
      },
      this.itemHandlers,
    );
  }

  private readonly itemHandlers: ItemHandlers = {
    // Enter, the space bar or a screen reader; pointers go to the canvas
    click: (event) => this.select(idOf(event)),
    focus: (event) => {
      if (!this.pointers.isGesturing) this.select(idOf(event));
    },
    blur: () => this.nudges.endBurst(),
    keydown: (event) => {
      this.isPointing = false;
      const id = idOf(event);
      if (id !== null)
        this.nudges.key(id, event, {
          cancel: () => this.pointers.cancel(),
          remove: (removed) => this.dispatchEvent(new StageRemoveEvent(removed)),
        });
    },
    keyup: (event) => {
      // Tab brings the focus from elsewhere: the ring is wanted then
      if (event.key === 'Tab') this.isPointing = false;
      this.nudges.keyUp(event);
    },
  };

  /* sizes */

  private observe(): void {
    if (this.resizes) return;
    this.resizes = new ResizeObserver(() => this.measure());
    // the device-pixel box also tells of a window moved to a denser screen
    try {
      this.resizes.observe(this.surface, { box: 'device-pixel-content-box' });
    } catch {
      this.resizes.observe(this.surface);
    }
    this.measure();
  }

  private measure(): void {
    const { clientWidth, clientHeight } = this.surface;
    this.widthPx = clientWidth;
    this.heightPx = clientHeight;
    this.requestUpdate();
  }

  /** A client point in px of the surface, whatever the page has done to its size. */
  private surfacePx(clientX: number, clientY: number): Point {
    const rect = this.surface.getBoundingClientRect();
    return {
      x: ((clientX - rect.left) * this.surface.offsetWidth) / (rect.width || 1),
      y: ((clientY - rect.top) * this.surface.offsetHeight) / (rect.height || 1),
    };
  }

  /* pointers */

  private onPointerDown = (event: PointerEvent): void => {
    this.isPointing = true;
    this.pointers.onPointerDown(event);
  };

  /** Not passive: it may keep the page from scrolling. */
  private readonly touchStart = {
    handleEvent: (event: TouchEvent): void => this.pointers.onTouchStart(event),
    passive: false,
  };

  /** A press that hit no artwork goes to the button beneath the canvas, if there is one. */
  private pressEmpty({ clientX, clientY }: PointerEvent): void {
    const add = this.renderRoot.querySelector<HTMLElement>('.add.over-artwork');
    const box = add?.getBoundingClientRect();
    if (!box || clientX < box.left || clientX > box.right || clientY < box.top || clientY > box.bottom)
      return;
    add?.click();
  }

  /* selection and speech */

  private select(id: string | null): void {
    if (this.selected === id) return;
    this.nudges.endBurst();
    this.selected = id;
    this.dispatchEvent(new StageSelectEvent(id));
  }

  /** Tells a screen reader the new place once things are still. */
  private announceSoon(position: Position): void {
    clearTimeout(this.speakTimer);
    this.speakTimer = window.setTimeout(() => {
      this.spoken = this.words.moved(this.say, position);
    }, SPEAK_MS);
  }

  private itemOf(id: string): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>(`.item[data-id="${CSS.escape(id)}"]`);
  }
}

const idOf = (event: Event): string | null => (event.currentTarget as HTMLElement).dataset['id'] ?? null;
