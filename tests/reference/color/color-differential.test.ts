import Color from 'colorjs.io';
import { converter, differenceCiede2000 } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/artwork/color/ciede2000.ts';
import { hexOfRgb } from '../../../src/artwork/color/hex.ts';
import { labOfRgb, type Rgb } from '../../../src/artwork/index.ts';

const byte = fc.integer({ min: 0, max: 255 });
const rgb = fc.tuple(byte, byte, byte);
const RUNS = { numRuns: 500 };

/** culori and colorjs.io are libraries of others, written apart from each other and from this. */
describe('beside culori and colorjs.io', () => {
  it('has the same Lab over D65', () => {
    const lab65 = converter('lab65');
    fc.assert(
      fc.property(rgb, (color) => {
        const hex = hexOfRgb(...color);
        const own = labOfRgb(color, 'D65');
        const theirs = lab65(hex)!;
        const others = new Color(hex).to('lab-d65').coords;
        expectNear(own, [theirs.l, theirs.a, theirs.b], 1e-4);
        expectNear(own, others, 1e-4);
      }),
      RUNS,
    );
  });

  it('has the same Lab over D50, by Bradford', () => {
    const lab50 = converter('lab');
    fc.assert(
      fc.property(rgb, (color) => {
        const hex = hexOfRgb(...color);
        const own = labOfRgb(color, 'D50');
        const theirs = lab50(hex)!;
        expectNear(own, [theirs.l, theirs.a, theirs.b], 1e-3);
        expectNear(own, new Color(hex).to('lab').coords, 1e-3);
      }),
      RUNS,
    );
  });

  it('has the same CIEDE2000: culori asks over D65, colorjs.io over D50', () => {
    const culori = differenceCiede2000();
    fc.assert(
      fc.property(rgb, rgb, (one, other) => {
        const hexes = [hexOfRgb(...one), hexOfRgb(...other)] as const;
        const over = (white: 'D65' | 'D50'): number =>
          ciede2000(labOfRgb(one, white), labOfRgb(other, white));
        expect(over('D65')).toBeCloseTo(culori(...hexes), 3);
        expect(over('D50')).toBeCloseTo(Color.deltaE2000(hexes[0], hexes[1]), 3);
      }),
      RUNS,
    );
  });
});

function expectNear(own: Rgb, theirs: readonly (number | null)[], within: number): void {
  own.forEach((value, index) => {
    expect(Math.abs(value - (theirs[index] ?? 0))).toBeLessThan(within);
  });
}
