import { buildPyramid, inkBoxOf, previewOf, type Raster, simulatePrint } from '../../src/artwork/index.ts';
import type { LetteringSpec } from '../../src/production/index.ts';
import { encodePng } from './png.ts';
import { compositeOver } from './proof/composite.ts';
import { drawBlank, type ProofDrawing } from './proof/draw-blank.ts';
import { drawName, type SizedPicture } from './proof/draw-name.ts';

export type { ProofDrawing, ProofShape } from './proof/draw-blank.ts';

/** Something as it will be printed: an artwork, whose picture is given beside the request, or a name to be set. */
export type ProofPlacement = {
  /** center of the ink, mm from the left and top edge of the drawing. */
  readonly xMm: number;
  readonly yMm: number;
  /** width of the artwork's ink before turning, mm, over 0, its height follows; or the name, whose size follows from it. */
  readonly ink: { readonly widthMm: number } | { readonly name: LetteringSpec; readonly hex: string };
  /** turn about the center, degrees clockwise. */
  readonly angleDeg: number;
  /** whether the method lays white beneath on this cloth. */
  readonly underbase: boolean;
  /** whether partly transparent ink prints as such, or is lost. */
  readonly softAlpha: 'prints' | 'lost';
  /** 0 (matt) to 4 (shining). */
  readonly gloss: number;
};

export type ProofRequest = {
  readonly drawing: ProofDrawing;
  /** color of the cloth, `#rrggbb`. */
  readonly clothHex: string;
  /** longer side of the picture, 200 to 2000 px. */
  readonly longSidePx: number;
  /** in the order they are laid on; pictures of the artworks among them are given in the same order. */
  readonly placements: readonly ProofPlacement[];
};

export const PROOF_SIDE_PX = { least: 200, usual: 1200, most: 2000 } as const;

/** The artwork is simulated at this many pixels for one of the proof, so that edges and lost softness come out right. */
const OVERSAMPLING = 2;
const MAX_SIMULATED_SIDE = 4096;

/**
 * Draws the blank in its cloth with the artworks on it as their method will show them. The same request and pictures
 * give the same bytes on the same installation, so their hash can be what a customer approves.
 * @param pictures straight-alpha rasters, one for each placement that is an artwork; wholly clear ones are left out.
 * @throws RangeError naming the value and what is allowed: the request comes from our own code, not from a customer.
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

/** The ink of a picture at the size it is printed, not much finer than it is shown; null where there is none. */
function shrinkInk(picture: Raster, widthMm: number, pxPerMm: number): SizedPicture | null {
  const ink = cropToInk(picture);
  if (ink === null) return null;
  const heightMm = (widthMm * ink.height) / ink.width;
  const wanted = Math.ceil(OVERSAMPLING * Math.max(widthMm * pxPerMm, heightMm * pxPerMm, 1));
  return { picture: previewOf(buildPyramid(ink), Math.min(MAX_SIMULATED_SIDE, wanted)), widthMm, heightMm };
}

function cropToInk(raster: Raster): Raster | null {
  const box = inkBoxOf(raster);
  if (box === undefined) return null;
  const data = new Uint8Array(4 * box.width * box.height);
  for (let y = 0; y < box.height; y++) {
    const from = 4 * ((box.top + y) * raster.width + box.left);
    data.set(raster.data.subarray(from, from + 4 * box.width), 4 * y * box.width);
  }
  return { width: box.width, height: box.height, data };
}
