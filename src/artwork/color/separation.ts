/** Shares of the four process inks, each 0 (none) to 1 (full). */
export type Inks = { readonly c: number; readonly m: number; readonly y: number; readonly k: number };

/**
 * Separates an sRGB color (bytes, fractions allowed) into process inks with gray-component replacement:
 *
 *     u = 1 - max(R, G, B)          what all three colors have in common
 *     K = u² (2 - u)                black comes in slowly in the lights and takes the darks over wholly
 *     C = 1 - R - K                 and M, Y alike
 *
 * so that R = 1 - C - K holds exactly, grays run into black ink alone, next to black nothing jumps, no ink is under 0 or
 * over 1 and all four together never over 2.07. It is a formula of our own for estimating ink, not a printer's profile; a
 * shop's laydown figures are fitted to it.
 */
export function separate(red: number, green: number, blue: number): Inks {
  const common = 1 - Math.max(red, green, blue) / 255;
  const k = common * common * (2 - common);
  const rest = 1 - k;
  return { c: rest - red / 255, m: rest - green / 255, y: rest - blue / 255, k };
}

/** The sRGB color, 0..255 and not rounded, that the formula separates into these inks. */
export function combine(inks: Inks): [red: number, green: number, blue: number] {
  const light = 1 - inks.k;
  return [255 * (light - inks.c), 255 * (light - inks.m), 255 * (light - inks.y)];
}

/** Ink darker than this (L*) wants no white beneath it. Assumed; no published figure was found. */
const NO_WHITE_TO = 5;
/** Ink lighter than this (L*) wants full white beneath it. Assumed; no published figure was found. */
const FULL_WHITE_FROM = 50;

/**
 * White wanted beneath an ink of this lightness (L*, 0..100) on a cloth that is not white: 0 for black, 1 from L* 50 up,
 * straight in between. Times alpha it is the white plate.
 */
export function whiteFor(lightness: number): number {
  const share = (lightness - NO_WHITE_TO) / (FULL_WHITE_FROM - NO_WHITE_TO);
  return share < 0 ? 0 : Math.min(share, 1);
}
