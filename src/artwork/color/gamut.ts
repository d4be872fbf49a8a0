import { ciede2000 } from './ciede2000.ts';
import { GAMUT_SIDE, GAMUT_TABLE } from './gamut-table.ts';
import { type Lab, labOfRgb } from './lab.ts';

/**
 * A color further than this (CIEDE2000) from the nearest one process inks print counts as out of gamut. About twice
 * what a practiced eye sees side by side, and above the table's own error inside the gamut (under 1).
 */
export const OUT_OF_GAMUT_DELTA_E = 2;

let decoded: Uint8ClampedArray | null = null;

/**
 * Writes the sRGB color that process inks print for an sRGB color (bytes) into `into[at..at+2]`, rounded to bytes:
 * straight between the lattice points of the table. Colors the inks reach come back unchanged, but for rounding.
 */
export function printedInto(red: number, green: number, blue: number, into: Uint8Array, at: number): void {
  decoded ??= tableOf(GAMUT_TABLE);
  const table = decoded;
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

/** What process inks print for a color, and how far (CIEDE2000) that is from it. */
export type Printed = {
  readonly red: number;
  readonly green: number;
  readonly blue: number;
  readonly deltaE: number;
  readonly inGamut: boolean;
};

/** What process inks print for an sRGB color in bytes. */
export function printedColor(red: number, green: number, blue: number): Printed {
  const into = new Uint8Array(3);
  printedInto(red, green, blue, into, 0);
  const printed: Lab = labOfRgb([into[0]!, into[1]!, into[2]!]);
  const deltaE = ciede2000(labOfRgb([red, green, blue]), printed);
  return { red: into[0]!, green: into[1]!, blue: into[2]!, deltaE, inGamut: deltaE <= OUT_OF_GAMUT_DELTA_E };
}

/**
 * Undoes what `tests/tools/make-gamut-table.ts` does to make the table small: channel by channel, it is written how far
 * what is printed lies from what is asked, in steps of two levels, and of that only how it differs from what is foretold.
 */
function tableOf(text: string): Uint8ClampedArray {
  const side = GAMUT_SIDE;
  const table = new Uint8ClampedArray(3 * side ** 3);
  let from = 0;
  for (let channel = 0; channel < 3; channel++) {
    const shifts = new Int16Array(side ** 3);
    const at = (red: number, green: number, blue: number) =>
      red < 0 || green < 0 || blue < 0 ? 0 : shifts[(red * side + green) * side + blue]!;
    for (let red = 0; red < side; red++)
      for (let green = 0; green < side; green++)
        for (let blue = 0; blue < side; blue++) {
          let code = text.charCodeAt(from++) - FIRST_CODE;
          // a rare large one takes two more characters of four bits each
          if (code === LONG_CODE) {
            code = 16 * (text.charCodeAt(from) - FIRST_CODE) + text.charCodeAt(from + 1) - FIRST_CODE;
            from += 2;
          }
          // 0, 1, 2, 3, 4 stand for 0, -1, 1, -2, 2
          const difference = code % 2 === 0 ? code / 2 : -(code + 1) / 2;
          const entry = (red * side + green) * side + blue;
          const shift = foretoldShift(at, red, green, blue) + difference;
          shifts[entry] = shift;
          const asked = Math.round((255 * [red, green, blue][channel]!) / (side - 1));
          table[3 * entry + channel] = asked + 2 * shift;
        }
  }
  return table;
}

/**
 * What a lattice point's shift is likely to be, from its neighbors nearer to black: the middle one of what each of the
 * three has and of what a plane through all seven would have, which keeps to flat ground and to slopes alike.
 *
 * @param at the shift of a lattice point; 0 outside the lattice
 */
export function foretoldShift(
  at: (red: number, green: number, blue: number) => number,
  red: number,
  green: number,
  blue: number,
): number {
  const byRed = at(red - 1, green, blue);
  const byGreen = at(red, green - 1, blue);
  const byBlue = at(red, green, blue - 1);
  const plane =
    byRed +
    byGreen +
    byBlue -
    at(red - 1, green - 1, blue) -
    at(red - 1, green, blue - 1) -
    at(red, green - 1, blue - 1) +
    at(red - 1, green - 1, blue - 1);
  const sorted = [byRed, byGreen, byBlue, plane].sort((one, other) => one - other);
  return Math.round((sorted[1]! + sorted[2]!) / 2);
}

/** Character code of 0, and the code that says "long", as the maker of the table writes them. */
const FIRST_CODE = 48;
const LONG_CODE = 43;
