/**
 * The artworks on the blank, drawn by Fabric: the only module that imports it, and itself imported when the first
 * artwork needs it. The numbers of the slip are the truth; everything in the scene is worked out from them and never
 * read back, so nothing drifts.
 *
 * Fabric's drawing canvas is used, without its event handling: gestures need a touch-action for each artwork, pointer
 * capture and cancellation, and must leave no listener on the page's document (see `stage-gestures.ts`).
 */
import { type FabricObject, StaticCanvas } from 'fabric/es';
import { shrinkToLimits } from './bitmap-limits.ts';
import type { Camera } from './camera.ts';
import type { InkShares, PictureSource } from './picture-source.ts';
import { decodePicture, inkBitmap, levelFor } from './picture-source.ts';

/** An artwork in coordinates of the view, mm: center of its ink, width, height, turn. */
export type Picture = {
  readonly id: string;
  readonly source: PictureSource | null;
  readonly ink: InkShares;
  readonly xMm: number;
  readonly yMm: number;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly angleDeg: number;
};

type Entry = {
  source: PictureSource;
  ink: InkShares;
  decoded: ReturnType<typeof decodePicture>;
  image: InkPicture | null;
  /** level shown or being made. */
  level: number;
  /** told once; another source is another entry. */
  failed: boolean;
};

/**
 * An artwork's ink on Fabric's canvas: the few members a canvas asks of its objects. Fabric's own object classes bring
 * animation, color parsing, shadows, caching and serializing along, more than half of what there was to load, of which
 * nothing is used here.
 */
class InkPicture {
  canvas: StaticCanvas | undefined;
  #bitmap: ImageBitmap | null = null;
  #at: Picture | null = null;

  /** Takes a bitmap over; the one before is freed. */
  show(bitmap: ImageBitmap): void {
    this.#bitmap?.close();
    this.#bitmap = bitmap;
  }

  place(at: Picture): void {
    this.#at = at;
  }

  /** Called by the canvas with its view's transform set. */
  render(pen: CanvasRenderingContext2D): void {
    const bitmap = this.#bitmap;
    const at = this.#at;
    if (!bitmap || !at) return;
    pen.save();
    pen.translate(at.xMm, at.yMm);
    pen.rotate((at.angleDeg * Math.PI) / 180);
    pen.drawImage(bitmap, -at.widthMm / 2, -at.heightMm / 2, at.widthMm, at.heightMm);
    pen.restore();
  }

  /** Called by the canvas when it takes the object in or lets it go. */
  _set(_key: 'canvas', canvas: StaticCanvas | undefined): void {
    this.canvas = canvas;
  }
  setCoords(): void {}
  fire(): void {}
  dispose(): void {
    this.#bitmap?.close();
    this.#bitmap = null;
  }
}

export class FabricLayer {
  readonly #canvas: StaticCanvas;
  readonly #entries = new Map<string, Entry>();
  readonly #onReady: (id: string) => void;
  readonly #onFail: (id: string) => void;
  #camera: Camera | null = null;
  #pixelRatio = 1;
  #disposed = false;

  /**
   * @param element a canvas of our own that nobody else draws on.
   * @param onReady called when an artwork's picture is there to be drawn.
   * @param onFail called when an artwork's picture cannot be had.
   */
  constructor(element: HTMLCanvasElement, onReady: (id: string) => void, onFail: (id: string) => void) {
    this.#onReady = onReady;
    this.#onFail = onFail;
    this.#canvas = new StaticCanvas(element, {
      enableRetinaScaling: false, // the camera reckons with the pixel ratio, within the limits of bitmaps
      renderOnAddRemove: false,
    });
    // Fabric fixes the element's size on the page; the style sheet has that
    element.style.removeProperty('width');
    element.style.removeProperty('height');
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
    this.#camera = camera;
    this.#pixelRatio = ratio;
    const scale = camera.pxPerMm * ratio;
    this.#canvas.setViewportTransform([scale, 0, 0, scale, -camera.leftMm * scale, -camera.topMm * scale]);
  }

  /** Brings the scene to these artworks, first at the bottom, and draws it. */
  show(pictures: readonly Picture[]): void {
    const wanted = new Set(pictures.map((picture) => picture.id));
    for (const id of this.#entries.keys()) if (!wanted.has(id)) this.#drop(id);
    const stack: FabricObject[] = [];
    for (const picture of pictures) {
      const entry = this.#entry(picture);
      if (!entry) continue;
      this.#refine(picture, entry);
      if (!entry.image) continue;
      entry.image.place(picture);
      stack.push(asDrawn(entry.image));
    }
    const objects = this.#canvas.getObjects();
    if (objects.length !== stack.length || objects.some((object, i) => object !== stack[i])) {
      this.#canvas.remove(...objects);
      this.#canvas.add(...stack);
    }
    this.#canvas.renderAll();
  }

  /** Frees the scene and its bitmaps. The canvas element is left to whoever made it. */
  dispose(): void {
    if (this.#disposed) return;
    this.#disposed = true;
    for (const id of [...this.#entries.keys()]) this.#drop(id);
    void this.#canvas.dispose();
  }

  #entry(picture: Picture): Entry | null {
    const { id, source, ink } = picture;
    const known = this.#entries.get(id);
    if (known && known.source === source && sameShares(known.ink, ink)) return known;
    if (known) this.#drop(id);
    if (source === null) return null;
    const decoded = decodePicture(source);
    const entry: Entry = { source, ink, decoded, image: null, level: -1, failed: false };
    this.#entries.set(id, entry);
    return entry;
  }

  /** Makes a sharper bitmap when the artwork is shown larger, a smaller one when much smaller. */
  #refine(picture: Picture, entry: Entry): void {
    if (entry.failed) return;
    const pxPerMm = (this.#camera?.pxPerMm ?? 1) * this.#pixelRatio;
    const level = levelFor(picture.widthMm * pxPerMm);
    if (level === entry.level || (level < entry.level && level > entry.level - 2)) return;
    entry.level = level;
    entry.decoded
      .then((decoded) => inkBitmap(decoded, entry.ink, level))
      .then((bitmap) => {
        if (this.#disposed || this.#entries.get(picture.id) !== entry || entry.level !== level) {
          bitmap.close();
          return;
        }
        entry.image ??= new InkPicture();
        entry.image.show(bitmap);
        this.#onReady(picture.id);
      })
      .catch(() => {
        if (this.#disposed || entry.failed || this.#entries.get(picture.id) !== entry) return;
        entry.failed = true;
        this.#onFail(picture.id);
      });
  }

  #drop(id: string): void {
    const entry = this.#entries.get(id);
    if (!entry) return;
    this.#entries.delete(id);
    if (entry.image) this.#canvas.remove(asDrawn(entry.image));
    entry.image?.dispose();
  }
}

/** Fabric's types ask for all its objects can do; a canvas that only draws never looks for it. */
const asDrawn = (image: InkPicture): FabricObject => image as unknown as FabricObject;

const sameShares = (a: InkShares, b: InkShares): boolean =>
  a.left === b.left && a.top === b.top && a.width === b.width && a.height === b.height;
