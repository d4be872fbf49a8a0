import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { upwardDistances } from '../../../../src/artwork/measure/column-distances.ts';
import { squaredDistanceAt } from '../../../../src/artwork/measure/exact-distance.ts';
import { largestDisc } from '../../../../src/artwork/measure/largest-disc.ts';
import { alphaPlane } from '../../../../src/artwork/measure/plane.ts';
import { findStrokes } from '../../../../src/artwork/measure/strokes/strokes.ts';
import type { Raster } from '../../../../src/artwork/raster.ts';
import { any, bar, canvas, disc, paint, polygon, rect } from '../drawing.ts';

function discOf(raster: Raster): ReturnType<typeof largestDisc> {
  const plane = alphaPlane(raster, { left: 0, top: 0, width: raster.width, height: raster.height });
  const columns = upwardDistances(plane);
  findStrokes(plane, columns);
  return largestDisc(plane, columns);
}

/** Largest distance to a clear pixel or beyond the canvas, each pixel against each. */
function deepest(raster: Raster): number {
  const { width, height, data } = raster;
  const ink = (x: number, y: number): boolean =>
    x >= 0 && y >= 0 && x < width && y < height && data[4 * (y * width + x) + 3]! >= 128;
  let best = 0;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let least = Number.POSITIVE_INFINITY;
      for (let row = -1; row <= height; row++)
        for (let column = -1; column <= width; column++)
          if (!ink(column, row)) least = Math.min(least, (row - y) ** 2 + (column - x) ** 2);
      best = Math.max(best, least);
    }
  return Math.sqrt(best);
}

describe('the largest solid disc', () => {
  it('is that of brute force on shapes of all sorts', () => {
    const coordinate = fc.integer({ min: -5, max: 50 });
    const shape = fc.oneof(
      fc.tuple(coordinate, coordinate, fc.integer({ min: 1, max: 25 })).map(([x, y, r]) => disc(x, y, r)),
      fc
        .tuple(coordinate, coordinate, fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 40 }))
        .map(([x, y, w, h]) => rect(x, y, w, h)),
      fc
        .tuple(coordinate, coordinate, fc.integer({ min: 1, max: 20 }), fc.integer({ min: 0, max: 179 }))
        .map(([x, y, w, angle]) => bar(x, y, 60, w, angle)),
    );
    fc.assert(
      fc.property(fc.array(shape, { minLength: 1, maxLength: 4 }), (shapes) => {
        const raster = paint(canvas(44, 37), any(...shapes), '#123456');
        const expected = deepest(raster);
        const found = discOf(raster);
        if (expected === 0) expect(found).toBeUndefined();
        else expect(found!.diameterPx).toBeCloseTo(2 * expected - 1, 9);
      }),
      { numRuns: 120 },
    );
  });

  it.each([
    ['a disc of 179 px', disc(128.5, 128.5, 89.5), 179, 1],
    ['a square of 100 px', rect(30, 40, 100, 100), 99, 0.01],
    ['a slab of 21 px', rect(0, 90, 400, 21), 21, 0.01],
    [
      'a square of 141.4 px standing on its corner (inscribed: 141.4)',
      polygon([200, 100], [300, 200], [200, 300], [100, 200]),
      141.4,
      1.5,
    ],
  ])('fits %s', (_, shape, diameter, within) => {
    const found = discOf(paint(canvas(400, 400), shape, '#000000'));
    expect(Math.abs(found!.diameterPx - diameter)).toBeLessThanOrEqual(within);
  });

  it('stays within the canvas where ink runs to its border', () => {
    expect(discOf(canvas(60, 31, '#000000'))!.diameterPx).toBe(31);
    expect(discOf(canvas(1, 1, '#000000'))).toEqual({ diameterPx: 1, xPx: 0.5, yPx: 0.5 });
  });
});

describe('distance at one pixel', () => {
  it('is, for ink and for clear pixels, that of brute force', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 15 * 11, maxLength: 15 * 11 }), (inked) => {
        const raster = canvas(15, 11);
        inked.forEach((ink, at) => {
          if (ink) raster.data[4 * at + 3] = 255;
        });
        const plane = alphaPlane(raster, { left: 0, top: 0, width: 15, height: 11 });
        const columns = upwardDistances(plane);
        findStrokes(plane, columns);
        for (let y = 0; y < 11; y++)
          for (let x = 0; x < 15; x++) {
            const own = inked[y * 15 + x]!;
            let least = Number.POSITIVE_INFINITY;
            // Beyond the box there is no ink: the end of every stroke, but no side of any gap.
            for (let row = -1; row <= 11; row++)
              for (let column = -1; column <= 15; column++) {
                const outside = row < 0 || column < 0 || row >= 11 || column >= 15;
                const ink = !outside && inked[row * 15 + column]!;
                if (ink !== own) least = Math.min(least, (row - y) ** 2 + (column - x) ** 2);
              }
            if (least < 16_000 ** 2) expect(squaredDistanceAt(columns, x, y)).toBe(least);
          }
      }),
      { numRuns: 100 },
    );
  });
});
