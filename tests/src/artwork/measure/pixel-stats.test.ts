import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { labOfRgb } from '../../../../src/artwork/color/lab.ts';
import { separate, whiteFor } from '../../../../src/artwork/color/separation.ts';
import { groupColors, MAX_GROUPS } from '../../../../src/artwork/measure/color-groups.ts';
import { collectPixelStats } from '../../../../src/artwork/measure/pixel-stats.ts';
import type { Raster } from '../../../../src/artwork/raster.ts';
import { canvas, noise, photo } from '../drawing.ts';

const channel = fc.integer({ min: 0, max: 255 });
const alpha = fc.oneof(fc.constant(0), fc.constant(255), channel);
const pictures = fc
  .tuple(fc.integer({ min: 1, max: 20 }), fc.integer({ min: 1, max: 20 }))
  .chain(([width, height]) =>
    fc
      .array(fc.tuple(channel, channel, channel, alpha), {
        minLength: width * height,
        maxLength: width * height,
      })
      .map((pixels): Raster => ({ width, height, data: Uint8Array.from(pixels.flat()) })),
  );

/** Every pixel by itself, in plain arithmetic. */
function sumsOf(raster: Raster): {
  alpha: number;
  red: number;
  c: number;
  m: number;
  y: number;
  k: number;
  w: number;
} {
  const sums = { alpha: 0, red: 0, c: 0, m: 0, y: 0, k: 0, w: 0 };
  for (let at = 0; at < raster.data.length; at += 4) {
    const [red, green, blue, own] = [...raster.data.subarray(at, at + 4)] as [number, number, number, number];
    const share = own / 255;
    const inks = separate(red, green, blue);
    sums.alpha += share;
    sums.red += share * red;
    for (const ink of ['c', 'm', 'y', 'k'] as const) sums[ink] += share * inks[ink];
    sums.w += share * whiteFor(labOfRgb([red, green, blue])[0]);
  }
  return sums;
}

describe('the census', () => {
  it('counts and sums as one pixel after the other does', () => {
    fc.assert(
      fc.property(pictures, (raster) => {
        const census = collectPixelStats(raster);
        const alphas = Array.from({ length: raster.data.length / 4 }, (_, at) => raster.data[4 * at + 3]!);
        expect(census.opaque).toBe(alphas.filter((own) => own === 255).length);
        expect(census.clear).toBe(alphas.filter((own) => own === 0).length);
        expect(census.soft).toBe(alphas.length - census.opaque - census.clear);
        const expected = sumsOf(raster);
        expect(census.bins.reduce((sum, bin) => sum + bin.alpha, 0)).toBe(
          alphas.reduce((sum, own) => sum + own, 0),
        );
        expect(census.bins.reduce((sum, bin) => sum + (bin.alpha * bin.red) / 255, 0)).toBeCloseTo(
          expected.red,
          6,
        );
      }),
    );
  });

  it('finds the ink box by alpha alone, whatever clear pixels hide', () => {
    const raster = canvas(30, 20);
    for (let at = 0; at < raster.data.length; at += 4) raster.data.set([0, 255, 0, 0], at);
    raster.data[4 * (7 * 30 + 11) + 3] = 1;
    raster.data[4 * (15 * 30 + 4) + 3] = 255;
    expect(collectPixelStats(raster).inkBox).toEqual({ left: 4, top: 7, width: 8, height: 9 });
  });

  it('keeps the exact color of flat ink over millions of pixels', () => {
    const raster = canvas(4000, 2200, '#39FF17');
    const { bins, opaque } = collectPixelStats(raster);
    expect(opaque).toBe(8_800_000);
    expect(bins).toEqual([
      { bin: expect.any(Number), alpha: 255 * 8_800_000, red: 0x39, green: 0xff, blue: 0x17 },
    ]);
  });
});

describe('color groups', () => {
  it('are the ink of every pixel, each in one group', () => {
    fc.assert(
      fc.property(pictures, (raster) => {
        const expected = sumsOf(raster);
        const { groups } = groupColors(collectPixelStats(raster).bins);
        const told = (name: 'alphaSum' | 'cSum' | 'mSum' | 'ySum' | 'kSum' | 'wSum'): number =>
          groups.reduce((sum, group) => sum + group[name], 0);
        expect(told('alphaSum')).toBeCloseTo(expected.alpha, 6);
        // Inks are separated once for each of 32768 bins, at the mean of its pixels: within a bin the formula is all but
        // straight, so a pixel's ink is off by no more than two thousandths on average.
        const pixels = raster.width * raster.height;
        expect(Math.abs(told('cSum') - expected.c)).toBeLessThan(0.002 * pixels);
        expect(Math.abs(told('mSum') - expected.m)).toBeLessThan(0.002 * pixels);
        expect(Math.abs(told('ySum') - expected.y)).toBeLessThan(0.002 * pixels);
        expect(Math.abs(told('kSum') - expected.k)).toBeLessThan(0.002 * pixels);
        expect(Math.abs(told('wSum') - expected.w)).toBeLessThan(0.002 * pixels);
      }),
    );
  });

  it('of a photo are off by less than a thousandth of the ink', () => {
    const raster = photo(300, 200);
    const expected = sumsOf(raster);
    const { groups } = groupColors(collectPixelStats(raster).bins);
    for (const ink of ['c', 'm', 'y', 'k', 'w'] as const) {
      const told = groups.reduce((sum, group) => sum + group[`${ink}Sum`], 0);
      expect(Math.abs(told - expected[ink]) / expected[ink]).toBeLessThan(0.001);
    }
  });

  it('are at most 512, most ink first, and every bin is in one', () => {
    const raster = canvas(200, 200);
    for (let at = 0; at < raster.data.length; at++) raster.data[at] = Math.floor(128 + 127 * noise(at));
    const { bins } = collectPixelStats(raster);
    expect(bins.length).toBeGreaterThan(10_000);
    const { groups, groupOfBin } = groupColors(bins);
    expect(groups).toHaveLength(MAX_GROUPS);
    for (let index = 1; index < groups.length; index++)
      expect(groups[index]!.alphaSum).toBeLessThanOrEqual(groups[index - 1]!.alphaSum);
    for (const bin of bins) expect(groupOfBin.get(bin.bin)).toBeLessThan(MAX_GROUPS);
  });

  it('keep flat colors as they are', () => {
    const raster = canvas(40, 10, '#1B2A49');
    for (let x = 0; x < 10; x++) raster.data.set([200, 16, 46, 255], 4 * x);
    expect(
      groupColors(collectPixelStats(raster).bins).groups.map(({ hex, alphaSum }) => [hex, alphaSum]),
    ).toEqual([
      ['#1B2A49', 390],
      ['#C8102E', 10],
    ]);
  });
});
