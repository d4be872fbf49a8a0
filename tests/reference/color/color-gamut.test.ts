import fc from 'fast-check';
import * as lcms from 'lcms-wasm';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/artwork/color/ciede2000.ts';
import { OUT_OF_GAMUT_DELTA_E, printedColor } from '../../../src/artwork/color/gamut.ts';
import { rgbOfHex } from '../../../src/artwork/color/hex.ts';
import { type Lab, labOfRgb, rgbOfLab } from '../../../src/artwork/color/lab.ts';

/** Whether the neon colors of screens print is common practice's answer, not a published table's. */
const OUT = ['#39FF14', '#FF10F0', '#00FFFF', '#FF5F00', '#00FF00', '#0000FF', '#FF00FF'];
const IN = [
  '#2E5A88',
  '#808080',
  '#000000',
  '#FFFFFF',
  '#C8102E',
  '#007A3D',
  '#FFCD00',
  '#1B2A49',
  '#EBE6DC',
  '#9AA0A6',
];

describe('what process inks reach', () => {
  it.each(OUT)('%s is out', (hex) => {
    expect(printedColor(...rgbOfHex(hex)).inGamut).toBe(false);
  });

  it.each(IN)('%s is in, and prints as it is', (hex) => {
    const printed = printedColor(...rgbOfHex(hex));
    expect(printed.inGamut).toBe(true);
    expect(printed.deltaE).toBeLessThan(1);
  });

  it('keeps every gray in: no gray is ever said to print wrong', () => {
    for (let gray = 0; gray < 256; gray++) expect(printedColor(gray, gray, gray).inGamut).toBe(true);
  });

  it('prints nothing more colorful than itself: what prints is itself nearly in gamut', () => {
    const byte = fc.integer({ min: 0, max: 255 });
    fc.assert(
      fc.property(byte, byte, byte, (red, green, blue) => {
        const once = printedColor(red, green, blue);
        const twice = printedColor(once.red, once.green, once.blue);
        // The table is straight between points 16 levels apart; at the bent border of the gamut that costs a little.
        expect(twice.deltaE).toBeLessThan(OUT_OF_GAMUT_DELTA_E + 1);
      }),
    );
  });
});

/** The profile itself, asked through Little CMS: an engine apart from ours and from what made the table. */
describe('beside the profile', () => {
  let printInks: (inks: readonly number[]) => Lab;

  beforeAll(async () => {
    const { icc } = await sharp(
      await sharp({ create: { width: 1, height: 1, channels: 3, background: '#888' } })
        .toColourspace('cmyk')
        .withIccProfile('cmyk')
        .tiff()
        .toBuffer(),
    ).metadata();
    const engine = await lcms.instantiate();
    const lab = engine.cmsCreateLab4Profile();
    const transform = engine.cmsCreateTransform(
      engine.cmsOpenProfileFromMem(new Uint8Array(icc!), icc!.length),
      lcms.TYPE_CMYK_8,
      lab,
      engine.cmsFormatterForColorspaceOfProfile(lab, 4, true),
      1,
      lcms.cmsFLAGS_BLACKPOINTCOMPENSATION,
    );
    printInks = (inks) => {
      const told = engine.cmsDoTransform(transform, Uint8Array.from(inks), 1);
      return [told[0]!, told[1]!, told[2]!];
    };
  });

  it('calls the profile public domain, as its copyright tag does', async () => {
    const { icc } = await sharp(
      await sharp({ create: { width: 1, height: 1, channels: 3, background: '#888' } })
        .toColourspace('cmyk')
        .withIccProfile('cmyk')
        .tiff()
        .toBuffer(),
    ).metadata();
    expect(icc!.toString('latin1')).toContain('Released into the public domain');
  });

  it('takes every color the inks print, inside sRGB, for reachable: no false alarm', () => {
    const ink = fc.integer({ min: 0, max: 255 });
    let asked = 0;
    fc.assert(
      fc.property(ink, ink, ink, ink, (c, m, y, k) => {
        const lab = printInks([c, m, y, k]);
        const rgb = rgbOfLab(lab, 'D50');
        if (rgb.some((channel) => channel < 0 || channel > 255)) return;
        asked++;
        const bytes = rgb.map(Math.round) as [number, number, number];
        const printed = printedColor(...bytes);
        const off = ciede2000(labOfRgb([printed.red, printed.green, printed.blue], 'D50'), lab);
        expect(off).toBeLessThan(OUT_OF_GAMUT_DELTA_E + 0.5);
      }),
      { numRuns: 400 },
    );
    expect(asked).toBeGreaterThan(100);
  });
});
