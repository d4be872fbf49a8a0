import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ciede2000 } from '../../../../src/artwork/color/ciede2000.ts';
import { labOfHex, labOfRgb } from '../../../../src/artwork/color/lab.ts';
import { measureArtwork } from '../../../../src/artwork/facts.ts';
import type { Raster } from '../../../../src/artwork/raster.ts';
import { applyRemedies, applyRemedy } from '../../../../src/artwork/remedies/apply.ts';
import { Remedy } from '../../../../src/contract/facts.ts';
import {
  any,
  bar,
  canvas,
  disc,
  jpegNoise,
  noise,
  paint,
  photo,
  pixelAt,
  polygon,
  rect,
  ring,
  sameBytes,
  without,
} from '../drawing.ts';

const NAVY = '#1B2A49';

/** Every kind of remedy. */
const ALL: readonly Remedy[] = (
  [
    { kind: 'remove-background', hex: '#FFFFFF' },
    { kind: 'remove-background', hex: '#C8102E', tolerance: 30, enclosed: true },
    { kind: 'trim' },
    { kind: 'firm-up' },
    { kind: 'screen-soft', cellPx: 6 },
    { kind: 'thicken', toPx: 5 },
    { kind: 'outline', widthPx: 3, hex: '#FFFFFF' },
    { kind: 'screen-solids', cellPx: 6, tint: 0.7, minDiameterPx: 12 },
    { kind: 'recolor', hex: '#00FF00' },
  ] as const
).map((remedy) => Remedy.parse(remedy));

describe('every remedy', () => {
  it.each(ALL)(
    '$kind does not change its input, is deterministic, and returns a valid raster for any bytes',
    (remedy) => {
      fc.assert(
        fc.property(
          fc
            .tuple(fc.integer({ min: 1, max: 30 }), fc.integer({ min: 1, max: 30 }))
            .chain(([width, height]) =>
              fc
                .array(fc.constantFrom(0, 1, 127, 128, 254, 255), {
                  minLength: 4 * width * height,
                  maxLength: 4 * width * height,
                })
                .map((bytes) => ({ width, height, data: Uint8Array.from(bytes) })),
            ),
          (raster) => {
            const before = raster.data.slice();
            const fixed = applyRemedy(raster, remedy);
            expect(sameBytes(raster.data, before)).toBe(true);
            expect(fixed.data.buffer).not.toBe(raster.data.buffer);
            expect(fixed.data).toHaveLength(4 * fixed.width * fixed.height);
            expect(sameBytes(applyRemedy(raster, remedy).data, fixed.data)).toBe(true);
          },
        ),
        { numRuns: 60 },
      );
    },
  );

  it.each(ALL)('$kind ignores the color of clear pixels', (remedy) => {
    const plain = paint(paint(canvas(80, 60), disc(40, 30, 22), NAVY, 4), rect(5, 5, 40, 1), '#C8102E');
    const hidden = { ...plain, data: plain.data.slice() };
    for (let at = 0; at < hidden.data.length; at += 4)
      if (hidden.data[at + 3] === 0) hidden.data.set([0, 255, 0], at);
    const one = applyRemedy(hidden, remedy);
    const other = applyRemedy(plain, remedy);
    expect([one.width, one.height]).toEqual([other.width, other.height]);
    expect(sameBytes(visible(one), visible(other))).toBe(true);
  });

  it('is applied in order; none returns the raster itself', () => {
    const raster = paint(canvas(60, 40), rect(10, 10, 20, 10), NAVY);
    expect(applyRemedies(raster, [])).toBe(raster);
    const trimmed = applyRemedies(raster, [{ kind: 'recolor', hex: '#FFCD00' }, { kind: 'trim' }]);
    expect(trimmed).toMatchObject({ width: 20, height: 10 });
    expect(pixelAt(trimmed, 0, 0)).toEqual([255, 205, 0, 255]);
  });
});

describe('trim', () => {
  it('uses alpha only: a black disc keeps all its 120 px although clear pixels are black too', () => {
    const raster = paint(canvas(300, 200), disc(150, 100, 60), '#000000');
    const alone = applyRemedy(raster, { kind: 'trim' });
    expect(alone).toMatchObject({ width: 120, height: 120 });
    raster.data.set([255, 0, 0, 255], 0);
    expect(applyRemedy(raster, { kind: 'trim' })).toMatchObject({ width: 210, height: 160 });
  });
});

describe('recolor', () => {
  it('changes color but not alpha', () => {
    const raster = paint(canvas(80, 80), disc(40, 40, 30), NAVY, 4);
    const fixed = applyRemedy(raster, { kind: 'recolor', hex: '#FFCD00' });
    const expected = raster.data.slice();
    for (let at = 0; at < expected.length; at += 4)
      if (expected[at + 3] !== 0) expected.set([255, 205, 0], at);
    expect(sameBytes(fixed.data, expected)).toBe(true);
  });
});

describe('removing the background', () => {
  const shape = any(ring(100, 100, 70, 20), disc(100, 100, 25));
  /** The motif by construction: the same drawing on a clear canvas. */
  const truth = paint(canvas(200, 200), shape, NAVY, 8);

  it.each(['#FFFFFF', '#EBE6DC', '#FFCD00', '#000000'])('recovers the drawing on %s', (ground) => {
    const boxed = paint(canvas(200, 200, ground), shape, ground === '#000000' ? '#FFCD00' : NAVY, 8);
    const fixed = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: ground,
      tolerance: 8,
      enclosed: true,
    });
    let off = 0;
    let edge = 0;
    let lost = 0;
    let left = 0;
    for (let at = 0; at < truth.data.length; at += 4) {
      const alpha = truth.data[at + 3]!;
      if (alpha === 255) lost += fixed.data[at + 3]! < 230 ? 1 : 0;
      else if (alpha === 0) left += fixed.data[at + 3] === 0 ? 0 : 1;
      else {
        edge++;
        off += Math.abs(fixed.data[at + 3]! - alpha);
      }
    }
    expect({ lost, left }).toEqual({ lost: 0, left: 0 });
    expect(edge).toBeGreaterThan(500);
    expect(off / edge, 'mean error of alpha along the edge').toBeLessThan(24);
  });

  it('leaves no rim: every edge pixel has the color of the ink', () => {
    const boxed = paint(canvas(200, 200, '#FFFFFF'), shape, NAVY, 8);
    const fixed = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#FFFFFF',
      tolerance: 8,
      enclosed: true,
    });
    let worst = 0;
    for (let at = 0; at < fixed.data.length; at += 4) {
      if (fixed.data[at + 3] === 0) continue;
      const color = labOfRgb([fixed.data[at]!, fixed.data[at + 1]!, fixed.data[at + 2]!]);
      worst = Math.max(worst, ciede2000(color, labOfHex(NAVY)));
    }
    expect(worst).toBeLessThan(3);
    expect(measureArtwork(fixed).lightRim).toBeNull();
  });

  it('keeps enclosed areas unless asked to remove them', () => {
    const boxed = paint(canvas(200, 200, '#FFFFFF'), shape, NAVY, 4);
    const kept = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#FFFFFF',
      tolerance: 8,
      enclosed: false,
    });
    expect(pixelAt(kept, 2, 2)[3]).toBe(0);
    expect(pixelAt(kept, 100, 60)).toEqual([255, 255, 255, 255]);
    const all = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#FFFFFF',
      tolerance: 8,
      enclosed: true,
    });
    expect(pixelAt(all, 100, 60)[3]).toBe(0);
    expect(pixelAt(all, 100, 100)[3]).toBe(255);
  });

  it('removes JPEG noise and leaves no specks', () => {
    const boxed = jpegNoise(paint(canvas(200, 200, '#EBE6DC'), shape, '#007A3D', 4), 8);
    const fixed = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#EBE6DC',
      tolerance: 8,
      enclosed: true,
    });
    let specks = 0;
    for (let at = 0; at < fixed.data.length; at += 4)
      if (truth.data[at + 3] === 0 && fixed.data[at + 3]! > 40) specks++;
    expect(specks).toBeLessThan(20);
  });

  it('keeps a color of the motif that is similar to the background', () => {
    const boxed = paint(
      paint(canvas(120, 120, '#FFFFFF'), disc(60, 60, 40), NAVY, 4),
      disc(60, 60, 20),
      '#E0E0E0',
      4,
    );
    const fixed = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#FFFFFF',
      tolerance: 4,
      enclosed: true,
    });
    expect(pixelAt(fixed, 60, 60)).toEqual([0xe0, 0xe0, 0xe0, 255]);
  });

  it('does not change a picture without that color', () => {
    const picture = photo(80, 60);
    const fixed = applyRemedy(picture, {
      kind: 'remove-background',
      hex: '#00FF00',
      tolerance: 4,
      enclosed: true,
    });
    expect(sameBytes(fixed.data, picture.data)).toBe(true);
  });
});

describe('firming up', () => {
  it('sets alpha to 0 or 255 at the threshold', () => {
    const raster = canvas(256, 1, NAVY);
    for (let x = 0; x < 256; x++) raster.data[4 * x + 3] = x;
    const fixed = applyRemedy(raster, { kind: 'firm-up', threshold: 100 });
    for (let x = 0; x < 256; x++) expect(fixed.data[4 * x + 3]).toBe(x < 100 ? 0 : 255);
  });
});

describe('thickening', () => {
  const thin = (raster: Raster): number | undefined => measureArtwork(raster).thinLines[0]?.px;
  /** Keeps the ink box large, so that the strokes count as thin. */
  const frame = rect(0, 480, 500, 20);

  it.each([
    [1, 4, 0],
    [2, 7, 90],
    [2, 6, 33],
    [3, 8, 45],
    [1, 12, 71],
  ])('widens a stroke of %i px to %i px or slightly more, at %i degrees', (from, to, angle) => {
    const raster = paint(
      canvas(500, 500),
      any(bar(250.5, 220.5, 300, from, angle), frame),
      NAVY,
      angle % 90 === 0 ? 1 : 4,
    );
    expect(thin(raster)).toBeLessThan(from + 0.5);
    const fixed = applyRemedy(raster, { kind: 'thicken', toPx: to });
    const width = thin(fixed)!;
    expect(width).toBeGreaterThanOrEqual(to);
    expect(width).toBeLessThan(to + 1.5);
  });

  it.each([
    ['a bar that is wide enough', bar(250, 220, 300, 12, 20)],
    ['a triangle and its corners', polygon([250, 60], [420, 400], [80, 400])],
    ['a disc', disc(250, 220, 120)],
    ['a square with a round hole', without(rect(100, 80, 300, 300), disc(250, 230, 80))],
  ])('does not change %s', (_, shape) => {
    const raster = paint(canvas(500, 500), any(shape, frame), NAVY, 4);
    expect(sameBytes(applyRemedy(raster, { kind: 'thicken', toPx: 8 }).data, raster.data)).toBe(true);
  });

  it('uses the color of the stroke, and only adds ink', () => {
    const raster = paint(
      paint(canvas(200, 200), rect(60, 20, 2, 160), '#C8102E'),
      rect(140, 20, 2, 160),
      NAVY,
    );
    const fixed = applyRemedy(raster, { kind: 'thicken', toPx: 6 });
    expect(pixelAt(fixed, 59, 100)).toEqual([200, 16, 46, 255]);
    expect(pixelAt(fixed, 139, 100)).toEqual([27, 42, 73, 255]);
    expect(raster.data.every((byte, at) => at % 4 !== 3 || fixed.data[at]! >= byte)).toBe(true);
  });

  it('grows the canvas for a stroke at its edge', () => {
    const raster = paint(canvas(100, 60), rect(0, 0, 1, 60), NAVY);
    const fixed = applyRemedy(raster, { kind: 'thicken', toPx: 5 });
    expect(fixed.width).toBeGreaterThan(100);
    expect(measureArtwork(fixed).largestSolid!.diameterPx).toBeGreaterThanOrEqual(4.9);
  });
});

describe('outlining', () => {
  it('adds a ring of the color and width, and keeps the ink', () => {
    const raster = paint(canvas(200, 200), disc(100, 100, 50), '#0C0C0C', 4);
    const fixed = applyRemedy(raster, { kind: 'outline', widthPx: 8, hex: '#FFCD00' });
    expect(fixed).toMatchObject({ width: 200, height: 200 });
    expect(pixelAt(fixed, 100, 100)).toEqual([12, 12, 12, 255]);
    expect(pixelAt(fixed, 100, 45)).toEqual([255, 205, 0, 255]);
    let reach = 0;
    for (let x = 100; x < 200; x++) reach += pixelAt(fixed, x, 100)[3] / 255;
    expect(Math.abs(reach - 58)).toBeLessThan(0.75);
  });

  it('grows the canvas if there is no room', () => {
    const fixed = applyRemedy(canvas(20, 20, NAVY), { kind: 'outline', widthPx: 3, hex: '#FFFFFF' });
    expect(fixed).toMatchObject({ width: 28, height: 28 });
    expect(measureArtwork(fixed).inkBox).toEqual({ left: 1, top: 1, width: 26, height: 26 });
  });

  it('does not change a picture without ink', () => {
    expect(applyRemedy(canvas(10, 10), { kind: 'outline', widthPx: 3, hex: '#FFFFFF' })).toEqual(
      canvas(10, 10),
    );
  });
});

/** The data with the color of clear pixels removed. */
function visible(raster: Raster): Uint8Array {
  const data = Uint8Array.from(raster.data);
  for (let at = 0; at < data.length; at += 4) if (data[at + 3] === 0) data.fill(0, at, at + 4);
  return data;
}

describe('the fixtures', () => {
  it('have deterministic noise', () => {
    expect(noise(42)).toBe(noise(42));
    expect(noise(42)).not.toBe(noise(43));
  });
});
