/** A color as three bytes: red, green, blue, 0 to 255. */
export type Rgb = readonly [red: number, green: number, blue: number];

/**
 * Parses `#rrggbb`, upper or lower case.
 *
 * @throws RangeError when it is written otherwise.
 */
export function rgbOfHex(hex: string): Rgb {
  if (!/^#[0-9a-fA-F]{6}$/.test(hex)) throw new RangeError(`color is "${hex}"; it must be written #rrggbb`);
  const value = Number.parseInt(hex.slice(1), 16);
  return [value >>> 16, (value >>> 8) & 255, value & 255];
}

/** Formats `#RRGGBB`; channels are rounded and clamped to 0..255. */
export function hexOfRgb(red: number, green: number, blue: number): string {
  const value = (byteOf(red) << 16) | (byteOf(green) << 8) | byteOf(blue);
  return `#${value.toString(16).padStart(6, '0').toUpperCase()}`;
}

function byteOf(channel: number): number {
  const rounded = Math.round(channel);
  return rounded < 0 ? 0 : Math.min(rounded, 255);
}
