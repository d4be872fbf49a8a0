import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { hexOfRgb, rgbOfHex } from '../../../src/artwork/color/hex.ts';
import {
  adaptXyz,
  labOfRgb,
  labOfXyz,
  lightnessOfRgb,
  rgbOfLab,
  xyzOfLab,
  xyzOfLinear,
} from '../../../src/artwork/color/lab.ts';
import { encodedOfLinear, LINEAR_OF_BYTE, linearOfEncoded } from '../../../src/artwork/color/srgb.ts';

/**
 * sRGB by IEC 61966-2-1:1999, Lab by ISO/CIE 11664-4, D65 to D50 by the Bradford transform as in ICC.1; figures computed
 * with colorjs.io 0.7.1 and confirmed with culori 4.0.2.
 * hex, XYZ (D65, Y of white 1), Lab (D65), Lab (D50).
 */
const COLORS = `
#000000 0.00000 0.00000 0.00000 0.0000 0.0000 0.0000 0.0000 0.0000 0.0000
#ffffff 0.95046 1.00000 1.08906 100.0000 0.0000 0.0000 100.0000 0.0000 0.0000
#ff0000 0.41239 0.21264 0.01933 53.2371 80.0901 67.2033 54.2905 80.8049 69.8910
#00ff00 0.35758 0.71517 0.11919 87.7355 -86.1816 83.1866 87.8185 -79.2711 80.9946
#0000ff 0.18048 0.07219 0.95053 32.3009 79.1953 -107.8555 29.5683 68.2874 -112.0297
#00ffff 0.53807 0.78736 1.06973 91.1148 -48.0789 -14.1290 90.6660 -50.6565 -14.9617
#ff00ff 0.59287 0.28483 0.96986 60.3227 98.2374 -60.8289 60.1689 93.5396 -60.5008
#ffff00 0.76998 0.92781 0.13853 97.1386 -21.5600 94.4838 97.6070 -15.7498 93.3936
#808080 0.20517 0.21586 0.23508 53.5850 0.0000 0.0000 53.5850 0.0000 0.0000
#777777 0.17534 0.18447 0.20090 50.0344 0.0000 0.0000 50.0344 0.0000 0.0000
#404040 0.04873 0.05127 0.05584 27.0934 0.0000 0.0000 27.0934 0.0000 0.0000
#c0c0c0 0.50100 0.52712 0.57406 77.7044 0.0000 0.0000 77.7044 0.0000 0.0000
#1f2a44 0.02436 0.02365 0.05797 17.2945 3.9129 -17.8299 17.0610 1.7628 -18.1165
#ffa500 0.54694 0.48173 0.06418 74.9339 23.9269 78.9530 75.5899 27.5162 79.1208
#228b22 0.10181 0.18920 0.04629 50.5935 -49.5849 45.0195 50.6423 -45.7157 44.0315
#ffc0cb 0.70866 0.63273 0.64982 83.5857 24.1417 3.3247 83.7873 24.4368 3.7594
#010101 0.00029 0.00030 0.00033 0.2742 0.0000 0.0000 0.2742 0.0000 0.0000
#0a0a0a 0.00288 0.00304 0.00331 2.7417 0.0000 0.0000 2.7417 0.0000 0.0000`
  .trim()
  .split('\n')
  .map((line) => {
    const [hex, ...figures] = line.split(' ');
    return [hex!, figures.map(Number)] as const;
  });

const byte = fc.integer({ min: 0, max: 255 });

describe('sRGB, XYZ and Lab', () => {
  it.each(COLORS)('puts %s where the published formulas do', (hex, figures) => {
    const [red, green, blue] = rgbOfHex(hex);
    const xyz = xyzOfLinear(LINEAR_OF_BYTE[red]!, LINEAR_OF_BYTE[green]!, LINEAR_OF_BYTE[blue]!);
    const told = [...xyz, ...labOfRgb([red, green, blue]), ...labOfRgb([red, green, blue], 'D50')];
    told.forEach((value, index) => {
      expect(Math.abs(value - figures[index]!), `figure ${index} of ${hex}`).toBeLessThan(
        index < 3 ? 1e-5 : 1e-3,
      );
    });
    expect(lightnessOfRgb(red, green, blue)).toBeCloseTo(figures[3]!, 3);
  });

  it('keeps every gray without color, to 1e-4', () => {
    for (let gray = 0; gray < 256; gray++)
      for (const white of ['D65', 'D50'] as const) {
        const [, a, b] = labOfRgb([gray, gray, gray], white);
        expect(Math.abs(a)).toBeLessThan(1e-4);
        expect(Math.abs(b)).toBeLessThan(1e-4);
      }
  });

  it('turns where IEC 61966-2-1 does: 0.04045 and 0.0031308', () => {
    expect(linearOfEncoded(0.04045)).toBeCloseTo(0.04045 / 12.92, 12);
    expect(linearOfEncoded(0.5)).toBeCloseTo(0.214041, 6);
    expect(encodedOfLinear(0.0031308)).toBeCloseTo(0.0031308 * 12.92, 12);
    expect(encodedOfLinear(linearOfEncoded(0.7))).toBeCloseTo(0.7, 12);
  });

  it('comes back from Lab to the same bytes, over either white', () => {
    fc.assert(
      fc.property(
        byte,
        byte,
        byte,
        fc.constantFrom('D65' as const, 'D50' as const),
        (red, green, blue, white) => {
          const back = rgbOfLab(labOfRgb([red, green, blue], white), white);
          // + 0 turns -0 into 0.
          expect(back.map((channel) => Math.round(channel) + 0)).toEqual([red, green, blue]);
        },
      ),
    );
  });

  it('undoes adaptation and Lab exactly', () => {
    const xyz = [0.3, 0.4, 0.2] as const;
    const there = adaptXyz(adaptXyz(xyz, 'D65', 'D50'), 'D50', 'D65');
    const back = xyzOfLab(labOfXyz(xyz, 'D65'), 'D65');
    for (let index = 0; index < 3; index++) {
      expect(there[index]).toBeCloseTo(xyz[index]!, 12);
      expect(back[index]).toBeCloseTo(xyz[index]!, 12);
    }
  });
});

describe('colors written as hex', () => {
  it('reads either case and writes upper', () => {
    expect(rgbOfHex('#1b2A49')).toEqual([27, 42, 73]);
    expect(hexOfRgb(27, 42, 73)).toBe('#1B2A49');
    expect(hexOfRgb(-3, 255.4, 300)).toBe('#00FFFF');
  });

  it.each(['', '#fff', '1b2a49', '#1b2a4g', '#1b2a490', 'navy'])('refuses %j, naming it', (hex) => {
    expect(() => rgbOfHex(hex)).toThrow(`color is "${hex}"; it must be written #rrggbb`);
  });
});
