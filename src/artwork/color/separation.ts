/** Shares of the four process inks, each 0 (none) to 1 (full). */
export type Inks = { readonly c: number; readonly m: number; readonly y: number; readonly k: number };

/**
 * Separates an sRGB color (bytes, fractions allowed) into process inks with gray-component replacement:
 *
 *     u = 1 - max(R, G, B)          what all three colors have in common
 *     K = u²                        black takes its part over slowly in the lights, wholly in the darks
 *     C = (1 - R - K) / (1 - K)     and M, Y alike; all 0 where K is 1
 *
 * so that R = (1 - C)(1 - K) holds exactly, black is black ink alone, and no ink is under 0 or over 1. It is a formula of
 * our own for estimating ink, not a printer's profile; a shop's laydown figures are fitted to it.
 */
export function separate(red: number, green: number, blue: number): Inks {
  const most = Math.max(red, green, blue);
  const common = 1 - most / 255;
  const k = common * common;
  const rest = 1 - k;
  if (rest <= 0) return { c: 0, m: 0, y: 0, k: 1 };
  const ofInk = 1 / (255 * rest);
  return {
    c: (255 * rest - red) * ofInk,
    m: (255 * rest - green) * ofInk,
    y: (255 * rest - blue) * ofInk,
    k,
  };
}

/** The sRGB color, 0..255 and not rounded, that the formula separates into these inks. */
export function combine(inks: Inks): [red: number, green: number, blue: number] {
  const light = 255 * (1 - inks.k);
  return [(1 - inks.c) * light, (1 - inks.m) * light, (1 - inks.y) * light];
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
