import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Raster } from '../../../../src/artwork/index.ts';
import { upwardDistances } from '../../../../src/artwork/measure/column-distances.ts';
import { collectPixelStats } from '../../../../src/artwork/measure/pixel-stats.ts';
import { alphaPlane } from '../../../../src/artwork/measure/plane.ts';
import { countDeepSoft, markDeepSoft } from '../../../../src/artwork/measure/soft-alpha.ts';
import { findStrokes } from '../../../../src/artwork/measure/strokes/strokes.ts';
import { TILE_BINARY, TILE_CLEAR, TILE_OPAQUE, TILE_SOFT } from '../../../../src/artwork/measure/tiles.ts';

/** Rectangles of any alpha laid on each other: stretches of one kind, with borders at every place of a tile. */
const rasters = fc
  .record({
    width: fc.integer({ min: 1, max: 150 }),
    height: fc.integer({ min: 1, max: 40 }),
    blocks: fc.array(
      fc.record({
        x: fc.double({ min: 0, max: 1, noNaN: true }),
        y: fc.double({ min: 0, max: 1, noNaN: true }),
        across: fc.double({ min: 0, max: 1, noNaN: true }),
        down: fc.double({ min: 0, max: 1, noNaN: true }),
        alpha: fc.constantFrom(0, 1, 127, 128, 254, 255, 255, 255),
      }),
      { maxLength: 12 },
    ),
  })
  .map(({ width, height, blocks }): Raster => {
    const data = new Uint8Array(4 * width * height);
    for (const { x, y, across, down, alpha } of blocks)
      for (let row = Math.floor(y * height); row < Math.min(height, (y + down) * height); row++)
        for (let column = Math.floor(x * width); column < Math.min(width, (x + across) * width); column++)
          data[4 * (row * width + column) + 3] = alpha;
    return { width, height, data };
  });

function alphaAt({ width, height, data }: Raster, x: number, y: number): number {
  return x < 0 || y < 0 || x >= width || y >= height ? 0 : data[4 * (y * width + x) + 3]!;
}

describe('tiles', () => {
  it('say what their 32 pixels hold, fewer at the right border', () => {
    fc.assert(
      fc.property(rasters, (raster) => {
        const { across, kinds } = collectPixelStats(raster).tiles;
        expect(across).toBe(Math.ceil(raster.width / 32));
        for (let y = 0; y < raster.height; y++)
          for (let tile = 0; tile < across; tile++) {
            const alphas = new Set<number>();
            for (let x = 32 * tile; x < Math.min(raster.width, 32 * tile + 32); x++)
              alphas.add(alphaAt(raster, x, y));
            const soft = [...alphas].some((alpha) => alpha > 0 && alpha < 255);
            const only = alphas.size === 1 ? (alphas.has(255) ? TILE_OPAQUE : TILE_CLEAR) : TILE_BINARY;
            expect(kinds[y * across + tile]).toBe(soft ? TILE_SOFT : only);
          }
      }),
    );
  });

  it('change nothing about distances and strokes, wherever the ink box lies', () => {
    fc.assert(
      fc.property(rasters, (raster) => {
        const { inkBox, tiles } = collectPixelStats(raster);
        if (inkBox === undefined) return;
        const plain = alphaPlane(raster, inkBox);
        const tiled = alphaPlane(raster, inkBox, tiles);
        const expected = upwardDistances(plain);
        const got = upwardDistances(tiled);
        expect(got.cells).toEqual(expected.cells);
        expect(findStrokes(tiled, got)).toEqual(findStrokes(plain, expected));
        expect(got.cells).toEqual(expected.cells);
      }),
      { numRuns: 300 },
    );
  });

  it('leave the deep soft pixels what they are: soft, without both solid and clear within 2 px', () => {
    fc.assert(
      fc.property(rasters, (raster) => {
        const { width, height } = raster;
        const marks = markDeepSoft(raster);
        let count = 0;
        for (let y = 0; y < height; y++)
          for (let x = 0; x < width; x++) {
            const own = alphaAt(raster, x, y);
            let solid = false;
            let clear = false;
            for (let dy = -2; dy <= 2; dy++)
              for (let dx = -2; dx <= 2; dx++) {
                solid ||= alphaAt(raster, x + dx, y + dy) === 255;
                clear ||= alphaAt(raster, x + dx, y + dy) === 0;
              }
            const deep = own > 0 && own < 255 && !(solid && clear);
            expect(marks[y * width + x], `(${x}, ${y})`).toBe(deep ? 1 : 0);
            if (deep) count++;
          }
        const counted = countDeepSoft(raster, collectPixelStats(raster).tiles);
        expect(counted.count).toBe(count);
        const places = [...marks.keys()].filter((at) => marks[at] === 1);
        const xs = places.map((at) => at % width);
        const ys = places.map((at) => Math.floor(at / width));
        expect(counted.box).toEqual(
          count === 0
            ? undefined
            : {
                left: Math.min(...xs),
                top: Math.min(...ys),
                width: Math.max(...xs) - Math.min(...xs) + 1,
                height: Math.max(...ys) - Math.min(...ys) + 1,
              },
        );
      }),
    );
  });
});
