import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  eachDistanceRow,
  NO_DISTANCE,
  squaredDistances,
  withinDistance,
} from '../../../src/artwork/distance-transform.ts';

/** Every pixel against every other: slow and sure. */
function bruteForce(mask: Uint8Array, width: number, height: number): number[] {
  const result: number[] = [];
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      let least = NO_DISTANCE;
      for (let row = 0; row < height; row++)
        for (let column = 0; column < width; column++)
          if (mask[row * width + column] === 0) least = Math.min(least, (row - y) ** 2 + (column - x) ** 2);
      result.push(least);
    }
  return result;
}

const masks = fc
  .tuple(
    fc.integer({ min: 1, max: 24 }),
    fc.integer({ min: 1, max: 24 }),
    fc.double({ min: 0, max: 1, noNaN: true }),
  )
  .chain(([width, height, density]) =>
    fc
      .array(fc.double({ min: 0, max: 1, noNaN: true }), {
        minLength: width * height,
        maxLength: width * height,
      })
      .map((values) => ({
        width,
        height,
        mask: Uint8Array.from(values, (value) => (value < density ? 0 : 1)),
      })),
  );

describe('the exact distance transform', () => {
  it('is that of brute force', () => {
    fc.assert(
      fc.property(masks, ({ width, height, mask }) => {
        expect([...squaredDistances(mask, width, height)]).toEqual(bruteForce(mask, width, height));
      }),
      { numRuns: 300 },
    );
  });

  it('knows when there is nothing to be near to', () => {
    expect([...squaredDistances(new Uint8Array(6).fill(1), 3, 2)]).toEqual(Array(6).fill(NO_DISTANCE));
  });

  it('is right across a long row: (0,0) is the only one, 5000 px away is 25 million', () => {
    const mask = new Uint8Array(5001).fill(1);
    mask[0] = 0;
    expect(squaredDistances(mask, 5001, 1)[5000]).toBe(25_000_000);
  });

  it('hands over the same row by row, from the top', () => {
    const mask = Uint8Array.from([1, 1, 1, 1, 0, 1, 1, 1, 1]);
    const rows: number[][] = [];
    eachDistanceRow(mask, 3, 3, (y, squared) => {
      expect(y).toBe(rows.length);
      rows.push([...squared]);
    });
    expect(rows).toEqual([
      [2, 1, 2],
      [1, 0, 1],
      [2, 1, 2],
    ]);
  });

  it('marks what is within reach, its border included', () => {
    const mask = new Uint8Array(49).fill(1);
    mask[24] = 0;
    expect(withinDistance(mask, 7, 7, 2).reduce((sum, one) => sum + one, 0)).toBe(13);
    expect(withinDistance(mask, 7, 7, 1.99).reduce((sum, one) => sum + one, 0)).toBe(9);
  });
});
