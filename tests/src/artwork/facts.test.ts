import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { measureArtwork } from '../../../src/artwork/facts.ts';
import type { Raster } from '../../../src/artwork/raster.ts';
import { ArtworkFacts } from '../../../src/contract/facts.ts';
import { any, canvas, disc, jpegNoise, lettering, noise, paint, photo, rect, ring } from './drawing.ts';

/** A logo: ring, dot and letters. */
const LOGO = any(ring(240, 180, 136, 20), disc(240, 120, 28));

/** By definition: soft pixels without both a solid and a clear one among the 5 x 5; outside the canvas is clear. */
function deepSoftShare({ width, height, data }: Raster): number {
  let inked = 0;
  let deep = 0;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const alpha = data[4 * (y * width + x) + 3]!;
      if (alpha === 0) continue;
      inked++;
      if (alpha === 255) continue;
      let solid = false;
      let clear = false;
      for (let dy = -2; dy <= 2; dy++)
        for (let dx = -2; dx <= 2; dx++) {
          const outside = x + dx < 0 || y + dy < 0 || x + dx >= width || y + dy >= height;
          const other = outside ? 0 : data[4 * ((y + dy) * width + x + dx) + 3]!;
          solid ||= other === 255;
          clear ||= other === 0;
        }
      if (!(solid && clear)) deep++;
    }
  return inked === 0 ? 0 : deep / inked;
}

describe('measureArtwork', () => {
  it('returns facts of the documented shape for any bytes', () => {
    fc.assert(
      fc.property(
        fc
          .tuple(fc.integer({ min: 1, max: 40 }), fc.integer({ min: 1, max: 40 }))
          .chain(([width, height]) =>
            fc
              .uint8Array({ minLength: 4 * width * height, maxLength: 4 * width * height })
              .map((data) => ({ width, height, data })),
          ),
        (raster) => {
          const before = raster.data.slice();
          const facts = measureArtwork(raster);
          expect(ArtworkFacts.parse(facts)).toEqual(facts);
          expect(raster.data).toEqual(before);
          expect(facts.opaqueShare + facts.softShare + facts.clearShare).toBeCloseTo(1, 9);
          expect(facts.deepSoftShare).toBeCloseTo(deepSoftShare(raster), 12);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('ignores the color of clear pixels', () => {
    const plain = paint(canvas(257, 257), disc(128.5, 128.5, 90), '#C8102E', 4);
    const hidden = { ...plain, data: plain.data.slice() };
    for (let at = 0; at < hidden.data.length; at += 4)
      if (hidden.data[at + 3] === 0) hidden.data.set([0, 255, 0], at);
    const facts = measureArtwork(plain);
    expect(measureArtwork(hidden)).toEqual(facts);
    expect(facts.colors.map(({ hex }) => hex)).toEqual(['#C8102E']);
  });

  it('reads data that is not aligned to words', () => {
    const raster = paint(canvas(60, 40), disc(30, 20, 15), '#1B2A49', 4);
    const shifted = new Uint8Array(raster.data.length + 1);
    shifted.set(raster.data, 1);
    expect(measureArtwork({ ...raster, data: shifted.subarray(1) })).toEqual(measureArtwork(raster));
  });

  it('finds no ink in a clear picture', () => {
    const facts = measureArtwork(canvas(256, 256));
    expect(facts).toMatchObject({
      inkBox: null,
      clearShare: 1,
      colors: [],
      inkColorCount: 0,
      largestSolid: null,
    });
    expect(ArtworkFacts.safeParse(facts).success).toBe(true);
  });

  it('measures a single pixel', () => {
    const facts = measureArtwork(canvas(1, 1, '#C8102E'));
    expect(facts).toMatchObject({
      inkBox: { left: 0, top: 0, width: 1, height: 1 },
      inkColorCount: 1,
      background: null,
      largestSolid: { diameterPx: 1 },
    });
    expect(ArtworkFacts.safeParse(facts).success).toBe(true);
  });

  it('measures a banner of 12000 x 40', () => {
    const facts = measureArtwork(paint(canvas(12_000, 40), rect(0, 4, 12_000, 28), '#C8102E'));
    expect(facts.inkBox).toEqual({ left: 0, top: 4, width: 12_000, height: 28 });
    expect(facts.thinLines[0]!.px).toBe(28);
  });

  it.each([
    [{ width: 2, height: 2, data: new Uint8Array(15) }, 'raster.data holds 15 bytes; 2 x 2 pixels need 16'],
    [
      { width: 0, height: 2, data: new Uint8Array(0) },
      'raster.width is 0; it must be a whole number from 1 up',
    ],
    [
      { width: 2, height: 1.5, data: new Uint8Array(12) },
      'raster.height is 1.5; it must be a whole number from 1 up',
    ],
  ])('refuses an invalid raster (%#)', (raster, message) => {
    expect(() => measureArtwork(raster)).toThrow(message);
  });
});

describe('soft alpha', () => {
  it('does not include the antialiased edges of lettering', () => {
    const facts = measureArtwork(paint(canvas(420, 140), lettering(0, 10, 14), '#1B2A49', 4));
    expect(facts.softShare).toBeGreaterThan(0.01);
    expect(facts.deepSoftShare).toBeLessThan(0.002);
  });

  it('includes the shadow around a disc, with its box', () => {
    const raster = canvas(400, 300);
    for (let y = 0; y < 300; y++)
      for (let x = 0; x < 400; x++) {
        const off = Math.hypot(x + 0.5 - 212, y + 0.5 - 162) - 90;
        const alpha = off <= 0 ? 0.6 : Math.max(0, 0.6 * (1 - off / 26));
        raster.data[4 * (y * 400 + x) + 3] = Math.round(255 * alpha);
      }
    paint(raster, disc(200, 150, 90), '#DC3C1E', 4);
    const facts = measureArtwork(raster);
    expect(facts.deepSoftShare).toBeCloseTo(deepSoftShare(raster), 12);
    expect(facts.deepSoftShare).toBeGreaterThan(0.3);
    expect(facts.deepSoftBox!.left + facts.deepSoftBox!.width).toBeGreaterThan(300);
  });

  it('includes a whole block of half alpha, as in a palette with transparency', () => {
    const raster = paint(canvas(96, 64), rect(8, 8, 80, 48), '#C8102E');
    for (let y = 8; y < 56; y++) for (let x = 8; x < 34; x++) raster.data[4 * (y * 96 + x) + 3] = 128;
    const facts = measureArtwork(raster);
    expect(facts.deepSoftShare).toBeCloseTo(deepSoftShare(raster), 12);
    expect(facts.background).toBeNull();
  });
});

describe('the background', () => {
  it.each([
    ['#FFFFFF', '#1B2A49'],
    ['#EBE6DC', '#007A3D'],
    ['#101010', '#FFCD00'],
    ['#C8102E', '#FFFFFF'],
  ])('of %s is found, flat or with JPEG noise, with its color, share and motif', (ground, ink) => {
    for (const amplitude of [0, 6, 14]) {
      const raster = paint(canvas(480, 360, ground), LOGO, ink, 4);
      const ownPixels = Array.from({ length: 480 * 360 }, (_, at) => raster.data[4 * at]).filter(
        (red) => red === Number.parseInt(ground.slice(1, 3), 16),
      ).length;
      const { background } = measureArtwork(amplitude === 0 ? raster : jpegNoise(raster, amplitude));
      expect(background, `noise ${amplitude}`).not.toBeNull();
      expect(background!.hex).toBe(ground);
      // Noise moves some pixels out of the tolerance.
      expect(Math.abs(background!.share - ownPixels / (480 * 360))).toBeLessThan(
        amplitude === 0 ? 0.001 : 0.15,
      );
      const { left, top, width, height } = background!.motifBox;
      for (const [told, true_] of [
        [left, 94],
        [top, 34],
        [width, 292],
        [height, 292],
      ])
        expect(Math.abs(told! - true_!), `noise ${amplitude}`).toBeLessThanOrEqual(2);
    }
  });

  it('is found if it is slightly uneven', () => {
    const raster = paint(canvas(300, 200, '#F4F1EA'), disc(150, 100, 60), '#334455', 4);
    for (let at = 0; at < raster.data.length; at += 4)
      for (let channel = 0; channel < 3; channel++)
        raster.data[at + channel] = Math.min(
          255,
          Math.max(0, raster.data[at + channel]! + Math.round(3 * noise(at + channel))),
        );
    expect(measureArtwork(raster).background?.motifBox.width).toBeGreaterThan(116);
  });

  it('has the largest solid of the motif besides that of the whole', () => {
    const facts = measureArtwork(paint(canvas(300, 200, '#FFFFFF'), disc(150, 100, 40), '#000000'));
    expect(facts.largestSolid!.diameterPx).toBe(199);
    // From pixel center to pixel center a disc loses up to a pixel on each side.
    expect(Math.abs(facts.background!.motifSolid!.diameterPx - 80)).toBeLessThanOrEqual(2.5);
  });

  it.each<[string, () => Raster]>([
    ['a photo', () => photo(480, 360)],
    ['a photo that darkens to its corners', () => vignette(480, 360)],
    ['a sky that fades into a landscape', () => fade(300, 300)],
    ['a plain sheet of one color', () => canvas(200, 100, '#FFFFFF')],
    ['a cut-out logo', () => paint(canvas(480, 360), LOGO, '#1B2A49', 4)],
    [
      'a colored badge with clear room around it',
      () => paint(paint(canvas(200, 200), rect(20, 20, 160, 160), '#C8102E'), disc(100, 100, 50), '#FFFFFF'),
    ],
    ['four patches that fill the canvas', () => patches()],
    ['random pixels', () => random(120, 90)],
  ])('is none in %s', (_, picture) => {
    expect(measureArtwork(picture()).background).toBeNull();
  });

  it('is found if it is white with clear space around it', () => {
    const raster = paint(
      paint(canvas(200, 200), rect(20, 20, 160, 160), '#FFFFFF'),
      disc(100, 100, 50),
      '#C8102E',
    );
    expect(measureArtwork(raster).background).toMatchObject({ hex: '#FFFFFF' });
  });
});

describe('the light rim', () => {
  const size = 200;
  const dark = disc(100, 100, 70);

  it('is found around a dark motif cut out of white', () => {
    // Antialiased on white, then all white made clear: a careless cut-out.
    const raster = paint(canvas(size, size, '#FFFFFF'), dark, '#1B2A49', 4);
    for (let at = 0; at < raster.data.length; at += 4)
      if (raster.data[at] === 255 && raster.data[at + 1] === 255) raster.data[at + 3] = 0;
    paintRing(raster, 71.2, 1.6, '#F0F0F0');
    const { lightRim } = measureArtwork(raster);
    expect(lightRim).not.toBeNull();
    expect(lightRim!.share).toBeGreaterThan(0.5);
  });

  it.each<[string, () => Raster]>([
    ['a smooth dark disc', () => paint(canvas(size, size), dark, '#1B2A49', 4)],
    ['a light motif', () => paint(canvas(size, size), dark, '#F4F0E0', 4)],
    [
      'an outline somebody drew',
      () => paint(paint(canvas(size, size), disc(100, 100, 78), '#FFFFFF', 4), dark, '#1B2A49', 4),
    ],
    [
      'a colored edge',
      () => paint(paint(canvas(size, size), disc(100, 100, 72), '#FFD200', 4), dark, '#1B2A49', 4),
    ],
    ['a photo', () => photo(200, 150)],
  ])('is none on %s', (_, picture) => {
    expect(measureArtwork(picture()).lightRim).toBeNull();
  });

  function paintRing(raster: Raster, radius: number, width: number, hex: string): void {
    paint(raster as Parameters<typeof paint>[0], ring(100, 100, radius, width), hex);
  }
});

describe('the number of ink colors', () => {
  it('ignores antialiased edges and noise', () => {
    const three = paint(
      paint(
        paint(canvas(300, 200, '#FFFFFF'), disc(80, 100, 60), '#C8102E', 4),
        disc(200, 100, 60),
        '#1B2A49',
        4,
      ),
      rect(0, 0, 0, 0),
      '#000000',
    );
    expect(measureArtwork(three).inkColorCount).toBe(3);
    expect(measureArtwork(jpegNoise(three, 6)).inkColorCount).toBe(3);
    expect(measureArtwork(paint(canvas(420, 140), lettering(0, 10, 14), '#1B2A49', 4)).inkColorCount).toBe(1);
  });

  it('is null for photos and for more than twelve colors', () => {
    expect(measureArtwork(photo(300, 200)).inkColorCount).toBeNull();
    expect(measureArtwork(fade(300, 300)).inkColorCount).toBeNull();
    const stripes = canvas(260, 40);
    for (let index = 0; index < 13; index++)
      paint(
        stripes,
        rect(20 * index, 0, 20, 40),
        `#${((index * 1234567 + 0x224466) & 0xffffff).toString(16).padStart(6, '0')}`,
      );
    expect(measureArtwork(stripes).inkColorCount).toBeNull();
  });
});

describe('colors out of gamut', () => {
  it('are listed with the color that prints and their box; others are not', () => {
    const hexes = ['#39FF14', '#FF10F0', '#00FFFF', '#FF5F00', '#2E5A88', '#808080'];
    const raster = canvas(480, 160);
    for (const [index, hex] of hexes.entries()) paint(raster, rect(20 + 75 * index, 30, 65, 100), hex);
    const { outOfGamut } = measureArtwork(raster);
    expect(outOfGamut.colors.map(({ hex }) => hex).sort()).toEqual(hexes.slice(0, 4).sort());
    expect(outOfGamut.share).toBeCloseTo(4 / 6, 9);
    expect(outOfGamut.box).toEqual({ left: 20, top: 30, width: 290, height: 100 });
    for (const { hex, prints } of outOfGamut.colors) expect(prints).not.toBe(hex);
  });

  it('do not include grays and ordinary ink', () => {
    const { outOfGamut } = measureArtwork(paint(canvas(100, 100, '#808080'), disc(50, 50, 30), '#C8102E'));
    expect(outOfGamut).toEqual({ share: 0, colors: [], box: null });
  });
});

function patches(): Raster {
  const raster = canvas(160, 40);
  for (const [index, hex] of ['#FF0000', '#EA3323', '#6496C8', '#00FF00'].entries())
    paint(raster, rect(40 * index, 0, 40, 40), hex);
  return raster;
}

function random(width: number, height: number): Raster {
  const raster = canvas(width, height);
  for (let at = 0; at < raster.data.length; at++) raster.data[at] = Math.floor(128 + 127 * noise(at));
  return raster;
}

function vignette(width: number, height: number): Raster {
  const raster = photo(width, height);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 4) {
      const light = Math.max(0, 1 - 1.1 * Math.hypot((2 * x) / width - 1, (2 * y) / height - 1) ** 2);
      for (let channel = 0; channel < 3; channel++) raster.data[at + channel]! *= light;
    }
  return raster;
}

function fade(width: number, height: number): Raster {
  const raster = canvas(width, height);
  for (let y = 0, at = 0; y < height; y++)
    for (let x = 0; x < width; x++, at += 4) {
      const share = y / height;
      raster.data.set([90 + 150 * share, 150 - 60 * share, 230 - 200 * share, 255], at);
    }
  return raster;
}
