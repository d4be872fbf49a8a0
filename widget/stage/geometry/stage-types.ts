import type { PixelBox } from '../../../src/contract/index.ts';
import type { PictureSource } from '../canvas/picture-source.ts';
import type { Position } from './placement-math.ts';

/** An artwork to show on a face. The numbers are the slip's own; the stage never changes them but by its events. */
export type StagePlacement = Position & {
  readonly id: string;
  /** id of one of the stage's faces. */
  readonly face: string;
  /** what the customer knows it by; spoken. */
  readonly name: string;
  /** its picture: pixels, or the address of a raster picture that allows CORS; null while there is none yet. */
  readonly source: PictureSource | null;
  /** px of the measured raster, and the ink's box in it; the picture may be a smaller copy. */
  readonly raster: { readonly widthPx: number; readonly heightPx: number };
  /** null: the whole raster. */
  readonly inkBox: PixelBox | null;
};

/** Ink height over ink width of a placement's artwork. */
export function aspectOf(placement: Pick<StagePlacement, 'raster' | 'inkBox'>): number {
  const { width, height } = placement.inkBox ?? {
    width: placement.raster.widthPx,
    height: placement.raster.heightPx,
  };
  return width > 0 && height > 0 ? height / width : 1;
}

/** Whether an artwork's picture is drawn or cannot be had; neither is known while it is on its way. */
export type PictureState = 'ready' | 'failed';
