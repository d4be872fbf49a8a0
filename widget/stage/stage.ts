import type { PropertyValues, TemplateResult } from 'lit';
import { html, LitElement, nothing } from 'lit';
import { guard } from 'lit/directives/guard.js';
import { repeat } from 'lit/directives/repeat.js';
import type { Face, View } from '../../src/catalog/index.ts';
import { pickText } from '../../src/pick-text.ts';
import { Formatter } from '../format/index.ts';
import { MessageFormat } from '../locales/message-format.ts';
import type { StageWords } from '../locales/stage-words.ts';
import { blankSvg, luminance } from './blank-svg.ts';
import type { Camera } from './camera.ts';
import { expandBounds, fitCamera, toMm, toPx, unionBounds } from './camera.ts';
import type { FabricLayer, Picture } from './fabric-layer.ts';
import { areaOnView, faceMarks, measureMarks, rulerSvg, tag } from './marks.ts';
import type { Bounds, Corner, Point, Position } from './placement-math.ts';
import {
  clampCenter,
  intersectsBox,
  isInsideArea,
  rotatedBounds,
  rounded,
  samePosition,
  smallestArea,
} from './placement-math.ts';
import type { Snapped } from './snap.ts';
import { withoutGuides } from './snap.ts';
import type { PlacementCause } from './stage-events.ts';
import {
  StageAddEvent,
  StageDropEvent,
  StagePictureErrorEvent,
  StagePlacementEvent,
  StageRemoveEvent,
  StageSelectEvent,
} from './stage-events.ts';
import { Gesture } from './stage-gestures.ts';
import { keyAction } from './stage-keys.ts';
import { stageStyle } from './stage-style.ts';
import type { StagePlacement } from './stage-types.ts';
import { aspectOf } from './stage-types.ts';
import { styleProperties } from './style-properties.ts';

/** Room of the rulers, px; the style sheet's grid has the same. */
const RULER_TOP_PX = 24;
const RULER_LEFT_PX = 30;
/** How near an artwork must be to be drawn to a line, px. */
const SNAP_PX = 7;
/** A burst of keys or wheel turns counts as one change when nothing follows for so long. */
const BURST_MS = 500;
/** How long to wait before the new place is spoken. */
const SPEAK_MS = 600;
/** Width of one notch of a mouse wheel, as a share. */
const WHEEL_SHARE = 0.04;
const DARK_CLOTH_BELOW = 0.16;

const CORNERS: readonly Corner[] = [
  { x: -1, y: -1 },
  { x: 1, y: -1 },
  { x: 1, y: 1 },
  { x: -1, y: 1 },
];
const CORNER_CURSORS = ['nwse-resize', 'ns-resize', 'nesw-resize', 'ew-resize'] as const;

/** Until a language is given the stage says names and figures alone. */
const SILENT: StageWords = {
  drawing: (_say, view) => view,
  artworks: '',
  keys: '',
  artwork: (say, p) => `${p.name}, ${p.face}, ${say.size(p.widthMm, p.heightMm)}`,
  moved: (say, p) => say.len(p.widthMm),
  wide: (say, widthMm) => say.len(widthMm),
  outside: '!',
  inKeepOut: (_say, name) => name,
  loading: '…',
  failed: '!',
  dropHere: '+',
  chooseFile: '',
};
const DEFAULT_SAY = new MessageFormat(new Formatter('en'), 'mm', 'USD');

/**
 * One view of a blank, true to scale, with its artworks to be moved, scaled and turned.
 *
 * The slip's numbers go in by `placements`, what the customer does comes out by events; the stage keeps a number of its
 * own only while a gesture runs. The drawing, rulers and areas are there at once; Fabric is loaded with the first
 * artwork. Keys on a focused artwork: arrows (1 mm, Shift 10 mm; in inches 1/16 and 1/2), `+` `-` width (5 mm, 1/4 in),
 * `[` `]` turn (1 degree, with Shift 15), Delete removes, Escape lets go. While dragging, Alt ignores guides and Shift keeps
 * to one axis (moving), the center (scaling) or 15 degrees (turning).
 *
 * @fires platen-stage-input - an artwork's numbers while it is moved
 * @fires platen-stage-change - an artwork's numbers once it is let go
 * @fires platen-stage-select - an artwork was picked, or none
 * @fires platen-stage-remove - an artwork shall be taken off
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
    fileOver: { state: true },
    spoken: { state: true },
    pointing: { state: true },
    pictureState: { state: true },
  };

  /** The drawing. */
  view: View | null = null;
  /** Faces that lie on this view; those of other views are left out. */
  faces: readonly Face[] = [];
  /** Id of the face being decorated. */
  face = '';
  /** Sizes chosen, by id: the tightest area among them is drawn too. */
  sizes: readonly string[] = [];
  /** Cloth color, `#rrggbb`. */
  clothHex = '#ffffff';
  placements: readonly StagePlacement[] = [];
  /** Id of the picked placement, or null. */
  selected: string | null = null;
  /** Nothing can be moved; artworks can still be picked and read. */
  readonly = false;
  /** Language, units and names. */
  say: MessageFormat = DEFAULT_SAY;
  words: StageWords = SILENT;

  private widthPx = 0;
  private heightPx = 0;
  private fileOver = false;
  private spoken = '';
  /** the last thing used was a pointer: no focus ring around what it grabs. */
  private pointing = false;
  /** pictures that are there, and those that cannot be had. */
  private pictureState: ReadonlyMap<string, 'ready' | 'failed'> = new Map();

  private get surface(): HTMLElement {
    return this.renderRoot.querySelector('.surface') as HTMLElement;
  }
  private get pictureHost(): HTMLElement | null {
    return this.renderRoot?.querySelector('.pictures') ?? null;
  }

  private gesture: Gesture | null = null;
  /** numbers shown in place of the property's: during a gesture, and until the property follows. */
  private live: { readonly id: string; readonly snapped: Snapped } | null = null;
  /** keys or wheel turns not yet told as a change. */
  private burst: { id: string; start: Position; cause: PlacementCause; timer: number } | null = null;
  private measuring = false;
  private layer: FabricLayer | null = null;
  private layerLoading = false;
  private resizes: ResizeObserver | null = null;
  private speakTimer = 0;
  private wheelArmed = false;
  private justGestured = false;

  override connectedCallback(): void {
    super.connectedCallback();
    if (this.hasUpdated) this.observe();
  }

  override disconnectedCallback(): void {
    super.disconnectedCallback();
    this.cancelGesture();
    this.endBurst();
    this.resizes?.disconnect();
    this.resizes = null;
    clearTimeout(this.speakTimer);
    this.layer?.dispose();
    this.layer = null;
    this.pictureHost?.replaceChildren();
    this.pictureState = new Map();
  }

  protected override firstUpdated(): void {
    // not in the template: a wheel that may be refused must not be passive
    this.surface.addEventListener('wheel', this.onWheel, { passive: false });
    this.observe();
  }

  protected override willUpdate(changed: PropertyValues<this>): void {
    if (changed.has('placements')) {
      const ids = new Set(this.placements.map((placement) => placement.id));
      if (this.gesture && !ids.has(this.gesture.subject.id)) this.cancelGesture();
      if (!this.gesture && !this.burst) this.live = null;
      const known = [...this.pictureState].filter(([id]) => ids.has(id));
      const before = changed.get('placements');
      const kept = known.filter(([id]) => sourceOf(before, id) === sourceOf(this.placements, id));
      if (kept.length !== this.pictureState.size) this.pictureState = new Map(kept);
    }
  }

  protected override update(changed: PropertyValues<this>): void {
    const root = this.renderRoot as ShadowRoot;
    const had = root.activeElement;
    super.update(changed);
    // an artwork taken off leaves the focus to another, or to the place for the next
    if (had && !root.activeElement) root.querySelector<HTMLElement>('.item, .add')?.focus();
  }

  protected override updated(): void {
    this.paint();
  }

  protected override render(): TemplateResult {
    const { view, words, say } = this;
    const camera = this.camera;
    const active = this.activeFace;
    const lang = say.formatter.lang;
    const chosen = this.shown(this.selected);
    const isDark = luminance(this.clothHex) < DARK_CLOTH_BELOW;
    const shownMeasures = this.measuring && chosen ? this.renderMeasures(camera, chosen) : null;
    return html`
      <div class="sheet" lang=${lang}>
        ${this.renderRulers(camera, active, chosen)}
        <div
          class="surface ${this.pointing ? 'pointing' : ''}"
          @pointerdown=${this.onPointerDown}
          @pointermove=${this.onPointerMove}
          @pointerup=${this.onPointerUp}
          @pointercancel=${this.onPointerCancel}
          @lostpointercapture=${this.onPointerCancel}
          @click=${this.onClick}
          @contextmenu=${this.onContextMenu}
          @dragenter=${this.onDragOver}
          @dragover=${this.onDragOver}
          @dragleave=${this.onDragLeave}
          @drop=${this.onDrop}
        >
          <svg
            class="drawing"
            role="img"
            aria-label=${view ? words.drawing(say, pickText(view.name, lang)) : nothing}
            viewBox="${camera.leftMm} ${camera.topMm} ${camera.widthPx / camera.pxPerMm} ${camera.heightPx / camera.pxPerMm}"
            preserveAspectRatio="xMidYMid meet"
          >
            ${guard([view, this.clothHex], () => (view ? blankSvg(view, this.clothHex) : nothing))}
            <g class=${isDark ? 'dark' : ''}>
              ${guard([this.facesHere, this.sizes, this.face, camera.pxPerMm], () =>
                this.facesHere.map((face) =>
                  faceMarks(face, smallestArea(face, this.sizes), face.id === active?.id, camera.pxPerMm),
                ),
              )}
            </g>
          </svg>
          ${this.renderNames(camera, active)}
          <div class="pictures"></div>
          <svg class="marks" aria-hidden="true">${shownMeasures?.lines ?? nothing}</svg>
          ${this.renderAdd(camera, active, isDark)}
          <div
            class="items"
            role=${this.placements.length > 0 ? 'application' : nothing}
            aria-label=${this.placements.length > 0 ? words.artworks : nothing}
            aria-describedby="keys"
          >
            ${repeat(
              this.placementsHere,
              (placement) => placement.id,
              (placement) => this.renderItem(camera, placement),
            )}
            ${chosen && !this.readonly ? this.renderFrame(camera, chosen) : nothing}
          </div>
          ${shownMeasures?.tags ?? nothing}
          <div class="over ${this.fileOver ? 'on' : ''}"></div>
        </div>
      </div>
      <p class="spoken" id="keys">${words.keys}</p>
      <p class="spoken" role="status">${this.spoken}</p>
    `;
  }

  private renderRulers(camera: Camera, active: Face | null, chosen: StagePlacement | null) {
    const { say } = this;
    const zero = toPx(camera, active ? { x: active.onView.xMm, y: active.onView.yMm } : { x: 0, y: 0 });
    const box = chosen ? this.boundsPx(camera, chosen) : null;
    const one = (side: 'top' | 'left') => {
      const top = side === 'top';
      const length = top ? camera.widthPx : camera.heightPx;
      const thickness = (top ? RULER_TOP_PX : RULER_LEFT_PX) - 1;
      const at = top ? zero.x : zero.y;
      const span = box ? (top ? ([box.left, box.right] as const) : ([box.top, box.bottom] as const)) : null;
      return html`<svg class="ruler ${side}" aria-hidden="true">
        ${guard([length, at, camera.pxPerMm, say, span?.[0], span?.[1]], () =>
          rulerSvg(side, length, thickness, at, camera.pxPerMm, say.units, say.formatter, span),
        )}
      </svg>`;
    };
    return html`<div class="corner" aria-hidden="true">${say.formatter.unitName(say.units)}</div>
      ${one('top')}${one('left')}`;
  }

  private renderNames(camera: Camera, active: Face | null) {
    const lang = this.say.formatter.lang;
    const taken = this.placementsHere.map((placement) =>
      this.boundsPx(camera, this.shown(placement.id) ?? placement),
    );
    return this.facesHere.map((face) => {
      const area = areaOnView(face, face);
      const at = toPx(camera, { x: area.left, y: area.top });
      const name = pickText(face.name, lang);
      if (face.id === active?.id) return tag('active', { x: at.x, y: at.y - 2 }, { x: 0, y: 1 }, name);
      // the other areas are named where their name has room and lies under no artwork
      const to = toPx(camera, { x: area.right, y: area.bottom });
      const free = taken.every(
        (box) => box.right < at.x || box.left > to.x || box.bottom < at.y || box.top > to.y,
      );
      return free && to.x - at.x >= 60
        ? tag('', { x: at.x + 2, y: at.y + 2 }, { x: 0, y: 0 }, name)
        : nothing;
    });
  }

  private renderMeasures(camera: Camera, chosen: StagePlacement) {
    const face = this.faceOf(chosen);
    if (!face) return null;
    const snapped = this.live?.id === chosen.id ? this.live.snapped : withoutGuides(chosen);
    const usual = face.usual.find((one) => one.id === snapped.usual);
    const lang = this.say.formatter.lang;
    return measureMarks(
      camera,
      face,
      chosen,
      snapped,
      this.boundsPx(camera, chosen),
      usual ? pickText(usual.name, lang) : null,
      this.words,
      this.say,
    );
  }

  private renderAdd(camera: Camera, active: Face | null, isDark: boolean) {
    if (!active || this.readonly || this.placements.some((placement) => placement.face === active.id))
      return nothing;
    const area = areaOnView(active, smallestArea(active, this.sizes));
    const from = toPx(camera, { x: area.left, y: area.top });
    const width = (area.right - area.left) * camera.pxPerMm;
    const height = (area.bottom - area.top) * camera.pxPerMm;
    return html`<button
      type="button"
      class="add ${isDark ? 'dark' : ''}"
      dir="auto"
      ${styleProperties({
        width: `${Math.max(24, width)}px`,
        height: `${Math.max(24, height)}px`,
        transform: `translate(${from.x}px, ${from.y}px)`,
        '--_add-ink': isDark ? '#f4f1ea' : '#262a34',
      })}
      aria-label="${this.words.dropHere} ${this.words.chooseFile}"
      @click=${(event: Event) => {
        event.stopPropagation();
        this.dispatchEvent(new StageAddEvent(active.id));
      }}
    >
      ${width > 90 && height > 40 ? html`<span>${this.words.dropHere}</span><small>${this.words.chooseFile}</small>` : '+'}
    </button>`;
  }

  private renderItem(camera: Camera, placement: StagePlacement) {
    const { words, say } = this;
    const shown = this.shown(placement.id) ?? placement;
    const face = this.faceOf(placement);
    if (!face) return nothing;
    const aspect = aspectOf(placement);
    const faults = this.faultsOf(shown, face, aspect);
    const picture = this.pictureState.get(placement.id);
    const notes = [...faults, ...(picture === 'failed' ? [words.failed] : picture ? [] : [words.loading])];
    const label = words.artwork(say, {
      ...shown,
      heightMm: shown.widthMm * aspect,
      face: pickText(face.name, say.formatter.lang),
    });
    const isSelected = placement.id === this.selected;
    const classes = [
      'item',
      isSelected ? 'selected' : '',
      isSelected && this.gesture?.moved ? 'moving' : '',
      faults.length > 0 ? 'outside' : '',
      picture === 'failed' ? 'failed' : picture ? '' : 'waiting',
    ];
    const place = placedBox(camera, face, shown, aspect);
    return html`<button
      type="button"
      class=${classes.filter(Boolean).join(' ')}
      data-id=${placement.id}
      aria-pressed=${isSelected}
      aria-label=${[label, ...notes].join(', ')}
      ${styleProperties({
        ...place.style,
        '--_reach': `${Math.min(0, (place.heightPx - 24) / 2)}px ${Math.min(0, (place.widthPx - 24) / 2)}px`,
      })}
      @focus=${this.onItemFocus}
      @blur=${this.endBurst}
      @keydown=${this.onKeyDown}
      @keyup=${this.onKeyUp}
      @pointerenter=${this.onItemLeave}
      @pointerleave=${this.onItemLeave}
    ></button>`;
  }

  private renderFrame(camera: Camera, chosen: StagePlacement) {
    const face = this.faceOf(chosen);
    if (!face) return nothing;
    const aspect = aspectOf(chosen);
    const place = placedBox(camera, face, chosen, aspect);
    const faulty = this.faultsOf(chosen, face, aspect).length > 0;
    // handles stand off small artworks, so that the middle stays free to grab
    const off = Math.max(0, 15 - Math.min(place.widthPx, place.heightPx) / 4);
    const stalk = 24 + off;
    // the turning handle goes below when there is no room above
    const above = upPoint(camera, face, chosen, aspect, stalk).y > 14;
    return html`<div class="frame ${faulty ? 'outside' : ''}" ${styleProperties(place.style)} aria-hidden="true">
      <div
        class="stalk"
        ${styleProperties({ height: `${stalk}px`, [above ? 'bottom' : 'top']: '100%', [above ? 'top' : 'bottom']: 'auto' })}
      ></div>
      ${CORNERS.map(
        (corner, i) => html`<div
          class="handle"
          data-corner=${i}
          ${styleProperties({
            left: corner.x < 0 ? `${-off}px` : `calc(100% + ${off}px)`,
            top: corner.y < 0 ? `${-off}px` : `calc(100% + ${off}px)`,
            cursor: cornerCursor(corner, chosen.angleDeg),
          })}
        ></div>`,
      )}
      <div
        class="handle turn"
        data-turn
        ${styleProperties({
          left: '50%',
          top: above ? `${-stalk}px` : `calc(100% + ${stalk}px)`,
          cursor: this.gesture?.kind === 'turn' ? 'grabbing' : 'grab',
        })}
      ></div>
    </div>`;
  }

  /* what is where */

  private get camera(): Camera {
    const whole = this.viewBounds;
    const look = expandBounds(whole, Math.max(whole.right - whole.left, whole.bottom - whole.top) * 0.025);
    return fitCamera(look, Math.max(1, this.widthPx), Math.max(1, this.heightPx));
  }

  private get facesHere(): readonly Face[] {
    const id = this.view?.id;
    if (this.facesMemo.of !== this.faces || this.facesMemo.view !== id)
      this.facesMemo = {
        of: this.faces,
        view: id,
        faces: this.faces.filter((face) => face.onView.view === id),
      };
    return this.facesMemo.faces;
  }
  private facesMemo: { of: readonly Face[] | null; view: string | undefined; faces: readonly Face[] } = {
    of: null,
    view: undefined,
    faces: [],
  };

  private get activeFace(): Face | null {
    return this.facesHere.find((face) => face.id === this.face) ?? this.facesHere[0] ?? null;
  }

  private faceOf(placement: StagePlacement): Face | null {
    return this.facesHere.find((face) => face.id === placement.face) ?? null;
  }

  private get placementsHere(): readonly StagePlacement[] {
    return this.placements.filter((placement) => this.faceOf(placement));
  }

  /** The placement with the numbers now shown; null when it is not on this view. */
  private shown(id: string | null): StagePlacement | null {
    const placement = this.placements.find((one) => one.id === id);
    if (!placement || !this.faceOf(placement)) return null;
    return this.live?.id === id ? { ...placement, ...this.live.snapped.position } : placement;
  }

  private boundsPx(camera: Camera, placement: StagePlacement): Bounds {
    const face = this.faceOf(placement);
    const box = rotatedBounds(placement, aspectOf(placement));
    const x = face?.onView.xMm ?? 0;
    const y = face?.onView.yMm ?? 0;
    const from = toPx(camera, { x: x + box.left, y: y + box.top });
    const to = toPx(camera, { x: x + box.right, y: y + box.bottom });
    return { left: from.x, top: from.y, right: to.x, bottom: to.y };
  }

  private faultsOf(position: Position, face: Face, aspect: number): string[] {
    const faults: string[] = [];
    if (!isInsideArea(position, aspect, smallestArea(face, this.sizes))) faults.push(this.words.outside);
    for (const keepOut of face.keepOuts) {
      const box = {
        left: keepOut.xMm,
        top: keepOut.yMm,
        right: keepOut.xMm + keepOut.widthMm,
        bottom: keepOut.yMm + keepOut.heightMm,
      };
      if (intersectsBox(position, aspect, box))
        faults.push(this.words.inKeepOut(this.say, pickText(keepOut.name, this.say.formatter.lang)));
    }
    return faults;
  }

  /** Everything there is to see of this view, in its mm. */
  private get viewBounds(): Bounds {
    const whole = { left: 0, top: 0, right: this.view?.widthMm ?? 1, bottom: this.view?.heightMm ?? 1 };
    return this.facesHere.reduce((box, face) => unionBounds(box, areaOnView(face, face)), whole);
  }

  /** Where a center may go, in a face's mm: nowhere out of sight. */
  private reachOf(face: Face): Bounds {
    const box = this.viewBounds;
    const { xMm, yMm } = face.onView;
    return { left: box.left - xMm, top: box.top - yMm, right: box.right - xMm, bottom: box.bottom - yMm };
  }

  /** A client point in px of the surface, whatever the page has done to its size. */
  private surfacePx(clientX: number, clientY: number): Point {
    const rect = this.surface.getBoundingClientRect();
    return {
      x: ((clientX - rect.left) * this.surface.offsetWidth) / (rect.width || 1),
      y: ((clientY - rect.top) * this.surface.offsetHeight) / (rect.height || 1),
    };
  }

  private faceMm(face: Face, px: Point): Point {
    const mm = toMm(this.camera, px);
    return { x: mm.x - face.onView.xMm, y: mm.y - face.onView.yMm };
  }

  /* the look */

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

  /* pictures */

  private paint(): void {
    if (!this.layer) {
      if (this.placementsHere.some((placement) => placement.source !== null)) void this.loadLayer();
      return;
    }
    if (this.widthPx === 0 || this.heightPx === 0) return;
    this.layer.look(this.camera, devicePixelRatio);
    this.layer.show(this.placementsHere.map((placement) => this.picture(placement)));
  }

  private picture(placement: StagePlacement): Picture {
    const shown = this.shown(placement.id) ?? placement;
    const face = this.faceOf(placement);
    const { raster, inkBox } = placement;
    return {
      id: placement.id,
      source: placement.source,
      ink: inkBox
        ? {
            left: inkBox.left / raster.widthPx,
            top: inkBox.top / raster.heightPx,
            width: inkBox.width / raster.widthPx,
            height: inkBox.height / raster.heightPx,
          }
        : WHOLE,
      xMm: (face?.onView.xMm ?? 0) + shown.xMm,
      yMm: (face?.onView.yMm ?? 0) + shown.yMm,
      widthMm: shown.widthMm,
      heightMm: shown.widthMm * aspectOf(placement),
      angleDeg: shown.angleDeg,
    };
  }

  private async loadLayer(): Promise<void> {
    if (this.layerLoading) return;
    this.layerLoading = true;
    try {
      const { FabricLayer } = await import('./fabric-layer.ts');
      if (!this.isConnected || this.layer) return;
      const canvas = document.createElement('canvas');
      this.pictureHost?.replaceChildren(canvas);
      this.layer = new FabricLayer(
        canvas,
        (id) => this.setPicture(id, 'ready'),
        (id) => {
          this.setPicture(id, 'failed');
          this.dispatchEvent(new StagePictureErrorEvent(id));
        },
      );
      this.requestUpdate();
    } catch {
      // the script did not arrive; the next change of the placements tries again
      for (const placement of this.placementsHere)
        this.dispatchEvent(new StagePictureErrorEvent(placement.id));
    } finally {
      this.layerLoading = false;
    }
  }

  private setPicture(id: string, is: 'ready' | 'failed'): void {
    if (this.pictureState.get(id) === is) this.requestUpdate();
    else this.pictureState = new Map(this.pictureState).set(id, is);
  }

  /* pointers */

  private onPointerDown = (event: PointerEvent): void => {
    this.justGestured = false;
    this.pointing = true;
    const target = event.target as Element;
    if (this.gesture) {
      this.join(event);
      return;
    }
    if (event.button !== 0 || this.readonly) return;
    const handle = target.closest<HTMLElement>('.handle');
    const item = target.closest<HTMLElement>('.item');
    const id = handle ? this.selected : (item?.dataset.id ?? null);
    if (id === null) return;
    // a finger first picks by a tap; only what is picked follows it, so that a swipe scrolls the page
    if (event.pointerType === 'touch' && !handle && id !== this.selected) return;
    const placement = this.placements.find((one) => one.id === id);
    const face = placement && this.faceOf(placement);
    if (!placement || !face) return;
    this.endBurst();
    this.select(id);
    const element = item ?? this.itemOf(id);
    element?.focus({ preventScroll: true });
    event.preventDefault(); // no text selection, no native drag
    const corner = CORNERS[Number(handle?.dataset.corner)] ?? null;
    const kind = handle ? (corner ? 'scale' : 'turn') : 'move';
    const shown = this.shown(id) ?? placement;
    const start = { xMm: shown.xMm, yMm: shown.yMm, widthMm: shown.widthMm, angleDeg: shown.angleDeg };
    this.gesture = new Gesture(
      kind,
      {
        id,
        start,
        aspect: aspectOf(placement),
        usual: face.usual,
        reach: this.reachOf(face),
        snapMm: SNAP_PX / this.camera.pxPerMm,
      },
      event.pointerType,
      corner,
    );
    this.join(event);
  };

  private join(event: PointerEvent): void {
    const gesture = this.gesture;
    const face = gesture && this.faceById(gesture.subject.id);
    if (!gesture || !face || gesture.pointerCount >= 2) return;
    const px = this.surfacePx(event.clientX, event.clientY);
    gesture.add(event.pointerId, px, this.faceMm(face, px));
    this.surface.setPointerCapture(event.pointerId);
  }

  private faceById(placementId: string): Face | null {
    const placement = this.placements.find((one) => one.id === placementId);
    return placement ? this.faceOf(placement) : null;
  }

  private onPointerMove = (event: PointerEvent): void => {
    // a true movement over the picked artwork lets the wheel scale it; a page scrolled beneath a still mouse does not
    if (event.movementX !== 0 || event.movementY !== 0)
      this.wheelArmed =
        this.selected !== null &&
        (event.target as Element).closest<HTMLElement>('.item')?.dataset.id === this.selected;
    const { gesture } = this;
    if (!gesture?.holds(event.pointerId)) return;
    const face = this.faceById(gesture.subject.id);
    if (!face) return;
    const px = this.surfacePx(event.clientX, event.clientY);
    const keys = { free: event.altKey, steady: event.shiftKey };
    if (!gesture.move(event.pointerId, px, this.faceMm(face, px), keys)) return;
    this.measuring = true;
    this.showLive(gesture.subject.id, gesture.snapped);
    this.tell('platen-stage-input', gesture.subject.id, gesture.result, gesture.kind);
  };

  private onPointerUp = (event: PointerEvent): void => {
    const { gesture } = this;
    if (!gesture?.holds(event.pointerId)) return;
    gesture.remove(event.pointerId);
    this.justGestured = true;
    if (gesture.pointerCount > 0) return;
    this.gesture = null;
    this.measuring = false;
    const { id, start } = gesture.subject;
    const result = gesture.result;
    if (samePosition(result, start)) this.live = null;
    else {
      this.showLive(id, withoutGuides(result));
      this.tell('platen-stage-change', id, result, gesture.kind);
      this.speakSoon(result);
    }
    this.requestUpdate();
  };

  private onPointerCancel = (event: PointerEvent): void => {
    if (this.gesture?.holds(event.pointerId)) this.cancelGesture();
  };

  /** Ends the running gesture as if it had never been. */
  private cancelGesture(): void {
    const { gesture } = this;
    if (!gesture) return;
    this.gesture = null;
    this.measuring = false;
    this.live = null;
    this.justGestured = true;
    if (gesture.moved) this.tell('platen-stage-input', gesture.subject.id, gesture.subject.start, 'cancel');
    this.requestUpdate();
  }

  private onClick = (event: MouseEvent): void => {
    // the click that ends a drag is not a click on the empty drawing
    const ends = this.justGestured && event.detail !== 0; // a key's click has no detail
    this.justGestured = false;
    if (ends) return;
    const target = event.target as Element;
    const item = target.closest<HTMLElement>('.item');
    if (item) {
      this.select(item.dataset.id ?? null);
      item.focus({ preventScroll: true });
    } else if (!target.closest('.handle')) this.select(null);
  };

  private onContextMenu = (event: Event): void => {
    // a long press while holding an artwork
    if (this.gesture) event.preventDefault();
  };

  private onWheel = (event: WheelEvent): void => {
    const id = (event.target as Element).closest<HTMLElement>('.item')?.dataset.id;
    const over = id !== undefined && id === this.selected;
    if (!over || this.readonly || this.gesture || !(event.ctrlKey || this.wheelArmed)) {
      if (!over) this.wheelArmed = false;
      return;
    }
    event.preventDefault();
    const placement = this.shown(id);
    const face = placement && this.faceOf(placement);
    if (!placement || !face || event.deltaY === 0) return;
    // a notch of a wheel is about 100 px; a pinch on a touchpad comes as small steps with Ctrl
    const pixels = event.deltaMode === 0 ? event.deltaY : event.deltaY * 33;
    const notches = Math.max(-3, Math.min(3, event.ctrlKey ? pixels / 8 : pixels / 100));
    const widthMm = Math.min(3000, Math.max(5, placement.widthMm * (1 - WHEEL_SHARE) ** notches));
    this.nudge(id, { ...positionOf(placement), widthMm }, 'wheel');
  };

  private onItemLeave = (): void => {
    this.wheelArmed = false;
  };

  /* keys */

  private onItemFocus = (event: FocusEvent): void => {
    const id = (event.target as HTMLElement).dataset.id;
    if (id !== undefined && !this.gesture) this.select(id);
  };

  /** Tab brings the focus from elsewhere: the ring is wanted then. */
  private onKeyUp = (event: KeyboardEvent): void => {
    if (event.key === 'Tab') this.pointing = false;
    if (this.burst?.cause === 'keys' && event.key !== 'Shift') this.endBurst();
  };

  private onKeyDown = (event: KeyboardEvent): void => {
    this.pointing = false;
    const id = (event.target as HTMLElement).dataset.id;
    const placement = this.shown(id ?? null);
    if (id === undefined || !placement) return;
    const command = event.metaKey || ((event.ctrlKey || event.altKey) && !event.getModifierState('AltGraph'));
    const action = keyAction(
      { key: event.key, shift: event.shiftKey, command },
      positionOf(placement),
      this.say.units,
    );
    if (!action) return;
    if (action.kind === 'escape') {
      if (this.gesture) {
        event.preventDefault();
        event.stopPropagation();
        this.cancelGesture();
      } else if (this.selected !== null) {
        // lets go of the artwork, and not of the dialog the slip may be in
        event.preventDefault();
        this.select(null);
      }
      return;
    }
    if (this.readonly || this.gesture) return;
    event.preventDefault();
    event.stopPropagation(); // handled here: not a shortcut of the page around us
    if (action.kind === 'remove') {
      this.endBurst();
      this.dispatchEvent(new StageRemoveEvent(id));
      return;
    }
    this.select(id);
    this.nudge(id, action.position, 'keys');
  };

  /** Moves by a step of a key or wheel; steps that follow each other are one change. */
  private nudge(id: string, asked: Position, cause: PlacementCause): void {
    const placement = this.placements.find((one) => one.id === id);
    const face = placement && this.faceOf(placement);
    if (!placement || !face) return;
    if (this.burst && (this.burst.id !== id || this.burst.cause !== cause)) this.endBurst();
    const before = positionOf(this.shown(id) ?? placement);
    const position = rounded(clampCenter(asked, this.reachOf(face)), before);
    if (this.burst) clearTimeout(this.burst.timer);
    const timer = window.setTimeout(this.endBurst, BURST_MS);
    this.burst = { id, start: this.burst?.start ?? before, cause, timer };
    this.measuring = true;
    const guideX = position.xMm === 0 ? 0 : null;
    this.showLive(id, { position, guideX, guideY: null, usual: null });
    this.tell('platen-stage-input', id, position, cause);
  }

  private endBurst = (): void => {
    const { burst } = this;
    if (!burst) return;
    clearTimeout(burst.timer);
    this.burst = null;
    this.measuring = false;
    const position = this.live?.id === burst.id ? this.live.snapped.position : null;
    if (position && !samePosition(position, burst.start)) {
      this.tell('platen-stage-change', burst.id, position, burst.cause);
      this.speakSoon(position);
    }
    this.requestUpdate();
  };

  /* files */

  private onDragOver = (event: DragEvent): void => {
    if (this.readonly || !event.dataTransfer?.types.includes('Files')) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = 'copy';
    this.fileOver = true;
  };

  private onDragLeave = (event: DragEvent): void => {
    if (!this.surface.contains(event.relatedTarget as Node | null)) this.fileOver = false;
  };

  private onDrop = (event: DragEvent): void => {
    this.fileOver = false;
    if (this.readonly || !event.dataTransfer) return;
    const files = [...event.dataTransfer.files];
    if (files.length === 0) return;
    event.preventDefault();
    const px = this.surfacePx(event.clientX, event.clientY);
    const at = toMm(this.camera, px);
    const hit = this.facesHere.find((face) => {
      const area = areaOnView(face, face);
      return at.x >= area.left && at.x <= area.right && at.y >= area.top && at.y <= area.bottom;
    });
    const face = hit ?? this.activeFace;
    if (!face) return;
    const mm = this.faceMm(face, px);
    this.dispatchEvent(new StageDropEvent(files, face.id, mm.x, mm.y));
  };

  /* telling */

  private select(id: string | null): void {
    if (this.selected === id) return;
    this.endBurst();
    this.selected = id;
    this.dispatchEvent(new StageSelectEvent(id));
  }

  private showLive(id: string, snapped: Snapped): void {
    this.live = { id, snapped };
    this.requestUpdate();
  }

  private tell(
    type: 'platen-stage-input' | 'platen-stage-change',
    id: string,
    position: Position,
    cause: PlacementCause,
  ): void {
    this.dispatchEvent(new StagePlacementEvent(type, id, position, cause));
  }

  /** The new place for those who hear it, once things are still. */
  private speakSoon(position: Position): void {
    clearTimeout(this.speakTimer);
    this.speakTimer = window.setTimeout(() => {
      this.spoken = this.words.moved(this.say, position);
    }, SPEAK_MS);
  }

  private itemOf(id: string): HTMLElement | null {
    return this.renderRoot.querySelector<HTMLElement>(`.item[data-id="${CSS.escape(id)}"]`);
  }
}

const WHOLE = { left: 0, top: 0, width: 1, height: 1 } as const;

const positionOf = ({ xMm, yMm, widthMm, angleDeg }: Position): Position => ({ xMm, yMm, widthMm, angleDeg });

const sourceOf = (placements: readonly StagePlacement[] | undefined, id: string) =>
  placements?.find((one) => one.id === id)?.source;

/** Size and transform of an artwork's element: its ink box, turned about its center. */
function placedBox(camera: Camera, face: Face, position: Position, aspect: number) {
  const widthPx = position.widthMm * camera.pxPerMm;
  const heightPx = widthPx * aspect;
  const center = toPx(camera, { x: face.onView.xMm + position.xMm, y: face.onView.yMm + position.yMm });
  return {
    widthPx,
    heightPx,
    style: {
      width: `${widthPx}px`,
      height: `${heightPx}px`,
      transform: `translate(${center.x - widthPx / 2}px, ${center.y - heightPx / 2}px) rotate(${position.angleDeg}deg)`,
    },
  };
}

/** Where the turning handle would stand: `awayPx` above the ink's top edge, turned with it. Surface px. */
function upPoint(camera: Camera, face: Face, position: Position, aspect: number, awayPx: number): Point {
  const center = toPx(camera, { x: face.onView.xMm + position.xMm, y: face.onView.yMm + position.yMm });
  const reach = (position.widthMm * aspect * camera.pxPerMm) / 2 + awayPx;
  const radians = (position.angleDeg * Math.PI) / 180;
  return { x: center.x + Math.sin(radians) * reach, y: center.y - Math.cos(radians) * reach };
}

/** The resize cursor nearest to a corner's direction on a turned artwork. */
function cornerCursor(corner: Corner, angleDeg: number): string {
  const base = corner.x === corner.y ? 0 : 2;
  const eighths = Math.round(angleDeg / 45);
  return CORNER_CURSORS[(((base + eighths) % 4) + 4) % 4] ?? 'nwse-resize';
}
