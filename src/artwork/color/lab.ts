import type { Rgb } from './hex.ts';
import { rgbOfHex } from './hex.ts';
import { encodedOfLinear, LINEAR_OF_BYTE } from './srgb.ts';

/** CIE L*a*b*: L* 0..100, a* and b* about -128..128. */
export type Lab = readonly [lightness: number, a: number, b: number];
/** CIE XYZ with Y of white = 1. */
export type Xyz = readonly [x: number, y: number, z: number];
/** The reference white a Lab value is relative to. */
export type White = 'D65' | 'D50';

/** From the chromaticities x = 0.3127, y = 0.3290 and x = 0.3457, y = 0.3585. */
const WHITES: Record<White, Xyz> = {
  D65: [0.3127 / 0.329, 1, (1 - 0.3127 - 0.329) / 0.329],
  D50: [0.3457 / 0.3585, 1, (1 - 0.3457 - 0.3585) / 0.3585],
};

/** Linear sRGB to XYZ (D65), computed from the primaries of IEC 61966-2-1 at full precision. */
const TO_XYZ = [
  506752 / 1228815,
  87881 / 245763,
  12673 / 70218,
  87098 / 409605,
  175762 / 245763,
  12673 / 175545,
  7918 / 409605,
  87881 / 737289,
  1001167 / 1053270,
] as const;

const FROM_XYZ = invert3(TO_XYZ);

/** Cone responses of the Bradford adaptation, as in ICC.1. */
const BRADFORD = [0.8951, 0.2664, -0.1614, -0.7502, 1.7135, 0.0367, 0.0389, -0.0685, 1.0296] as const;
const D65_TO_D50 = adaptation(WHITES.D65, WHITES.D50);
const D50_TO_D65 = adaptation(WHITES.D50, WHITES.D65);

const EPSILON = 216 / 24389;
const KAPPA = 24389 / 27;

/** XYZ (D65) of linear sRGB light, each 0..1. */
export function xyzOfLinear(red: number, green: number, blue: number): Xyz {
  return apply3(TO_XYZ, red, green, blue);
}

/** Linear sRGB light of XYZ (D65); outside 0..1 for colors outside sRGB. */
export function linearOfXyz(x: number, y: number, z: number): Xyz {
  return apply3(FROM_XYZ, x, y, z);
}

/** XYZ relative to another white, by the Bradford transform. */
export function adaptXyz(xyz: Xyz, from: White, to: White): Xyz {
  if (from === to) return xyz;
  return apply3(from === 'D65' ? D65_TO_D50 : D50_TO_D65, xyz[0], xyz[1], xyz[2]);
}

/**
 * Lab of XYZ, both relative to the same white.
 *
 * @see ISO/CIE 11664-4, with the exact constants 216/24389 and 24389/27.
 */
export function labOfXyz(xyz: Xyz, white: White): Lab {
  const reference = WHITES[white];
  const fx = labCurve(xyz[0] / reference[0]);
  const fy = labCurve(xyz[1] / reference[1]);
  const fz = labCurve(xyz[2] / reference[2]);
  return [116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)];
}

/** XYZ of Lab, both relative to the same white. */
export function xyzOfLab(lab: Lab, white: White): Xyz {
  const reference = WHITES[white];
  const fy = (lab[0] + 16) / 116;
  const fx = fy + lab[1] / 500;
  const fz = fy - lab[2] / 200;
  return [
    reference[0] * inverseLabCurve(fx),
    reference[1] * (lab[0] > KAPPA * EPSILON ? fy ** 3 : lab[0] / KAPPA),
    reference[2] * inverseLabCurve(fz),
  ];
}

/** Lab of an sRGB color, 0..255 with fractions. Default white: D65. */
export function labOfRgb(rgb: Rgb, white: White = 'D65'): Lab {
  const xyz = xyzOfLinear(linearOfByte(rgb[0]), linearOfByte(rgb[1]), linearOfByte(rgb[2]));
  return labOfXyz(adaptXyz(xyz, 'D65', white), white);
}

/** L* of an sRGB color, 0..255 with fractions. */
export function lightnessOfRgb(red: number, green: number, blue: number): number {
  const luminance =
    TO_XYZ[3] * linearOfByte(red) + TO_XYZ[4] * linearOfByte(green) + TO_XYZ[5] * linearOfByte(blue);
  return 116 * labCurve(luminance) - 16;
}

/** Encoded sRGB of a Lab color, not rounded; outside 0..255 for colors outside sRGB. */
export function rgbOfLab(lab: Lab, white: White = 'D65'): Rgb {
  const [x, y, z] = adaptXyz(xyzOfLab(lab, white), white, 'D65');
  const [red, green, blue] = linearOfXyz(x, y, z);
  return [255 * encodedOfLinear(red), 255 * encodedOfLinear(green), 255 * encodedOfLinear(blue)];
}

/**
 * Lab (D65) of a color written `#rrggbb`.
 *
 * @throws RangeError when it is written otherwise.
 */
export function labOfHex(hex: string): Lab {
  return labOfRgb(rgbOfHex(hex));
}

function linearOfByte(byte: number): number {
  const low = Math.floor(byte);
  const at = LINEAR_OF_BYTE[low] ?? (byte <= 0 ? 0 : 1);
  const share = byte - low;
  if (share === 0 || low >= 255 || low < 0) return at;
  return at + share * (LINEAR_OF_BYTE[low + 1]! - at);
}

function labCurve(ratio: number): number {
  return ratio > EPSILON ? Math.cbrt(ratio) : (KAPPA * ratio + 16) / 116;
}

function inverseLabCurve(value: number): number {
  const cubed = value ** 3;
  return cubed > EPSILON ? cubed : (116 * value - 16) / KAPPA;
}

type Matrix = readonly number[];

function apply3(matrix: Matrix, a: number, b: number, c: number): Xyz {
  return [
    matrix[0]! * a + matrix[1]! * b + matrix[2]! * c,
    matrix[3]! * a + matrix[4]! * b + matrix[5]! * c,
    matrix[6]! * a + matrix[7]! * b + matrix[8]! * c,
  ];
}

function adaptation(from: Xyz, to: Xyz): Matrix {
  const source = apply3(BRADFORD, from[0], from[1], from[2]);
  const target = apply3(BRADFORD, to[0], to[1], to[2]);
  const scale = [target[0] / source[0], 0, 0, 0, target[1] / source[1], 0, 0, 0, target[2] / source[2]];
  return multiply3(invert3(BRADFORD), multiply3(scale, BRADFORD));
}

function multiply3(left: Matrix, right: Matrix): Matrix {
  const product: number[] = [];
  for (let row = 0; row < 3; row++)
    for (let column = 0; column < 3; column++) {
      let sum = 0;
      for (let k = 0; k < 3; k++) sum += left[3 * row + k]! * right[3 * k + column]!;
      product.push(sum);
    }
  return product;
}

function invert3(matrix: Matrix): Matrix {
  const [a, b, c, d, e, f, g, h, i] = matrix as [
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
    number,
  ];
  const determinant = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
  return [
    e * i - f * h,
    c * h - b * i,
    b * f - c * e,
    f * g - d * i,
    a * i - c * g,
    c * d - a * f,
    d * h - e * g,
    b * g - a * h,
    a * e - b * d,
  ].map((minor) => minor / determinant);
}
