/** Coverage of the four process inks, each 0 (none) to 1 (full). */
export type Inks = { readonly c: number; readonly m: number; readonly y: number; readonly k: number };

/**
 * Separates an sRGB color (0..255 with fractions) into process inks with gray component replacement:
 *
 *     u = 1 - max(R, G, B)          what the three colors have in common
 *     K = u² (2 - u)                little black in light colors, only black in the darkest ones
 *     C = 1 - R - K                 likewise M and Y
 *
 * So R = 1 - C - K holds exactly, dark grays become pure black ink, there is no jump near black, every ink is within 0 to
 * 1, and their sum is at most 2.07. This is our own formula for estimating ink, not a printer's profile; a shop's laydown
 * figures are calibrated to it.
 */
export function separate(red: number, green: number, blue: number): Inks {
  const common = 1 - Math.max(red, green, blue) / 255;
  const k = common * common * (2 - common);
  const rest = 1 - k;
  return { c: rest - red / 255, m: rest - green / 255, y: rest - blue / 255, k };
}

/** The sRGB color, 0..255 and not rounded, that `separate` separates into these inks. */
export function combine(inks: Inks): [red: number, green: number, blue: number] {
  const light = 1 - inks.k;
  return [255 * (light - inks.c), 255 * (light - inks.m), 255 * (light - inks.y)];
}

/** Ink of at most this L* gets no white beneath it. Assumed; no published figure was found. */
const NO_WHITE_TO = 5;
/** Ink of at least this L* gets full white beneath it. Assumed; no published figure was found. */
const FULL_WHITE_FROM = 50;

/**
 * Coverage of white beneath an ink of this lightness (L*, 0..100) on a cloth that is not white: 0 up to L* 5, 1 from L* 50
 * up, linear in between. Multiplied by alpha, it is the underbase.
 */
export function whiteFor(lightness: number): number {
  const share = (lightness - NO_WHITE_TO) / (FULL_WHITE_FROM - NO_WHITE_TO);
  return share < 0 ? 0 : Math.min(share, 1);
}
