/**
 * Linear light, 0..1, of an encoded sRGB value, 0..1.
 *
 * @see IEC 61966-2-1:1999, transfer function.
 */
export function linearOfEncoded(encoded: number): number {
  return encoded <= 0.04045 ? encoded / 12.92 : ((encoded + 0.055) / 1.055) ** 2.4;
}

/**
 * Encoded sRGB value, 0..1, of linear light, 0..1. The curve is extended beyond that range, so that colors outside sRGB
 * stay distinguishable.
 *
 * @see IEC 61966-2-1:1999, inverse transfer function.
 */
export function encodedOfLinear(linear: number): number {
  if (linear < 0) return -encodedOfLinear(-linear);
  return linear <= 0.0031308 ? linear * 12.92 : 1.055 * linear ** (1 / 2.4) - 0.055;
}

/** Linear light of each byte 0..255. */
export const LINEAR_OF_BYTE: Float64Array = Float64Array.from({ length: 256 }, (_, byte) =>
  linearOfEncoded(byte / 255),
);
