import {
  buildPyramid,
  crop,
  inkBoxOf,
  previewOf,
  type Raster,
  simulatePrint,
} from '../../src/artwork/index.ts';
import type { LetteringSpec } from '../../src/production/index.ts';
import { encodePng } from './png.ts';
import { compositeOver } from './proof/composite.ts';
import { drawBlank, type ProofDrawing } from './proof/draw-blank.ts';
import { drawName, type SizedPicture } from './proof/draw-name.ts';

export type { ProofDrawing, ProofShape } from './proof/draw-blank.ts';

/** One print: an artwork, whose picture is passed along with the request, or a name. */
export type ProofPlacement = {
  /** center of the ink, mm from the left and top edge of the drawing. */
  readonly xMm: number;
  readonly yMm: number;
  /** width of the artwork's ink before rotation (over 0; the height follows), or the name, which implies its size. */
  readonly ink: { readonly widthMm: number } | { readonly name: LetteringSpec; readonly hex: string };
  /** rotation about the center, clockwise. */
  readonly angleDeg: number;
  /** whether the method prints white beneath on this cloth. */
  readonly underbase: boolean;
  /** whether partly transparent ink is printed or lost. */
  readonly softAlpha: 'prints' | 'lost';
  /** 0 (matte) to 4 (glossy). */
  readonly gloss: number;
};

export type ProofRequest = {
  readonly drawing: ProofDrawing;
  /** color of the cloth, `#rrggbb`. */
  readonly clothHex: string;
  /** longer side of the picture, 200 to 2000 px. */
  readonly longSidePx: number;
  /** in printing order; the pictures of the artworks among them are passed in the same order. */
  readonly placements: readonly ProofPlacement[];
};

export const PROOF_SIDE_PX = { least: 200, usual: 1200, most: 2000 } as const;

/** Artwork is simulated at this many pixels per proof pixel, so that edges and lost soft alpha look right. */
const OVERSAMPLING = 2;
const MAX_SIMULATED_SIDE = 4096;

/**
 * Draws the blank with its prints as the methods will show them. The same request and pictures give the same bytes on the
 * same installation, so that a customer can approve the hash.
 * @param pictures straight-alpha rasters, one per placement that is an artwork; fully transparent ones are skipped
 * @throws RangeError for an invalid request, which is a bug of ours, not of a customer
 */
export async function renderProof(request: ProofRequest, pictures: readonly Raster[]): Promise<Buffer> {
  const { drawing, clothHex, longSidePx, placements } = request;
  const { least, most } = PROOF_SIDE_PX;
  if (!(longSidePx >= least && longSidePx <= most))
    throw new RangeError(`longSidePx is ${longSidePx}; it must be from ${least} to ${most}`);
  const artworks = placements.filter(({ ink }) => 'widthMm' in ink);
  if (pictures.length !== artworks.length)
    throw new RangeError(`there are ${pictures.length} pictures for ${artworks.length} artworks`);
  const canvas = await drawBlank(drawing, clothHex, longSidePx);
  const pxPerMm = canvas.width / drawing.widthMm;
  for (const placement of placements) {
    const { ink } = placement;
    const shown =
      'name' in ink
        ? await drawName(ink.name, ink.hex, OVERSAMPLING * pxPerMm)
        : shrinkInk(pictures[artworks.indexOf(placement)]!, ink.widthMm, pxPerMm);
    if (shown === null) continue;
    const { underbase, softAlpha, gloss } = placement;
    compositeOver(canvas, simulatePrint(shown.picture, { clothHex, underbase, softAlpha, gloss }), {
      centerXPx: placement.xMm * pxPerMm,
      centerYPx: placement.yMm * pxPerMm,
      widthPx: shown.widthMm * pxPerMm,
      heightPx: shown.heightMm * pxPerMm,
      angleDeg: placement.angleDeg,
    });
  }
  return encodePng(canvas);
}

/** Crops a picture to its ink and shrinks it to the resolution needed; null if it has no ink. */
function shrinkInk(picture: Raster, widthMm: number, pxPerMm: number): SizedPicture | null {
  const box = inkBoxOf(picture);
  if (box === undefined) return null;
  const ink = crop(picture, box);
  const heightMm = (widthMm * ink.height) / ink.width;
  const sidePx = Math.ceil(OVERSAMPLING * Math.max(widthMm * pxPerMm, heightMm * pxPerMm, 1));
  return { picture: previewOf(buildPyramid(ink), Math.min(MAX_SIMULATED_SIDE, sidePx)), widthMm, heightMm };
}
