import fc from 'fast-check';
import * as lcms from 'lcms-wasm';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/artwork/color/ciede2000.ts';
import { OUT_OF_GAMUT_DELTA_E, printedColor } from '../../../src/artwork/color/gamut.ts';
import { rgbOfHex } from '../../../src/artwork/color/hex.ts';
import { type Lab, labOfRgb, rgbOfLab } from '../../../src/artwork/color/lab.ts';

/** That neon colors do not print is common practice in the trade, not a published table. */
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

describe('the gamut of process inks', () => {
  it.each(OUT)('does not contain %s', (hex) => {
    expect(printedColor(...rgbOfHex(hex)).inGamut).toBe(false);
  });

  it.each(IN)('contains %s, which prints unchanged', (hex) => {
    const printed = printedColor(...rgbOfHex(hex));
    expect(printed.inGamut).toBe(true);
    expect(printed.deltaE).toBeLessThan(1);
  });

  it('contains every gray', () => {
    for (let gray = 0; gray < 256; gray++) expect(printedColor(gray, gray, gray).inGamut).toBe(true);
  });

  it('maps every color to one that is itself nearly in gamut', () => {
    const byte = fc.integer({ min: 0, max: 255 });
    fc.assert(
      fc.property(byte, byte, byte, (red, green, blue) => {
        const once = printedColor(red, green, blue);
        const twice = printedColor(once.red, once.green, once.blue);
        // The table is linear between points 16 levels apart, which is slightly off at the curved border of the gamut.
        expect(twice.deltaE).toBeLessThan(OUT_OF_GAMUT_DELTA_E + 1);
      }),
    );
  });
});

/** The profile itself through Little CMS, which is independent of our code. */
describe('compared with the profile', () => {
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

  it('uses a profile in the public domain, according to its copyright tag', async () => {
    const { icc } = await sharp(
      await sharp({ create: { width: 1, height: 1, channels: 3, background: '#888' } })
        .toColourspace('cmyk')
        .withIccProfile('cmyk')
        .tiff()
        .toBuffer(),
    ).metadata();
    expect(icc!.toString('latin1')).toContain('Released into the public domain');
  });

  it('contains every color within sRGB that the inks print: no false alarm', () => {
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
