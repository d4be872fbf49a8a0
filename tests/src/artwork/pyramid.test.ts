import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { buildPyramid, previewOf } from '../../../src/artwork/pyramid.ts';
import type { Raster } from '../../../src/artwork/raster.ts';
import { canvas, disc, paint, photo, pixelAt, rect, sameBytes } from './drawing.ts';

/** Mean alpha, and alpha-weighted mean of red, over a whole picture. */
function means({ data }: Raster): { alpha: number; red: number } {
  let alpha = 0;
  let red = 0;
  for (let at = 0; at < data.length; at += 4) {
    alpha += data[at + 3]!;
    red += data[at + 3]! * data[at]!;
  }
  return { alpha: alpha / (data.length / 4), red: alpha === 0 ? 0 : red / alpha };
}

describe('a preview from the pyramid', () => {
  it('never shows the color of clear pixels', () => {
    const raster = paint(canvas(257, 257), disc(128.5, 128.5, 90), '#C8102E');
    for (let at = 0; at < raster.data.length; at += 4)
      if (raster.data[at + 3] === 0) raster.data.set([0, 255, 0], at);
    for (const side of [7, 64, 100, 200]) {
      const { data } = previewOf(buildPyramid(raster), side);
      let greenest = 0;
      for (let at = 0; at < data.length; at += 4)
        if (data[at + 3]! >= 8) greenest = Math.max(greenest, data[at + 1]!);
      expect(greenest, `${side} px`).toBeLessThanOrEqual(17);
    }
  });

  it.each([64, 150, 333, 500, 799])('keeps the means of alpha and color at %i px', (side) => {
    const raster = paint(photo(800, 600), disc(400, 300, 250), '#FFCD00', 2);
    for (let y = 0; y < 600; y++) for (let x = 0; x < 300; x++) raster.data[4 * (y * 800 + x) + 3] = 90;
    const before = means(raster);
    const after = means(previewOf(buildPyramid(raster), side));
    expect(Math.abs(after.alpha - before.alpha)).toBeLessThan(2);
    expect(Math.abs(after.red - before.red)).toBeLessThan(2);
  });

  it('keeps flat colors exactly', () => {
    const { data } = previewOf(buildPyramid(canvas(1000, 700, '#1B2A49')), 123);
    expect([
      ...new Set(
        Uint32Array.from(
          { length: data.length / 4 },
          (_, at) => (data[4 * at]! << 16) | (data[4 * at + 1]! << 8) | data[4 * at + 2]!,
        ),
      ),
    ]).toEqual([0x1b2a49]);
  });

  it('keeps shapes in place', () => {
    const preview = previewOf(
      buildPyramid(paint(canvas(1003, 751), rect(500, 250, 300, 300), '#C8102E')),
      200,
    );
    const scale = 200 / 1003;
    for (const [x, y, alpha] of [
      [510, 260, 255],
      [790, 540, 255],
      [485, 400, 0],
      [815, 400, 0],
      [600, 235, 0],
      [600, 565, 0],
    ] as const)
      expect(pixelAt(preview, Math.floor(x * scale), Math.floor(y * scale))[3], `${x}, ${y}`).toBe(alpha);
  });

  it('has at least one pixel on each side, at most the size asked for, and never more than the original', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 300 }),
        fc.integer({ min: 1, max: 300 }),
        fc.integer({ min: 1, max: 400 }),
        (width, height, side) => {
          const preview = previewOf(buildPyramid(canvas(width, height, '#000000')), side);
          expect(preview.width).toBeGreaterThanOrEqual(1);
          expect(preview.height).toBeGreaterThanOrEqual(1);
          expect(Math.max(preview.width, preview.height)).toBe(Math.min(side, Math.max(width, height)));
          expect(preview.data.every((byte, at) => (at % 4 === 3 ? byte === 255 : byte === 0))).toBe(true);
        },
      ),
      { numRuns: 60 },
    );
  });

  it('fits a banner of 12000 x 40 in 4096 and in 64 px', () => {
    const pyramid = buildPyramid(canvas(12_000, 40, '#C8102E'));
    expect(previewOf(pyramid, 4096)).toMatchObject({ width: 4096, height: 14 });
    expect(previewOf(pyramid, 64)).toMatchObject({ width: 64, height: 1 });
  });

  it('does not change the original, and returns copies', () => {
    const raster = photo(90, 70);
    const before = raster.data.slice();
    const preview = previewOf(buildPyramid(raster), 4096);
    expect(sameBytes(preview.data, raster.data)).toBe(true);
    preview.data.fill(0);
    expect(sameBytes(raster.data, before)).toBe(true);
  });

  it.each([0, 4097, 1.5, Number.NaN])('refuses a side of %d px', (side) => {
    expect(() => previewOf(buildPyramid(canvas(4, 4)), side)).toThrow(
      `sidePx is ${side}; it must be a whole number from 1 to 4096`,
    );
  });
});
