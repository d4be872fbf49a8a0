import { FabricImage, Point } from 'fabric/es';
import type { Handles } from './artwork-handles.ts';
import { createHandles, HANDLE_PX, layOutHandles } from './artwork-handles.ts';
import type { InkShares, PictureSource } from './picture-source.ts';

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

/** Colors of the frame and its handles, as CSS colors. */
export type FrameColors = { readonly line: string; readonly fill: string };

/** Least side of what can be pressed, CSS px. */
const LEAST_TARGET_PX = 24;
const HALO = 'rgb(255 255 255 / 0.7)';

/** An artwork's ink on the canvas. Scene coordinates are mm of the view. */
export class ArtworkObject extends FabricImage {
  readonly artworkId: string;
  declare controls: Handles;
  #leastMm = 0;

  constructor(id: string) {
    super(emptyCanvas(), {
      borderOpacityWhenMoving: 1,
      transparentCorners: false,
      hoverCursor: 'grab',
      moveCursor: 'grabbing',
    });
    this.artworkId = id;
    this.controls = createHandles();
  }

  /** Shows this picture from now on; null while there is none. */
  show(ink: HTMLCanvasElement | null): void {
    const before = this.getElement();
    this.setElement(ink ?? emptyCanvas());
    // frees the pixels now rather than when they are collected
    before.width = 0;
    before.height = 0;
  }

  /** Puts the object where the numbers say, and its handles with it. */
  place(picture: Picture, pxPerMm: number, pixelRatio: number): void {
    this.set({
      left: picture.xMm,
      top: picture.yMm,
      scaleX: picture.widthMm / this.width,
      scaleY: picture.heightMm / this.height,
      angle: picture.angleDeg,
      borderScaleFactor: pixelRatio,
    });
    const canvasPxPerMm = pxPerMm * pixelRatio;
    this.#leastMm = LEAST_TARGET_PX / pxPerMm;
    layOutHandles(
      this.controls,
      {
        width: picture.widthMm * canvasPxPerMm,
        height: picture.heightMm * canvasPxPerMm,
        centerY: this.getCenterPoint().transform(this.getViewportTransform()).y,
      },
      picture.angleDeg,
      pixelRatio,
    );
    this.setCoords();
  }

  /** How the frame looks, and whether the artwork can be moved by it. */
  dress(colors: FrameColors, coarse: boolean, pixelRatio: number, readonly: boolean): void {
    this.set({
      borderColor: colors.line,
      cornerStrokeColor: colors.line,
      cornerColor: colors.fill,
      cornerSize: (coarse ? HANDLE_PX.coarse : HANDLE_PX.fine) * pixelRatio,
      touchCornerSize: HANDLE_PX.coarse * pixelRatio,
      hasBorders: !readonly,
      hasControls: !readonly,
      lockMovementX: readonly,
      lockMovementY: readonly,
      hoverCursor: readonly ? 'default' : 'grab',
    });
  }

  /** The corners of what takes the pointer: a small artwork has a larger target than its ink. */
  override getCoords(): Point[] {
    const width = Math.max(this.getScaledWidth(), this.#leastMm) / 2;
    const height = Math.max(this.getScaledHeight(), this.#leastMm) / 2;
    const center = this.getCenterPoint();
    const radians = (this.angle * Math.PI) / 180;
    return [
      new Point(-width, -height),
      new Point(width, -height),
      new Point(width, height),
      new Point(-width, height),
    ].map((corner) => corner.rotate(radians).add(center));
  }

  /** A finger that comes down beside the artwork may only want to scroll; a tap lets go when it is over. */
  override onDeselect({ e: event, object }: Parameters<FabricImage['onDeselect']>[0] = {}): boolean {
    return (
      object === undefined &&
      event?.type === 'pointerdown' &&
      'pointerType' in event &&
      event.pointerType === 'touch'
    );
  }

  /** A line with a light one around it, to be seen on any cloth. */
  override strokeBorders(pen: CanvasRenderingContext2D, size: Point): void {
    const { lineWidth } = pen;
    withHalo(pen, lineWidth, () => super.strokeBorders(pen, size.scalarAdd(2 * lineWidth)));
    super.strokeBorders(pen, size);
  }

  override drawControlsConnectingLines(pen: CanvasRenderingContext2D, size: Point): void {
    withHalo(pen, 2 * pen.lineWidth, () => super.drawControlsConnectingLines(pen, size));
    super.drawControlsConnectingLines(pen, size);
  }

  override dispose(): void {
    const element = this.getElement();
    super.dispose();
    element.width = 0;
    element.height = 0;
  }
}

function emptyCanvas(): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = 1;
  canvas.height = 1;
  return canvas;
}

function withHalo(pen: CanvasRenderingContext2D, lineWidth: number, draw: () => void): void {
  pen.save();
  pen.strokeStyle = HALO;
  pen.lineWidth = lineWidth;
  draw();
  pen.restore();
}
