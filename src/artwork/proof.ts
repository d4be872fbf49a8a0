import { COLOR_SLOTS, ColorCache } from './color/color-cache.ts';
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
  /** whether white is printed beneath the ink. Without it, ink filters the cloth: nothing is lighter than the cloth. */
  readonly underbase: boolean;
  /** whether partly transparent ink prints, or is lost below half alpha and solid from half alpha up. */
  readonly softAlpha: 'prints' | 'lost';
  /** 0 (matte) to 4 (glossy). */
  readonly gloss: number;
};

/** Light scattered by the surface of a fully matte print, as a share of white. Assumed. */
const MATTE_HAZE = 0.015;
/** Light reflected by a fully glossy print at the center of its highlight, as a share of white. Assumed. */
const SHEEN = 0.07;
const MAX_GLOSS = 4;

/**
 * Simulates the print (soft proof): colors as process inks print them, white beneath as in the underbase, soft ink kept
 * or lost, matte or glossy. Same size, straight alpha, to be composited over the color of the cloth.
 *
 * @throws RangeError for an invalid raster, a gloss outside 0..4, or a cloth color that is not written `#rrggbb`.
 */
export function simulatePrint(raster: Raster, method: ProofMethod): Raster {
  assertRaster(raster);
  const { clothHex, underbase, softAlpha, gloss } = method;
  if (!(gloss >= 0 && gloss <= MAX_GLOSS))
    throw new RangeError(`gloss is ${gloss}; it must be from 0 to ${MAX_GLOSS}`);
  const { width, height } = raster;
  const writeInk = inkWriter(clothHex, underbase, (MATTE_HAZE * (MAX_GLOSS - gloss)) / MAX_GLOSS);
  const sheen = (SHEEN * gloss) / MAX_GLOSS;
  const data = new Uint8Array(raster.data.length);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 4) {
      let alpha = raster.data[at + 3]!;
      if (softAlpha === 'lost') alpha = alpha >= 128 ? 255 : 0;
      if (alpha === 0) continue;
      writeInk(raster.data[at]!, raster.data[at + 1]!, raster.data[at + 2]!, data, at);
      if (sheen > 0) lighten(data, at, sheen * sheenAt(x / width, y / height));
      data[at + 3] = alpha;
    }
  return { width, height, data };
}

type InkWriter = (red: number, green: number, blue: number, into: Uint8Array, at: number) => void;

/** Writes the color of an ink as it appears on the cloth. */
function inkWriter(clothHex: string, underbase: boolean, haze: number): InkWriter {
  const cloth = rgbOfHex(clothHex).map((byte) => LINEAR_OF_BYTE[byte]!);
  const colors = new Uint8Array(3 * COLOR_SLOTS);
  const printed = new Uint8Array(3);
  const cache = new ColorCache((slot, red, green, blue) => {
    writePrintedColor(red, green, blue, printed, 0);
    const white = underbase ? whiteFor(labOfRgb([red, green, blue])[0]) : 0;
    for (let channel = 0; channel < 3; channel++) {
      const beneath = white + (1 - white) * cloth[channel]!;
      const light = LINEAR_OF_BYTE[printed[channel]!]! * beneath;
      colors[3 * slot + channel] = Math.round(255 * encodedOfLinear(light + haze * (1 - light)));
    }
  });
  return (red, green, blue, into, at) => {
    const from = 3 * cache.slotOf(red, green, blue);
    into[at] = colors[from]!;
    into[at + 1] = colors[from + 1]!;
    into[at + 2] = colors[from + 2]!;
  };
}

/** Strength of the highlight, 0..1: a soft band from the lower left to the upper right; x and y are 0..1. */
function sheenAt(x: number, y: number): number {
  const across = (x - y) / 0.35;
  return Math.exp(-across * across);
}

function lighten(data: Uint8Array, at: number, share: number): void {
  for (let channel = 0; channel < 3; channel++)
    data[at + channel] = Math.round(data[at + channel]! + share * (255 - data[at + channel]!));
}
