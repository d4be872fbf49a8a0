/**
 * The artworks on the blank, as objects on Fabric's canvas. Loaded with the first artwork. The numbers of the slip are
 * the only truth: the objects are placed by them and never read back, so nothing drifts. What the pointer does is
 * reported to a listener; the stage works out new numbers from it.
 */
import type { BasicTransformEvent, Canvas, FabricObject, TPointerEvent } from 'fabric/es';
import type { Camera } from '../geometry/camera.ts';
import type { Grip } from '../geometry/gesture.ts';
import type { Point } from '../geometry/placement-math.ts';
import { ArtworkCanvas } from './artwork-canvas.ts';
import { gripOf } from './artwork-handles.ts';
import type { FrameColors, Picture } from './artwork-object.ts';
import { ArtworkObject } from './artwork-object.ts';
import { shrinkToLimits } from './bitmap-limits.ts';
import { PictureLoader } from './picture-loader.ts';

/** What happens on the canvas. Points in mm of the view. */
export type LayerListener = {
  /** The customer selected an artwork with the pointer, or none. */
  onSelect(id: string | null): void;
  /** The pointer took hold of the selected artwork. */
  onPress(id: string, grip: Grip, event: PointerEvent, at: Point): void;
  /** The pointer that holds an artwork has moved. */
  onDrag(event: PointerEvent, at: Point): void;
  onRelease(event: PointerEvent): void;
  /** A press and release that hit no artwork. */
  onTapEmpty(event: PointerEvent): void;
  /** The pointer is over this artwork, or none; `moved` is false when the page moved beneath it. */
  onHover(id: string | null, moved: boolean): void;
  onWheel(id: string | null, event: WheelEvent): void;
  onPictureReady(id: string): void;
  onPictureFail(id: string): void;
};

/** How the selected artwork is shown. */
export type Selection = {
  readonly id: string | null;
  readonly colors: FrameColors;
  readonly readonly: boolean;
};

const isPointer = (event: TPointerEvent | undefined): event is PointerEvent =>
  event !== undefined && 'pointerId' in event;

const idOf = (object: FabricObject | undefined): string | null =>
  object instanceof ArtworkObject ? object.artworkId : null;

export class FabricLayer {
  readonly #canvas: Canvas;
  readonly #objects = new Map<string, ArtworkObject>();
  readonly #pictures: PictureLoader;
  readonly #listener: LayerListener;
  #placed: ReadonlyMap<string, Picture> = new Map();
  #pxPerMm = 1;
  #pixelRatio = 1;
  /** Fabric has an artwork in hand. */
  #holding = false;
  /** the pointer that is down on the canvas. */
  #down: number | null = null;
  #disposed = false;

  /** @param element a canvas on the page that nobody else draws on. */
  constructor(element: HTMLCanvasElement, listener: LayerListener) {
    this.#listener = listener;
    this.#canvas = new ArtworkCanvas(element);
    this.#pictures = new PictureLoader(
      (id, ink) => {
        this.#objects.get(id)?.show(ink);
        listener.onPictureReady(id);
      },
      (id) => listener.onPictureFail(id),
    );
    this.#listen();
  }

  /** Fits the backing bitmap to the surface and sets what part of the view is seen. */
  look(camera: Camera, devicePixelRatio: number): void {
    const shrink = shrinkToLimits(camera.widthPx * devicePixelRatio, camera.heightPx * devicePixelRatio);
    const ratio = devicePixelRatio * shrink;
    const width = Math.max(1, Math.floor(camera.widthPx * ratio));
    const height = Math.max(1, Math.floor(camera.heightPx * ratio));
    if (width !== this.#canvas.width || height !== this.#canvas.height) {
      this.#canvas.setDimensions({ width, height }, { backstoreOnly: true });
      this.#canvas.contextContainer.imageSmoothingQuality = 'high';
    }
    this.#pxPerMm = camera.pxPerMm;
    this.#pixelRatio = ratio;
    const scale = camera.pxPerMm * ratio;
    this.#canvas.setViewportTransform([scale, 0, 0, scale, -camera.leftMm * scale, -camera.topMm * scale]);
  }

  /** Brings the canvas to these artworks, first at the bottom, and draws it. */
  show(pictures: readonly Picture[], selection: Selection): void {
    this.#placed = new Map(pictures.map((picture) => [picture.id, picture]));
    for (const [id, object] of this.#objects) if (!this.#placed.has(id)) this.#drop(id, object);
    const stack = pictures.map((picture) => this.#object(picture));
    for (const [index, object] of stack.entries()) {
      if (this.#canvas.item(index) === object) continue;
      if (this.#canvas.contains(object)) this.#canvas.moveObjectTo(object, index);
      else this.#canvas.insertAt(index, object);
    }
    const coarse = matchMedia('(pointer: coarse)').matches;
    for (const object of stack) {
      object.dress(selection.colors, coarse, this.#pixelRatio, selection.readonly);
      this.#place(object);
    }
    this.#select(selection.id === null ? undefined : this.#objects.get(selection.id));
    this.#canvas.renderAll();
  }

  /** Takes the artwork out of the pointer's hold. */
  letGo(): void {
    this.#down = null;
    // a touch that was taken away must not select by its next "up"
    for (const object of this.#objects.values()) object.activeOn = 'down';
    if (!this.#holding) return;
    this.#holding = false;
    this.#canvas.endCurrentTransform();
  }

  /** Frees the canvas, its objects and their bitmaps. */
  dispose(): void {
    if (this.#disposed) return;
    this.#disposed = true;
    this.#pictures.dispose();
    void this.#canvas.dispose();
  }

  #listen(): void {
    const listener = this.#listener;
    const dragged = ({ e, target, pointer }: BasicTransformEvent & { target: FabricObject }) => {
      if (isPointer(e)) listener.onDrag(e, pointer);
      // where the slip has it, not where Fabric would put it
      if (target instanceof ArtworkObject) this.#place(target);
    };
    this.#canvas.on({
      'mouse:down:before': ({ e, target }) => {
        // a finger selects by a tap, so that a swipe scrolls the page
        if (target) target.activeOn = isPointer(e) && e.pointerType === 'touch' ? 'up' : 'down';
      },
      'mouse:up:before': ({ target, isClick }) => {
        if (target && !isClick) target.activeOn = 'down';
      },
      'mouse:down': ({ e }) => {
        this.#down = isPointer(e) ? e.pointerId : null;
      },
      'mouse:up': ({ e, target, isClick }) => {
        if (!isPointer(e)) return;
        this.#holding = false;
        const isTap = isClick && !target && this.#down === e.pointerId;
        this.#down = null;
        if (isTap) {
          this.#canvas.discardActiveObject(e);
          listener.onTapEmpty(e);
        }
        listener.onRelease(e);
      },
      // without a pointer it was the stage that asked
      'selection:created': ({ e, selected }) => {
        if (e) listener.onSelect(idOf(selected[0]));
      },
      'selection:updated': ({ e, selected }) => {
        if (e) listener.onSelect(idOf(selected[0]));
      },
      'selection:cleared': ({ e }) => {
        this.#holding = false;
        if (e) listener.onSelect(null);
      },
      'before:transform': ({ e, transform }) => {
        const id = idOf(transform.target);
        const element = this.#canvas.upperCanvasEl;
        // the page may just have taken the stage out, in the event that told of the selection
        if (id === null || !isPointer(e) || !element.isConnected) return;
        this.#holding = true;
        // nothing else of the page answers to a pointer that holds an artwork
        element.setPointerCapture(e.pointerId);
        const grip = gripOf(transform.action, transform.corner);
        if (grip === 'turn') this.#canvas.setCursor('grabbing');
        listener.onPress(id, grip, e, { x: transform.ex, y: transform.ey });
      },
      'object:moving': dragged,
      'object:scaling': dragged,
      'object:rotating': dragged,
      'mouse:move': ({ e, target }) => {
        if (isPointer(e)) listener.onHover(idOf(target), e.movementX !== 0 || e.movementY !== 0);
      },
      'mouse:out': ({ e }) => {
        if (e.type === 'pointerout') listener.onHover(null, false);
      },
      'mouse:wheel': ({ e, target }) => listener.onWheel(idOf(target), e),
    });
  }

  #object(picture: Picture): ArtworkObject {
    const { id, source, ink, widthMm } = picture;
    let object = this.#objects.get(id);
    if (!object) {
      object = new ArtworkObject(id);
      this.#objects.set(id, object);
    }
    const widthPx = widthMm * this.#pxPerMm * this.#pixelRatio;
    if (this.#pictures.request(id, source, ink, widthPx)) object.show(null);
    return object;
  }

  #place(object: ArtworkObject): void {
    const picture = this.#placed.get(object.artworkId);
    if (picture) object.place(picture, this.#pxPerMm, this.#pixelRatio);
  }

  #select(object: ArtworkObject | undefined): void {
    if (object === this.#canvas.getActiveObject()) return;
    if (object) this.#canvas.setActiveObject(object);
    else this.#canvas.discardActiveObject();
  }

  #drop(id: string, object: ArtworkObject): void {
    this.#objects.delete(id);
    this.#pictures.forget(id);
    this.#canvas.remove(object);
    object.dispose();
  }
}
