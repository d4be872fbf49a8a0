/**
 * Makes src/artwork/color/gamut-table.ts: for a lattice of sRGB colors, the nearest color four process inks can print.
 * Run with `npx tsx tests/tools/generators/make-gamut-table.ts` after a change here.
 *
 * The printer is the CMYK profile that ships with sharp ("Chemical proof"; its copyright tag reads "Released into the
 * public domain. No Warranty, Use at your own risk."). Only the profile's forward direction (ink to Lab,
 * media-relative, with black point compensation) is used: its inverse tables are several CIEDE2000 units off even
 * inside the gamut. For every lattice color, the inks with the least CIEDE2000 are searched: first a coarse grid of
 * inks, then pattern search from the best few.
 */
import { writeFileSync } from 'node:fs';
import * as lcms from 'lcms-wasm';
import sharp from 'sharp';
import { ciede2000 } from '../../../src/artwork/color/ciede2000.ts';
import { predictedShift, shiftAt } from '../../../src/artwork/color/gamut.ts';
import { type Lab, labOfRgb, rgbOfLab } from '../../../src/artwork/color/lab.ts';

const SIDE = 17;
const GRID = 21;
/** Error of the search (CIEDE2000) for colors that the inks print. */
const REACHED_DELTA_E = 1;

const print = await profileForward();
const grid = printGrid();
const table = new Uint8Array(3 * SIDE ** 3);
for (let red = 0; red < SIDE; red++)
  for (let green = 0; green < SIDE; green++)
    for (let blue = 0; blue < SIDE; blue++) {
      const wanted = labOfRgb([level(red), level(green), level(blue)], 'D50');
      const printed = nearest(wanted);
      const at = 3 * ((red * SIDE + green) * SIDE + blue);
      const rgb = rgbOfLab(printed, 'D50');
      for (let channel = 0; channel < 3; channel++)
        table[at + channel] = Math.min(255, Math.max(0, Math.round(rgb[channel]!)));
    }

const text = packed(table);
writeFileSync(
  new URL('../../../src/artwork/color/gamut-table.ts', import.meta.url),
  `/**
 * Made by tests/tools/generators/make-gamut-table.ts from the public-domain CMYK profile "Chemical proof"; do not edit.
 * ${SIDE} x ${SIDE} x ${SIDE} entries of three channels, blue slowest, red fastest: the sRGB color that process inks print for the
 * sRGB color (255 r / ${SIDE - 1}, 255 g / ${SIDE - 1}, 255 b / ${SIDE - 1}). Encoded as shifts from that color, and those as differences from
 * a prediction, so that a page has less to load; gamut.ts decodes it.
 */
export const GAMUT_SIDE = ${SIDE};

export const GAMUT_TABLE =
  '${text}';
`,
);

/**
 * The table in the encoding of gamut.ts. Colors within reach of the inks have no shift; the others have one in steps of
 * two levels, which is far below what is visible. Most shifts then equal their prediction.
 */
function packed(printed: Uint8Array): string {
  const shifts = new Int16Array(printed.length);
  let out = '';
  for (let blue = 0; blue < SIDE; blue++)
    for (let green = 0; green < SIDE; green++)
      for (let red = 0; red < SIDE; red++) {
        const asked = [level(red), level(green), level(blue)].map(Math.round) as [number, number, number];
        const entry = shiftAt(red, green, blue, 0);
        const got = [printed[entry]!, printed[entry + 1]!, printed[entry + 2]!] as const;
        const reached = ciede2000(labOfRgb(asked), labOfRgb(got)) < REACHED_DELTA_E;
        for (let channel = 0; channel < 3; channel++) {
          const shift = reached ? 0 : Math.round((got[channel]! - asked[channel]!) / 2);
          const difference = shift - predictedShift(shifts, red, green, blue, channel);
          const code = difference < 0 ? -2 * difference - 1 : 2 * difference;
          // One plain character each, none that needs escaping in a literal.
          if (code > 43)
            throw new Error(`a difference of ${difference} at ${red}, ${green}, ${blue}: at most 21`);
          shifts[entry + channel] = shift;
          out += String.fromCharCode(48 + code);
        }
      }
  return out;
}

function level(index: number): number {
  return (255 * index) / (SIDE - 1);
}

async function profileForward(): Promise<(inks: Float64Array | number[], count: number) => Float32Array> {
  const { icc } = await sharp(
    await sharp({ create: { width: 1, height: 1, channels: 3, background: '#888' } })
      .toColourspace('cmyk')
      .withIccProfile('cmyk')
      .tiff()
      .toBuffer(),
  ).metadata();
  if (icc === undefined) throw new Error('sharp embedded no profile');
  const engine = await lcms.instantiate();
  const cmyk = engine.cmsOpenProfileFromMem(new Uint8Array(icc), icc.length);
  const lab = engine.cmsCreateLab4Profile();
  const transform = engine.cmsCreateTransform(
    cmyk,
    lcms.TYPE_CMYK_16,
    lab,
    engine.cmsFormatterForColorspaceOfProfile(lab, 4, true),
    1, // relative colorimetric
    lcms.cmsFLAGS_BLACKPOINTCOMPENSATION | lcms.cmsFLAGS_NOCACHE,
  );
  return (inks, count) =>
    engine.cmsDoTransform(
      transform,
      Uint16Array.from(inks, (share) => Math.round(65535 * share)),
      count,
    ) as Float32Array;
}

function printGrid(): Float32Array {
  const shares: number[] = [];
  for (let c = 0; c < GRID; c++)
    for (let m = 0; m < GRID; m++)
      for (let y = 0; y < GRID; y++) for (let k = 0; k < GRID; k++) shares.push(c, m, y, k);
  return print(
    shares.map((index) => index / (GRID - 1)),
    GRID ** 4,
  );
}

function nearest(wanted: Lab): Lab {
  const starts: { at: number; distance: number }[] = [];
  for (let at = 0; at < GRID ** 4; at++) {
    const distance =
      (grid[3 * at]! - wanted[0]) ** 2 +
      (grid[3 * at + 1]! - wanted[1]) ** 2 +
      (grid[3 * at + 2]! - wanted[2]) ** 2;
    if (starts.length < 12) starts.push({ at, distance });
    else if (distance < starts[11]!.distance) starts[11] = { at, distance };
    else continue;
    starts.sort((one, other) => one.distance - other.distance);
  }
  let best: Lab = [0, 0, 0];
  let least = Number.POSITIVE_INFINITY;
  for (const start of starts) {
    const found = descend(wanted, start.at);
    if (found.distance < least) {
      least = found.distance;
      best = found.lab;
    }
    if (least < 0.2) break;
  }
  return best;
}

/** Lab between grid points, linear in all four inks. */
function printed(inks: readonly number[]): Lab {
  const low = inks.map((ink) => Math.min(GRID - 2, Math.floor(ink * (GRID - 1))));
  const share = inks.map((ink, index) => ink * (GRID - 1) - low[index]!);
  const lab: [number, number, number] = [0, 0, 0];
  for (let corner = 0; corner < 16; corner++) {
    let weight = 1;
    let at = 0;
    for (let ink = 0; ink < 4; ink++) {
      const up = (corner >> ink) & 1;
      weight *= up === 1 ? share[ink]! : 1 - share[ink]!;
      at = at * GRID + low[ink]! + up;
    }
    if (weight === 0) continue;
    lab[0] += weight * grid[3 * at]!;
    lab[1] += weight * grid[3 * at + 1]!;
    lab[2] += weight * grid[3 * at + 2]!;
  }
  return lab;
}

function descend(wanted: Lab, start: number): { lab: Lab; distance: number } {
  let inks = [
    Math.floor(start / GRID ** 3),
    Math.floor(start / GRID ** 2) % GRID,
    Math.floor(start / GRID) % GRID,
    start % GRID,
  ].map((index) => index / (GRID - 1));
  let lab = printed(inks);
  let distance = ciede2000(lab, wanted);
  for (let step = 0.05; step > 0.002; ) {
    let better = false;
    for (let ink = 0; ink < 4; ink++)
      for (const sign of [-1, 1]) {
        const tried = [...inks];
        tried[ink] = Math.min(1, Math.max(0, tried[ink]! + sign * step));
        const triedLab = printed(tried);
        const triedDistance = ciede2000(triedLab, wanted);
        if (triedDistance < distance) {
          inks = tried;
          lab = triedLab;
          distance = triedDistance;
          better = true;
        }
      }
    if (!better) step /= 2;
  }
  return { lab, distance };
}
