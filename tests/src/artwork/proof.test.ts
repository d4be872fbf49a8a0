import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../src/artwork/color/ciede2000.ts';
import { labOfHex, labOfRgb } from '../../../src/artwork/color/lab.ts';
import { type ProofMethod, simulatePrint } from '../../../src/artwork/proof.ts';
import { canvas, disc, paint, pixelAt, sameBytes } from './drawing.ts';

const PLAIN: ProofMethod = { clothHex: '#1A1A1A', underbase: true, softAlpha: 'prints', gloss: 1 };

function shown(inkHex: string, method: Partial<ProofMethod>): [number, number, number] {
  const [red, green, blue] = pixelAt(simulatePrint(canvas(1, 1, inkHex), { ...PLAIN, ...method }), 0, 0);
  return [red, green, blue];
}

describe('a proof', () => {
  it('shows ordinary ink on an underbase nearly as it is, on any cloth', () => {
    for (const clothHex of ['#FFFFFF', '#1A1A1A', '#C8102E'])
      for (const ink of ['#FFCD00', '#FFFFFF', '#E5E5E5', '#9AA0A6'])
        expect(
          ciede2000(labOfRgb(shown(ink, { clothHex })), labOfHex(ink)),
          `${ink} on ${clothHex}`,
        ).toBeLessThan(3);
  });

  it('moves neon colors to what prints', () => {
    for (const ink of ['#39FF14', '#FF10F0', '#00FFFF'])
      expect(ciede2000(labOfRgb(shown(ink, {})), labOfHex(ink))).toBeGreaterThan(10);
  });

  it('without an underbase shows nothing lighter than the cloth, but for a trace of haze', () => {
    const byte = fc.integer({ min: 0, max: 255 });
    fc.assert(
      fc.property(byte, byte, byte, (red, green, blue) => {
        const hex = `#${[red, green, blue].map((channel) => channel.toString(16).padStart(2, '0')).join('')}`;
        const [lightness] = labOfRgb(shown(hex, { clothHex: '#1B2A49', underbase: false, gloss: 0 }));
        expect(lightness).toBeLessThanOrEqual(labOfHex('#1B2A49')[0] + 6);
      }),
    );
  });

  it('on white cloth shows the same with and without an underbase', () => {
    for (const ink of ['#1B2A49', '#C8102E', '#39FF14'])
      expect(shown(ink, { clothHex: '#FFFFFF', underbase: false })).toEqual(
        shown(ink, { clothHex: '#FFFFFF', underbase: true }),
      );
  });

  it('keeps soft ink where it prints, and loses it below half where it does not', () => {
    const raster = canvas(256, 1, '#C8102E');
    for (let x = 0; x < 256; x++) raster.data[4 * x + 3] = x;
    const kept = simulatePrint(raster, PLAIN);
    const lost = simulatePrint(raster, { ...PLAIN, softAlpha: 'lost' });
    for (let x = 0; x < 256; x++) {
      expect(kept.data[4 * x + 3]).toBe(x);
      expect(lost.data[4 * x + 3]).toBe(x < 128 ? 0 : 255);
    }
  });

  it('is a touch paler in the darks when matt, and lit in the middle when shining', () => {
    const black = canvas(101, 101, '#000000');
    const level = (gloss: number, x: number, y: number): number =>
      pixelAt(simulatePrint(black, { ...PLAIN, gloss }), x, y)[0];
    expect(level(0, 0, 100)).toBeGreaterThan(level(2, 0, 100));
    expect(level(4, 50, 50)).toBeGreaterThan(level(4, 0, 100) + 10);
    expect(level(0, 50, 50)).toBe(level(0, 0, 100));
  });

  it('leaves what it is given alone, and clear pixels clear', () => {
    const raster = paint(canvas(40, 40), disc(20, 20, 12), '#39FF14', 4);
    const before = raster.data.slice();
    const proof = simulatePrint(raster, PLAIN);
    expect(sameBytes(raster.data, before)).toBe(true);
    expect(pixelAt(proof, 0, 0)).toEqual([0, 0, 0, 0]);
  });

  it.each([-1, 4.5, Number.NaN])('refuses a gloss of %d', (gloss) => {
    expect(() => simulatePrint(canvas(1, 1), { ...PLAIN, gloss })).toThrow(
      `gloss is ${gloss}; it must be from 0 to 4`,
    );
  });
});
