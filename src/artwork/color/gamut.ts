import { ciede2000 } from './ciede2000.ts';
import { GAMUT_SIDE, GAMUT_TABLE } from './gamut-table.ts';
import { type Lab, labOfRgb } from './lab.ts';

/**
 * A color farther than this (CIEDE2000) from the nearest color that process inks print is out of gamut. About twice the
 * smallest difference that a trained eye sees, and above the table's error inside the gamut (below 1).
 */
export const OUT_OF_GAMUT_DELTA_E = 2;

let cachedTable: Uint8ClampedArray | undefined;

/**
 * Writes the sRGB color that process inks print for an sRGB color (bytes) into `into[at..at+2]`, rounded to bytes.
 * Trilinear interpolation in the table. Colors within the gamut stay the same except for rounding.
 */
export function writePrintedColor(
  red: number,
  green: number,
  blue: number,
  into: Uint8Array,
  at: number,
): void {
  cachedTable ??= decodeTable(GAMUT_TABLE);
  const table = cachedTable;
  const last = GAMUT_SIDE - 1;
  const r = (red * last) / 255;
  const g = (green * last) / 255;
  const b = (blue * last) / 255;
  const r0 = r >= last ? last - 1 : r | 0;
  const g0 = g >= last ? last - 1 : g | 0;
  const b0 = b >= last ? last - 1 : b | 0;
  const fr = r - r0;
  const fg = g - g0;
  const fb = b - b0;
  const sideB = 3;
  const sideG = 3 * GAMUT_SIDE;
  const sideR = 3 * GAMUT_SIDE * GAMUT_SIDE;
  for (let channel = 0; channel < 3; channel++) {
    const corner = r0 * sideR + g0 * sideG + b0 * sideB + channel;
    const c00 = table[corner]! * (1 - fb) + table[corner + sideB]! * fb;
    const c01 = table[corner + sideG]! * (1 - fb) + table[corner + sideG + sideB]! * fb;
    const c10 = table[corner + sideR]! * (1 - fb) + table[corner + sideR + sideB]! * fb;
    const c11 = table[corner + sideR + sideG]! * (1 - fb) + table[corner + sideR + sideG + sideB]! * fb;
    into[at + channel] = (c00 * (1 - fg) + c01 * fg) * (1 - fr) + (c10 * (1 - fg) + c11 * fg) * fr + 0.5;
  }
}

/** The color that process inks print for another, and its distance (CIEDE2000) from it. */
export type PrintedColor = {
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  readonly deltaE: number;
  readonly inGamut: boolean;
};

/** The color that process inks print for an sRGB color (bytes). */
export function printedColor(red: number, green: number, blue: number): PrintedColor {
  const into = new Uint8Array(3);
  writePrintedColor(red, green, blue, into, 0);
  const printed: Lab = labOfRgb([into[0]!, into[1]!, into[2]!]);
  const deltaE = ciede2000(labOfRgb([red, green, blue]), printed);
  return { red: into[0]!, green: into[1]!, blue: into[2]!, deltaE, inGamut: deltaE <= OUT_OF_GAMUT_DELTA_E };
}

/**
 * Decodes what `tests/tools/generators/make-gamut-table.ts` encodes: for each lattice point the shift from the color to the
 * one that prints, in steps of two levels, as a difference from the predicted shift.
 */
function decodeTable(text: string): Uint8ClampedArray {
  const last = GAMUT_SIDE - 1;
  const shifts = new Int16Array(3 * GAMUT_SIDE ** 3);
  const table = new Uint8ClampedArray(shifts.length);
  let from = 0;
  for (let blue = 0; blue <= last; blue++)
    for (let green = 0; green <= last; green++)
      for (let red = 0; red <= last; red++)
        for (const [channel, level] of [red, green, blue].entries()) {
          const code = text.charCodeAt(from++) - FIRST_CODE;
          // 0, 1, 2, 3, 4 stand for 0, -1, 1, -2, 2
          const difference = code % 2 === 0 ? code / 2 : -(code + 1) / 2;
          const entry = shiftAt(red, green, blue, channel);
          shifts[entry] = predictedShift(shifts, red, green, blue, channel) + difference;
          table[entry] = Math.round((255 * level) / last) + 2 * shifts[entry]!;
        }
  return table;
}

/** Index of the shift of a lattice point's channel: red slowest, then green, blue, channel. */
export function shiftAt(red: number, green: number, blue: number, channel: number): number {
  return 3 * ((red * GAMUT_SIDE + green) * GAMUT_SIDE + blue) + channel;
}

/**
 * Predicts a channel's shift at a lattice point from those decoded before. It is 0 if the channels before it have none:
 * the color is in gamut. Otherwise it is the median of three planar extrapolations from the neighbors nearer to black.
 *
 * @param shifts those known so far, by `shiftAt`; 0 outside the lattice
 */
export function predictedShift(
  shifts: Int16Array,
  red: number,
  green: number,
  blue: number,
  channel: number,
): number {
  const entry = shiftAt(red, green, blue, channel);
  if (channel > 0 && shifts.subarray(entry - channel, entry).every((shift) => shift === 0)) return 0;
  const at = (r: number, g: number, b: number) =>
    red < r || green < g || blue < b ? 0 : shifts[shiftAt(red - r, green - g, blue - b, channel)]!;
  return [
    at(1, 0, 0) + at(0, 1, 0) - at(1, 1, 0),
    at(0, 1, 0) + at(0, 0, 1) - at(0, 1, 1),
    at(0, 0, 1) + at(1, 0, 0) - at(1, 0, 1),
  ].sort((one, other) => one - other)[1]!;
}

/** Character code of a difference of 0. */
const FIRST_CODE = 48;
