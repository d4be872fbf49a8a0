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

/** Every kind, as a customer might ask. */
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

describe('every mend', () => {
  it.each(ALL)(
    '$kind leaves what it is given alone, is repeatable, and gives a sound raster for any bytes',
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
            const mended = applyRemedy(raster, remedy);
            expect(sameBytes(raster.data, before)).toBe(true);
            expect(mended.data.buffer).not.toBe(raster.data.buffer);
            expect(mended.data).toHaveLength(4 * mended.width * mended.height);
            expect(sameBytes(applyRemedy(raster, remedy).data, mended.data)).toBe(true);
          },
        ),
        { numRuns: 60 },
      );
    },
  );

  it.each(ALL)('$kind does not care for the color of clear pixels', (remedy) => {
    const plain = paint(paint(canvas(80, 60), disc(40, 30, 22), NAVY, 4), rect(5, 5, 40, 1), '#C8102E');
    const hidden = { ...plain, data: plain.data.slice() };
    for (let at = 0; at < hidden.data.length; at += 4)
      if (hidden.data[at + 3] === 0) hidden.data.set([0, 255, 0], at);
    const one = applyRemedy(hidden, remedy);
    const other = applyRemedy(plain, remedy);
    expect([one.width, one.height]).toEqual([other.width, other.height]);
    expect(sameBytes(visible(one), visible(other))).toBe(true);
  });

  it('comes in order, one after the other; none gives the raster itself', () => {
    const raster = paint(canvas(60, 40), rect(10, 10, 20, 10), NAVY);
    expect(applyRemedies(raster, [])).toBe(raster);
    const trimmed = applyRemedies(raster, [{ kind: 'recolor', hex: '#FFCD00' }, { kind: 'trim' }]);
    expect(trimmed).toMatchObject({ width: 20, height: 10 });
    expect(pixelAt(trimmed, 0, 0)).toEqual([255, 205, 0, 255]);
  });
});

describe('trim', () => {
  it('goes by alpha: a black disc keeps all of its 120 px, though clear pixels are black and a corner is red', () => {
    const raster = paint(canvas(300, 200), disc(150, 100, 60), '#000000');
    const alone = applyRemedy(raster, { kind: 'trim' });
    expect(alone).toMatchObject({ width: 120, height: 120 });
    raster.data.set([255, 0, 0, 255], 0);
    expect(applyRemedy(raster, { kind: 'trim' })).toMatchObject({ width: 210, height: 160 });
  });
});

describe('recolor', () => {
  it('changes color and no alpha', () => {
    const raster = paint(canvas(80, 80), disc(40, 40, 30), NAVY, 4);
    const mended = applyRemedy(raster, { kind: 'recolor', hex: '#FFCD00' });
    const expected = raster.data.slice();
    for (let at = 0; at < expected.length; at += 4)
      if (expected[at + 3] !== 0) expected.set([255, 205, 0], at);
    expect(sameBytes(mended.data, expected)).toBe(true);
  });
});

describe('removing the background', () => {
  const shape = any(ring(100, 100, 70, 20), disc(100, 100, 25));
  /** What the motif is by construction: the same drawing on nothing. */
  const truth = paint(canvas(200, 200), shape, NAVY, 8);

  it.each(['#FFFFFF', '#EBE6DC', '#FFCD00', '#000000'])(
    'gives back the drawing that stood on %s',
    (ground) => {
      const boxed = paint(canvas(200, 200, ground), shape, ground === '#000000' ? '#FFCD00' : NAVY, 8);
      const mended = applyRemedy(boxed, {
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
        if (alpha === 255) lost += mended.data[at + 3]! < 230 ? 1 : 0;
        else if (alpha === 0) left += mended.data[at + 3] === 0 ? 0 : 1;
        else {
          edge++;
          off += Math.abs(mended.data[at + 3]! - alpha);
        }
      }
      expect({ lost, left }).toEqual({ lost: 0, left: 0 });
      expect(edge).toBeGreaterThan(500);
      expect(off / edge, 'mean error of alpha along the edge').toBeLessThan(24);
    },
  );

  it('leaves no rim: laid on any cloth, no edge pixel is off the straight mix of ink and cloth', () => {
    const boxed = paint(canvas(200, 200, '#FFFFFF'), shape, NAVY, 8);
    const mended = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#FFFFFF',
      tolerance: 8,
      enclosed: true,
    });
    let worst = 0;
    for (let at = 0; at < mended.data.length; at += 4) {
      if (mended.data[at + 3] === 0) continue;
      const color = labOfRgb([mended.data[at]!, mended.data[at + 1]!, mended.data[at + 2]!]);
      worst = Math.max(worst, ciede2000(color, labOfHex(NAVY)));
    }
    expect(worst).toBeLessThan(3);
    expect(measureArtwork(mended).lightRim).toBeNull();
  });

  it('keeps what ink encloses, unless asked', () => {
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

  it('takes the noise of JPEG along and leaves no specks', () => {
    const boxed = jpegNoise(paint(canvas(200, 200, '#EBE6DC'), shape, '#007A3D', 4), 8);
    const mended = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#EBE6DC',
      tolerance: 8,
      enclosed: true,
    });
    let specks = 0;
    for (let at = 0; at < mended.data.length; at += 4)
      if (truth.data[at + 3] === 0 && mended.data[at + 3]! > 40) specks++;
    expect(specks).toBeLessThan(20);
  });

  it('leaves a color of the motif alone that only resembles the background', () => {
    const boxed = paint(
      paint(canvas(120, 120, '#FFFFFF'), disc(60, 60, 40), NAVY, 4),
      disc(60, 60, 20),
      '#E0E0E0',
      4,
    );
    const mended = applyRemedy(boxed, {
      kind: 'remove-background',
      hex: '#FFFFFF',
      tolerance: 4,
      enclosed: true,
    });
    expect(pixelAt(mended, 60, 60)).toEqual([0xe0, 0xe0, 0xe0, 255]);
  });

  it('does nothing to a picture that has no such color', () => {
    const picture = photo(80, 60);
    const mended = applyRemedy(picture, {
      kind: 'remove-background',
      hex: '#00FF00',
      tolerance: 4,
      enclosed: true,
    });
    expect(sameBytes(mended.data, picture.data)).toBe(true);
  });
});

describe('firming up', () => {
  it('leaves alpha at 0 and 255, at the threshold', () => {
    const raster = canvas(256, 1, NAVY);
    for (let x = 0; x < 256; x++) raster.data[4 * x + 3] = x;
    const mended = applyRemedy(raster, { kind: 'firm-up', threshold: 100 });
    for (let x = 0; x < 256; x++) expect(mended.data[4 * x + 3]).toBe(x < 100 ? 0 : 255);
  });
});

describe('thickening', () => {
  const thin = (raster: Raster): number | undefined => measureArtwork(raster).thinLines[0]?.px;
  /** Keeps the ink box large, so that what is thin is still listed. */
  const frame = rect(0, 480, 500, 20);

  it.each([
    [1, 4, 0],
    [2, 7, 90],
    [2, 6, 33],
    [3, 8, 45],
    [1, 12, 71],
  ])('brings a stroke of %i px to %i px or a little more, at %i degrees', (from, to, angle) => {
    const raster = paint(
      canvas(500, 500),
      any(bar(250.5, 220.5, 300, from, angle), frame),
      NAVY,
      angle % 90 === 0 ? 1 : 4,
    );
    expect(thin(raster)).toBeLessThan(from + 0.5);
    const mended = applyRemedy(raster, { kind: 'thicken', toPx: to });
    const width = thin(mended)!;
    expect(width).toBeGreaterThanOrEqual(to);
    expect(width).toBeLessThan(to + 1.5);
  });

  it.each([
    ['a bar that is wide enough', bar(250, 220, 300, 12, 20)],
    ['a triangle and its corners', polygon([250, 60], [420, 400], [80, 400])],
    ['a disc', disc(250, 220, 120)],
    ['a square with a round hole', without(rect(100, 80, 300, 300), disc(250, 230, 80))],
  ])('leaves %s as it is', (_, shape) => {
    const raster = paint(canvas(500, 500), any(shape, frame), NAVY, 4);
    expect(sameBytes(applyRemedy(raster, { kind: 'thicken', toPx: 8 }).data, raster.data)).toBe(true);
  });

  it('takes the color of the stroke, and adds only', () => {
    const raster = paint(
      paint(canvas(200, 200), rect(60, 20, 2, 160), '#C8102E'),
      rect(140, 20, 2, 160),
      NAVY,
    );
    const mended = applyRemedy(raster, { kind: 'thicken', toPx: 6 });
    expect(pixelAt(mended, 59, 100)).toEqual([200, 16, 46, 255]);
    expect(pixelAt(mended, 139, 100)).toEqual([27, 42, 73, 255]);
    expect(raster.data.every((byte, at) => at % 4 !== 3 || mended.data[at]! >= byte)).toBe(true);
  });

  it('grows the canvas for a stroke on its border', () => {
    const raster = paint(canvas(100, 60), rect(0, 0, 1, 60), NAVY);
    const mended = applyRemedy(raster, { kind: 'thicken', toPx: 5 });
    expect(mended.width).toBeGreaterThan(100);
    expect(measureArtwork(mended).largestSolid!.diameterPx).toBeGreaterThanOrEqual(4.9);
  });
});

describe('outlining', () => {
  it('lays a ring of the color and width around, and keeps the ink', () => {
    const raster = paint(canvas(200, 200), disc(100, 100, 50), '#0C0C0C', 4);
    const mended = applyRemedy(raster, { kind: 'outline', widthPx: 8, hex: '#FFCD00' });
    expect(mended).toMatchObject({ width: 200, height: 200 });
    expect(pixelAt(mended, 100, 100)).toEqual([12, 12, 12, 255]);
    expect(pixelAt(mended, 100, 45)).toEqual([255, 205, 0, 255]);
    let reach = 0;
    for (let x = 100; x < 200; x++) reach += pixelAt(mended, x, 100)[3] / 255;
    expect(Math.abs(reach - 58)).toBeLessThan(0.75);
  });

  it('grows the canvas where there is no room', () => {
    const mended = applyRemedy(canvas(20, 20, NAVY), { kind: 'outline', widthPx: 3, hex: '#FFFFFF' });
    expect(mended).toMatchObject({ width: 28, height: 28 });
    expect(measureArtwork(mended).inkBox).toEqual({ left: 1, top: 1, width: 26, height: 26 });
  });

  it('leaves a picture without ink alone', () => {
    expect(applyRemedy(canvas(10, 10), { kind: 'outline', widthPx: 3, hex: '#FFFFFF' })).toEqual(
      canvas(10, 10),
    );
  });
});

/** Color of every pixel that is seen; the hidden color of others is nobody's. */
function visible(raster: Raster): Uint8Array {
  const data = Uint8Array.from(raster.data);
  for (let at = 0; at < data.length; at += 4) if (data[at + 3] === 0) data.fill(0, at, at + 4);
  return data;
}

describe('the fixtures', () => {
  it('have noise that repeats itself', () => {
    expect(noise(42)).toBe(noise(42));
    expect(noise(42)).not.toBe(noise(43));
  });
});
