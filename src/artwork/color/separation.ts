/** Shares of the four process inks, each 0 (none) to 1 (full). */
export type Inks = { readonly c: number; readonly m: number; readonly y: number; readonly k: number };

/**
 * Separates an sRGB color (bytes, fractions allowed) into process inks with gray-component replacement:
 *
 *     V = max(R, G, B), u = 1 - V   u: what all three colors have in common
 *     K = u² (2 - u)                black comes in slowly in the lights and takes the darks over wholly
 *     C = (1 - R - K) / (1 - K)     and M, Y alike; all 0 for black
 *
 * so that R = (1 - C)(1 - K) holds exactly, grays run into black ink alone without a jump, no ink is under 0 or over 1
 * and all four together never over 3. It is a formula of our own for estimating ink, not a printer's profile; a shop's
 * laydown figures are fitted to it.
 */
export function separate(red: number, green: number, blue: number): Inks {
  const most = Math.max(red, green, blue);
  if (most <= 0) return { c: 0, m: 0, y: 0, k: 1 };
  const common = 1 - most / 255;
  // 1 - K is V (1 + u - u²): written so, nothing is lost next to black.
  const rest = 1 + common - common * common;
  return {
    c: 1 - red / most / rest,
    m: 1 - green / most / rest,
    y: 1 - blue / most / rest,
    k: common * common * (2 - common),
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
