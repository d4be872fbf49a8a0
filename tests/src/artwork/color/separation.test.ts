import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { combine, separate, whiteFor } from '../../../../src/artwork/color/separation.ts';

const channel = fc.double({ min: 0, max: 255, noNaN: true });

describe('separation into process inks', () => {
  it('comes back to the same color, with every ink from none to full', () => {
    fc.assert(
      fc.property(channel, channel, channel, (red, green, blue) => {
        const inks = separate(red, green, blue);
        for (const ink of Object.values(inks)) {
          expect(ink).toBeGreaterThanOrEqual(-1e-9);
          expect(ink).toBeLessThanOrEqual(1 + 1e-9);
        }
        const back = combine(inks);
        [red, green, blue].forEach((value, index) => {
          expect(back[index]).toBeCloseTo(value, 4);
        });
      }),
    );
  });

  it('prints black with black alone, white with nothing, pure colors without black', () => {
    expect(separate(0, 0, 0)).toEqual({ c: 0, m: 0, y: 0, k: 1 });
    expect(separate(255, 255, 255)).toEqual({ c: 0, m: 0, y: 0, k: 0 });
    expect(separate(0, 255, 255)).toEqual({ c: 1, m: 0, y: 0, k: 0 });
    expect(separate(255, 0, 0)).toEqual({ c: 0, m: 1, y: 1, k: 0 });
  });

  it('shares middle gray by the formula: u = 1/2, K = 1/4 * 3/2 = 3/8, C = M = Y = 1/2 - 3/8 = 1/8', () => {
    const { c, m, y, k } = separate(127.5, 127.5, 127.5);
    expect(k).toBeCloseTo(3 / 8, 12);
    expect([c, m, y].map((ink) => ink.toFixed(12))).toEqual(Array(3).fill((1 / 8).toFixed(12)));
  });

  it('has no jump anywhere: a channel one step on, no ink moves by more than a hundredth', () => {
    const byte = fc.integer({ min: 0, max: 254 });
    fc.assert(
      fc.property(byte, byte, byte, (red, green, blue) => {
        const one = separate(red, green, blue);
        const next = separate(red, green, blue + 1);
        for (const ink of ['c', 'm', 'y', 'k'] as const)
          expect(Math.abs(one[ink] - next[ink])).toBeLessThan(0.01);
      }),
    );
  });

  it('never takes more than 2.07 of the inks together', () => {
    fc.assert(
      fc.property(channel, channel, channel, (red, green, blue) => {
        const { c, m, y, k } = separate(red, green, blue);
        expect(c + m + y + k).toBeLessThanOrEqual(2.07);
      }),
    );
  });
});

describe('white beneath', () => {
  it('is none for black, full from L* 50, half at 27.5, and never less for a lighter ink', () => {
    expect([0, 5, 27.5, 50, 100].map(whiteFor)).toEqual([0, 0, 0.5, 1, 1]);
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: 100, noNaN: true }),
        fc.double({ min: 0, max: 100, noNaN: true }),
        (a, b) => {
          expect(whiteFor(Math.min(a, b))).toBeLessThanOrEqual(whiteFor(Math.max(a, b)));
        },
      ),
    );
  });
});
