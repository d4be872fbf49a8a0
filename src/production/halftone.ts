import { dotScreen } from '../artwork/index.ts';
import type { Plate } from './underbase.ts';

export type HalftoneOptions = {
  /** distance from dot to dot, px, 2 to 1000. */
  readonly cellPx: number;
  /** turn of the rows of dots, degrees. Default 45. */
  readonly angleDeg?: number;
};

/**
 * Where in a pixel the screen is read, px. Off the middle, so that pixels placed alike about a dot's center are not all of
 * one height: at 0 degrees and a cell of 10 px they would else turn eight at a time, 8 % of tint.
 */
const READ_X = 0.37;
const READ_Y = 0.19;

/**
 * Screens a plate to dots of full ink: an amplitude-modulated screen whose dots cover, over whole cells, the share of
 * ink that the plate asks for. Full ink stays full, none stays none.
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
      if (ink === 255 || (ink > 0 && ink / 255 > screen(x + READ_X, y + READ_Y))) dots[at] = 255;
    }
  return { width, height, data: dots };
}

/**
 * Share of dots in a printed tint, from its density and that of the solid, both over the bare cloth: Murray-Davies,
 * `(1 - 10^-Dt) / (1 - 10^-Ds)`; with `n` over 1 Yule-Nielsen, which takes out the light that spreads beneath the dots.
 *
 * @param n 1 (default): none spreads; 2: as much as can
 * @see A. Murray, Monochrome reproduction in photoengraving, Journal of the Franklin Institute 221, 721, 1936;
 *   J. A. C. Yule, W. J. Nielsen, The penetration of light into paper, TAGA Proceedings, 65-76, 1951
 */
export function dotShare(tintDensity: number, solidDensity: number, n = 1): number {
  return (1 - 10 ** (-tintDensity / n)) / (1 - 10 ** (-solidDensity / n));
}

/** Density over the bare cloth of a tint with this share of dots; undoes `dotShare`. */
export function tintDensity(share: number, solidDensity: number, n = 1): number {
  return -n * Math.log10(1 - share * (1 - 10 ** (-solidDensity / n)));
}
