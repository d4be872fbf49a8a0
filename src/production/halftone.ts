import { dotScreen } from '../artwork/index.ts';
import type { Plate } from './underbase.ts';

export type HalftoneOptions = {
  /** distance from dot to dot, px, 2 to 1000. */
  readonly cellPx: number;
  /** angle of the rows of dots, degrees. Default 45. */
  readonly angleDeg?: number;
};

/**
 * Where in a pixel the threshold is sampled, px. Not at a point of symmetry, so that pixels placed symmetrically about a
 * dot's center differ in threshold: at 0 degrees and a cell of 10 px they would switch eight at a time, 8 % of tint.
 */
const SAMPLE_X = 0.37;
const SAMPLE_Y = 0.19;

/**
 * Turns a plate into dots of full ink with an amplitude-modulated halftone screen. Over whole cells the dots cover the
 * share of the area that the plate asks for. Full ink stays full, none stays none.
 *
 * @throws RangeError when the cell is not from 2 to 1000 px
 */
export function halftone(plate: Plate, { cellPx, angleDeg = 45 }: HalftoneOptions): Plate {
  if (!(cellPx >= 2 && cellPx <= 1000))
    throw new RangeError(`the cell is ${cellPx} px; it must be from 2 to 1000`);
  const { width, height, data } = plate;
  const screen = dotScreen(cellPx, angleDeg);
  const dots = new Uint8Array(data.length);
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const at = y * width + x;
      const ink = data[at]!;
      if (ink === 255 || (ink > 0 && ink / 255 > screen(x + SAMPLE_X, y + SAMPLE_Y))) dots[at] = 255;
    }
  return { width, height, data: dots };
}

/**
 * Dot area of a printed tint, 0 to 1, from the densities of the tint and of the solid, both relative to the bare cloth:
 * Murray-Davies, `(1 - 10^-Dt) / (1 - 10^-Ds)`; with `n` over 1 Yule-Nielsen, which corrects for optical dot gain.
 *
 * @param n Yule-Nielsen factor: 1 (default) no optical dot gain, 2 the most
 * @see A. Murray, Monochrome reproduction in photoengraving, Journal of the Franklin Institute 221, 721, 1936;
 *   J. A. C. Yule, W. J. Nielsen, The penetration of light into paper, TAGA Proceedings, 65-76, 1951
 */
export function dotShare(tintDensity: number, solidDensity: number, n = 1): number {
  return (1 - 10 ** (-tintDensity / n)) / (1 - 10 ** (-solidDensity / n));
}

/** Density of a tint with this dot area, relative to the bare cloth: the inverse of `dotShare`. */
export function tintDensity(share: number, solidDensity: number, n = 1): number {
  return -n * Math.log10(1 - share * (1 - 10 ** (-solidDensity / n)));
}
