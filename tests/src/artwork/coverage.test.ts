import { describe, expect, it } from 'vitest';
import { coverageOn, vanishingShare } from '../../../src/artwork/coverage.ts';
import { measureArtwork } from '../../../src/artwork/facts.ts';
import { canvas, disc, paint, photo, rect } from './drawing.ts';

const WHITE = '#FFFFFF';
const BLACK = '#1A1A1A';
const NAVY = '#1B2A49';

describe('coverage on a cloth', () => {
  it('follows the formula for a flat square: 100 px of red at half alpha on black cloth', () => {
    // #FF0000: u = 0, K = 0, C = 0, M = Y = 1. L* 53.24, so white is full. Alpha 128/255.
    const raster = paint(canvas(30, 30), rect(10, 10, 10, 10), '#FF0000');
    for (let at = 3; at < raster.data.length; at += 4) if (raster.data[at] === 255) raster.data[at] = 128;
    const { px, share } = coverageOn(measureArtwork(raster), BLACK);
    const half = (100 * 128) / 255;
    expect(px.c).toBeCloseTo(0, 9);
    expect(px.m).toBeCloseTo(half, 9);
    expect(px.y).toBeCloseTo(half, 9);
    expect(px.k).toBeCloseTo(0, 9);
    expect(px.w).toBeCloseTo(half, 9);
    // The ink box is the square.
    expect(share.m).toBeCloseTo(128 / 255, 9);
  });

  it('has no white on white cloth, nor for a method without white', () => {
    const facts = measureArtwork(paint(canvas(100, 100), disc(50, 50, 40), WHITE));
    expect(coverageOn(facts, BLACK).share.w).toBeGreaterThan(0.7);
    expect(coverageOn(facts, WHITE).px).toEqual({ c: 0, m: 0, y: 0, k: 0, w: 0 });
    expect(coverageOn(facts, '#FEFEFE').px.w).toBe(0);
    expect(coverageOn(facts, NAVY, { whiteBelowLightness: 0 }).px.w).toBe(0);
    // Navy has L* 17.3: white below 20, none below 15.
    expect(coverageOn(facts, NAVY, { whiteBelowLightness: 20 }).px.w).toBeGreaterThan(0);
    expect(coverageOn(facts, NAVY, { whiteBelowLightness: 15 }).px.w).toBe(0);
  });

  it('has no ink where the ink has the color of the cloth, and is otherwise unchanged', () => {
    const raster = paint(paint(canvas(100, 100), rect(0, 0, 100, 50), NAVY), rect(0, 50, 100, 50), '#FFCD00');
    const facts = measureArtwork(raster);
    const onNavy = coverageOn(facts, NAVY).px;
    const yellow = coverageOn(
      measureArtwork(paint(canvas(100, 100), rect(0, 50, 100, 50), '#FFCD00')),
      NAVY,
    ).px;
    expect(onNavy).toEqual(yellow);
    expect(coverageOn(facts, NAVY, { sameDeltaE: 0 }).px.k).toBeGreaterThan(onNavy.k);
  });

  it('is 0 without ink, and never NaN', () => {
    expect(coverageOn(measureArtwork(canvas(9, 9)), BLACK)).toEqual({
      px: { c: 0, m: 0, y: 0, k: 0, w: 0 },
      share: { c: 0, m: 0, y: 0, k: 0, w: 0 },
    });
  });

  it('stays between 0 and 1 for a hundred cloths', () => {
    const facts = measureArtwork(photo(200, 150));
    for (let index = 0; index < 100; index++) {
      const hex = `#${((index * 167_773) & 0xffffff).toString(16).padStart(6, '0')}`;
      for (const one of Object.values(coverageOn(facts, hex).share)) {
        expect(one).toBeGreaterThanOrEqual(0);
        expect(one).toBeLessThanOrEqual(1);
      }
    }
  });
});

describe('the vanishing share', () => {
  it('is 1 for a black logo on black cloth, 0 on white', () => {
    const raster = paint(
      paint(canvas(200, 200), disc(100, 100, 90), '#000000', 4),
      disc(100, 100, 30),
      '#0C0C0C',
      4,
    );
    const facts = measureArtwork(raster);
    expect(vanishingShare(facts, BLACK)).toBe(1);
    expect(vanishingShare(facts, WHITE)).toBe(0);
    expect(vanishingShare(facts, BLACK, 0.5)).toBe(0);
  });

  it('leaves out a background, which is another finding', () => {
    const facts = measureArtwork(paint(canvas(200, 200, WHITE), disc(100, 100, 50), NAVY, 4));
    expect(facts.background).not.toBeNull();
    expect(vanishingShare(facts, WHITE)).toBeLessThan(0.05);
    expect(vanishingShare(facts, NAVY)).toBeGreaterThan(0.9);
  });

  it('is 0 without ink', () => {
    expect(vanishingShare(measureArtwork(canvas(5, 5)), BLACK)).toBe(0);
  });
});
