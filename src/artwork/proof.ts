import { writePrintedColor } from './color/gamut.ts';
import { rgbOfHex } from './color/hex.ts';
import { labOfRgb } from './color/lab.ts';
import { whiteFor } from './color/separation.ts';
import { encodedOfLinear, LINEAR_OF_BYTE } from './color/srgb.ts';
import { assertRaster, type Raster } from './raster.ts';

/** How a method shows ink on a cloth. */
export type ProofMethod = {
  /** color of the cloth, `#rrggbb`. */
  readonly clothHex: string;
  /** whether white lies beneath the ink. Without, ink is a filter on the cloth: nothing gets lighter than the cloth. */
  readonly underbase: boolean;
  /** whether partly transparent ink prints as such, or is gone below half and solid from half up. */
  readonly softAlpha: 'prints' | 'lost';
  /** 0 (matt) to 4 (shining). */
  readonly gloss: number;
};

/** Light that a wholly matt print scatters over its ink, as a share of white. Assumed for the picture's sake. */
const MATTE_HAZE = 0.015;
/** Light that a wholly shining print mirrors at the middle of its sheen, as a share of white. Assumed, likewise. */
const SHEEN = 0.07;
const MAX_GLOSS = 4;

/**
 * The artwork as a method will show it on a cloth: colors moved to what process inks reach, white beneath only where the
 * plate has it, soft ink kept or lost, matt or with a sheen. Straight alpha, same size: lay it over the cloth's color.
 *
 * @throws RangeError when gloss is outside 0..4 or the cloth's color is not written `#rrggbb`.
 */
export function simulatePrint(raster: Raster, method: ProofMethod): Raster {
  assertRaster(raster);
  const { clothHex, underbase, softAlpha, gloss } = method;
  if (!(gloss >= 0 && gloss <= MAX_GLOSS))
    throw new RangeError(`gloss is ${gloss}; it must be from 0 to ${MAX_GLOSS}`);
  const { width, height } = raster;
  const inked = inkOn(clothHex, underbase, (MATTE_HAZE * (MAX_GLOSS - gloss)) / MAX_GLOSS);
  const sheen = (SHEEN * gloss) / MAX_GLOSS;
  const data = new Uint8Array(raster.data.length);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 4) {
      let alpha = raster.data[at + 3]!;
      if (softAlpha === 'lost') alpha = alpha >= 128 ? 255 : 0;
      if (alpha === 0) continue;
      inked(raster.data[at]!, raster.data[at + 1]!, raster.data[at + 2]!, data, at);
      if (sheen > 0) lighten(data, at, sheen * sheenAt(x / width, y / height));
      data[at + 3] = alpha;
    }
  return { width, height, data };
}

type InkOn = (red: number, green: number, blue: number, into: Uint8Array, at: number) => void;

/** What an ink looks like on the cloth; the colors met last are remembered, pictures repeat themselves. */
function inkOn(clothHex: string, underbase: boolean, haze: number): InkOn {
  const cloth = rgbOfHex(clothHex).map((byte) => LINEAR_OF_BYTE[byte]!);
  const slots = 1 << 16;
  const keys = new Int32Array(slots).fill(-1);
  const shown = new Uint8Array(3 * slots);
  const printed = new Uint8Array(3);
  return (red, green, blue, into, at) => {
    const key = (red << 16) | (green << 8) | blue;
    const slot = Math.imul(key, 0x9e3779b1) >>> 16;
    if (keys[slot] !== key) {
      keys[slot] = key;
      writePrintedColor(red, green, blue, printed, 0);
      const white = underbase ? whiteFor(labOfRgb([red, green, blue])[0]) : 0;
      for (let channel = 0; channel < 3; channel++) {
        const beneath = white + (1 - white) * cloth[channel]!;
        const light = LINEAR_OF_BYTE[printed[channel]!]! * beneath;
        shown[3 * slot + channel] = Math.round(255 * encodedOfLinear(light + haze * (1 - light)));
      }
    }
    into[at] = shown[3 * slot]!;
    into[at + 1] = shown[3 * slot + 1]!;
    into[at + 2] = shown[3 * slot + 2]!;
  };
}

/** A soft band of light from the lower left to the upper right, 0..1. */
function sheenAt(x: number, y: number): number {
  const across = (x - y) / 0.35;
  return Math.exp(-across * across);
}

function lighten(data: Uint8Array, at: number, share: number): void {
  for (let channel = 0; channel < 3; channel++)
    data[at + channel] = Math.round(data[at + channel]! + share * (255 - data[at + channel]!));
}
