import { describe, expect, it } from 'vitest';
import { measureArtwork } from '../../../../../src/artwork/facts.ts';
import type { MeasuredWidth } from '../../../../../src/contract/facts.ts';
import {
  any,
  bar,
  type Canvas,
  canvas,
  disc,
  jpegNoise,
  lettering,
  paint,
  photo,
  polygon,
  rect,
  ring,
  type Shape,
  stroke,
  without,
} from '../../drawing.ts';

const SMOOTH = 4;

function linesOf(shape: Shape, samples: number, size = 400): MeasuredWidth[] {
  return measureArtwork(paint(canvas(size, size), shape, '#1B2A49', samples)).thinLines;
}

function gapsOf(raster: Canvas): MeasuredWidth[] {
  return measureArtwork(raster).thinGaps;
}

describe('the width of a stroke', () => {
  const widths = [1, 2, 3, 5, 8, 13, 19];
  const angles = [0, 90, 45, 17, 63, 135, 172];

  describe.each(widths)('of %i px', (width) => {
    it.each(angles)('at %i degrees is told to half a pixel, hard and smooth', (angle) => {
      for (const samples of [1, SMOOTH]) {
        // The slab keeps the ink box, and with it the bound of what is thin, the same whatever the bar.
        const found = linesOf(any(bar(200.3, 170.6, 250, width, angle), rect(0, 330, 400, 70)), samples);
        expect(found.length, `${samples} samples`).toBeGreaterThan(0);
        // Hard pixels along a diagonal come in steps of 0.71 px: the drawing itself is off by up to half of that.
        const within = samples === 1 && angle % 90 === 45 ? 0.75 : 0.5;
        expect(Math.abs(found[0]!.px - width), `${samples} samples: ${found[0]!.px}`).toBeLessThanOrEqual(
          within,
        );
      }
    });
  });

  it('tells bars of 2, 5, 5, 10 and 20 px apart, each with its box', () => {
    // 20 px/mm at 100 mm: 0.1, 0.25, 0.25, 0.5 and 1 mm.
    const bars = [2, 5, 5, 10, 20].map((width, index) => ({ left: 160 + 240 * index, width }));
    const raster = paint(
      canvas(2000, 500),
      any(...bars.map(({ left, width }) => rect(left, 80, width, 340))),
      '#1B2A49',
    );
    const found = [...measureArtwork(raster).thinLines].sort((one, other) => one.box.left - other.box.left);
    expect(found.map(({ px }) => px)).toEqual([2, 5, 5, 10, 20]);
    found.forEach(({ box }, index) => {
      expect(Math.abs(box.left - bars[index]!.left)).toBeLessThanOrEqual(1);
      expect(Math.abs(box.width - bars[index]!.width)).toBeLessThanOrEqual(1);
      expect(box).toMatchObject({ top: 80, height: 340 });
    });
  });

  it('comes thinnest first, at most 24 of them', () => {
    const bars = Array.from({ length: 30 }, (_, index) => rect(10 + 60 * index, 20, 1 + index, 300));
    const found = measureArtwork(paint(canvas(1900, 400), any(...bars), '#000000')).thinLines;
    expect(found).toHaveLength(24);
    expect(found.map(({ px }) => px)).toEqual(
      [...found.map(({ px }) => px)].sort((one, other) => one - other),
    );
    expect(found[0]!.px).toBe(1);
  });

  it.each([
    ['a ring', ring(200, 200, 150, 5), 5],
    ['a small ring', ring(200, 200, 24, 6), 6],
    [
      'a wavy line',
      (x: number, y: number) =>
        Math.abs(y - 200 - 40 * Math.sin(x / 40)) <= 3 * Math.hypot(1, Math.cos(x / 40)) && x > 20 && x < 380,
      6,
    ],
  ])('is told along %s', (_, shape, width) => {
    const found = linesOf(any(shape, rect(0, 380, 400, 20)), SMOOTH);
    expect(found.length).toBeGreaterThan(0);
    expect(Math.abs(found[0]!.px - width)).toBeLessThanOrEqual(0.6);
  });

  it('is told of a stroke thinner than a pixel, as far as it is seen', () => {
    const found = linesOf(any(rect(100.2, 20, 0.7, 300), rect(0, 330, 400, 70)), SMOOTH);
    expect(found.length).toBeGreaterThan(0);
    expect(Math.abs(found[0]!.px - 0.7)).toBeLessThanOrEqual(0.3);
  });

  it('is told of one thin stroke among many thick ones', () => {
    const thick = Array.from({ length: 8 }, (_, index) => rect(20 + 110 * index, 20, 60, 860));
    const found = measureArtwork(
      paint(canvas(900, 900), any(...thick, bar(500, 450, 820, 3, 40)), '#000000', 4),
    ).thinLines;
    expect(Math.abs(found[0]!.px - 3)).toBeLessThanOrEqual(0.5);
  });

  it('is told on an opaque picture against its background, JPEG noise and all', () => {
    const raster = jpegNoise(
      paint(canvas(600, 400, '#FFFFFF'), any(rect(100, 60, 4, 280), rect(300, 60, 120, 280)), '#C8102E'),
      10,
    );
    const { thinLines, background } = measureArtwork(raster);
    expect(background).not.toBeNull();
    expect(thinLines.length).toBeGreaterThan(0);
    expect(Math.abs(thinLines[0]!.px - 4)).toBeLessThanOrEqual(0.6);
    expect(Math.abs(thinLines[0]!.box.left - 100)).toBeLessThanOrEqual(1);
  });
});

describe('what is no thin stroke', () => {
  const whole = rect(0, 0, 400, 400);
  it.each<[string, Shape]>([
    ['a square', rect(50, 50, 300, 300)],
    ['a square on its corner', polygon([200, 20], [380, 200], [200, 380], [20, 200])],
    ['a disc', disc(200, 200, 180)],
    ['a triangle with corners of 60 degrees', polygon([200, 30], [380, 342], [20, 342])],
    ['a wedge of 30 degrees', polygon([20, 200], [380, 104], [380, 296])],
    ['a wedge of 15 degrees', polygon([20, 200], [380, 152], [380, 248])],
    ['a star of five', star(200, 200, 190, 76, 5)],
    ['a star of twelve', star(200, 200, 190, 95, 12)],
    ['thick bars', any(rect(40, 40, 40, 320), rect(160, 40, 60, 320), rect(300, 40, 80, 320))],
    ['thick lettering', lettering(0, 140, 26)],
    ['a thick ring', ring(200, 200, 150, 50)],
    [
      'a bar with serifs',
      any(
        rect(170, 40, 60, 320),
        polygon([120, 360], [280, 360], [240, 320], [160, 320]),
        polygon([120, 40], [280, 40], [240, 80], [160, 80]),
      ),
    ],
    ['two discs that touch', any(disc(110, 200, 92), disc(290, 200, 92))],
    ['small dots', any(disc(60, 60, 4), disc(200, 60, 5), disc(340, 60, 6), rect(50, 200, 300, 150))],
  ])('%s, hard or smooth', (_, shape) => {
    expect(linesOf(shape, 1)).toEqual([]);
    expect(linesOf(shape, SMOOTH)).toEqual([]);
  });

  it.each<[string, Shape]>([
    ['square holes', any(rect(60, 60, 90, 90), rect(220, 220, 120, 100))],
    ['a notch of 90 degrees', polygon([200, 200], [0, 0], [400, 0])],
    ['a notch of 30 degrees', polygon([200, 250], [133, 0], [267, 0])],
    ['round holes', any(disc(100, 100, 40), disc(260, 250, 60))],
    ['a star', star(200, 200, 150, 60, 5)],
    [
      'two shapes a pixel apart where they pass',
      without(rect(80, 140, 240, 120), any(disc(159.5, 200, 40), disc(240.5, 200, 40))),
    ],
  ])('no thin gap: %s, hard or smooth', (_, hole) => {
    for (const samples of [1, SMOOTH])
      expect(gapsOf(paint(canvas(400, 400), without(whole, hole), '#1B2A49', samples))).toEqual([]);
  });

  it('a photo, opaque or cut out', () => {
    const opaque = measureArtwork(photo(400, 300));
    expect(opaque.thinLines).toEqual([]);
    expect(opaque.thinGaps).toEqual([]);
    const cut = photo(400, 300);
    for (let y = 0; y < 300; y++)
      for (let x = 0; x < 400; x++)
        if (!disc(200, 150, 140)(x + 0.5, y + 0.5)) cut.data[4 * (y * 400 + x) + 3] = 0;
    expect(measureArtwork(cut).thinLines).toEqual([]);
  });

  it('a stroke over a twentieth of the ink box', () => {
    expect(linesOf(rect(20, 20, 360, 20), 1)).toEqual([]);
    expect(linesOf(rect(20, 20, 360, 17), 1)).toHaveLength(1);
  });
});

describe('the width of a gap', () => {
  it.each([1, 2, 3, 5, 8, 13])('of %i px is told to half a pixel, straight and slanting', (width) => {
    for (const angle of [0, 90, 45, 27])
      for (const samples of [1, SMOOTH]) {
        const raster = paint(
          canvas(400, 400),
          without(rect(20, 20, 360, 360), bar(200.4, 200.2, 220, width, angle)),
          '#1B2A49',
          samples,
        );
        const found = gapsOf(raster);
        expect(found.length, `${angle} degrees, ${samples} samples`).toBeGreaterThan(0);
        expect(
          Math.abs(found[0]!.px - width),
          `${angle} degrees, ${samples} samples: ${found[0]!.px}`,
        ).toBeLessThanOrEqual(0.5);
      }
  });

  it('is told between two shapes, open at both ends', () => {
    const found = gapsOf(
      paint(canvas(400, 400), any(rect(20, 20, 170, 360), rect(196, 20, 184, 360)), '#000000'),
    );
    expect(found[0]).toMatchObject({ px: 6, box: { left: 190, width: 6 } });
  });
});

function star(cx: number, cy: number, outer: number, inner: number, points: number): Shape {
  return polygon(
    ...Array.from({ length: 2 * points }, (_, index) => {
      const radius = index % 2 === 0 ? outer : inner;
      const angle = (Math.PI * index) / points;
      return [cx + radius * Math.sin(angle), cy - radius * Math.cos(angle)] as const;
    }),
  );
}

// A stroke in the middle of a letter is what `stroke` and `lettering` draw; both are used in other tests too.
describe('lettering', () => {
  it('of thin strokes is told by their width, in one or few groups', () => {
    const { thinLines } = measureArtwork(paint(canvas(420, 140), lettering(0, 10, 6), '#1B2A49', SMOOTH));
    expect(thinLines.length).toBeGreaterThan(0);
    for (const { px } of thinLines) expect(Math.abs(px - 6)).toBeLessThanOrEqual(0.6);
    const single = measureArtwork(paint(canvas(420, 140), stroke(20, 70, 400, 90, 6), '#1B2A49', SMOOTH));
    expect(Math.abs(single.thinLines[0]!.px - 6)).toBeLessThanOrEqual(0.3);
  });
});
