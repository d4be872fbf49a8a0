import { createHash } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodePng } from '../../../api/files/png.ts';
import { compositeOver } from '../../../api/files/proof/composite.ts';
import { type ProofPlacement, type ProofRequest, renderProof } from '../../../api/files/proof.ts';
import { blankRaster } from '../../../src/artwork/raster.ts';
import {
  LETTERING_FONTS,
  type LetteringSpec,
  lettering,
  missingLetters,
} from '../../../src/production/index.ts';
import { paint } from './fixtures/png.ts';

/** A board of 400 x 200 mm whose cloth is a rectangle with 20 mm margins. */
const drawing = {
  widthMm: 400,
  heightMm: 200,
  shapes: [{ d: 'M20 20H380V180H20Z', role: 'cloth' as const }],
};
const flat: ProofPlacement = {
  xMm: 200,
  yMm: 100,
  ink: { widthMm: 80 },
  angleDeg: 0,
  underbase: true,
  softAlpha: 'prints',
  gloss: 0,
};
const request = (placements: readonly ProofPlacement[], clothHex = '#1a1a1a'): ProofRequest => ({
  drawing,
  clothHex,
  longSidePx: 800,
  placements,
});
/** A yellow bar, 2:1, with a clear margin that must not count. */
const bar = {
  width: 120,
  height: 80,
  data: paint(120, 80, (x, y) =>
    x >= 20 && x < 100 && y >= 20 && y < 60 ? [255, 205, 0, 255] : [9, 9, 9, 0],
  ),
};

async function proof(placements: readonly ProofPlacement[], clothHex?: string) {
  const raster = await decodePng(
    await renderProof(
      request(placements, clothHex),
      placements.map(() => bar),
    ),
  );
  /** The color at a place in mm. */
  const at = (xMm: number, yMm: number) => {
    const px = Math.floor(yMm * 2) * raster.width + Math.floor(xMm * 2);
    return [...raster.data.subarray(4 * px, 4 * px + 4)];
  };
  return { raster, at };
}

const isYellow = ([r, g, b]: readonly number[]) => r! > 180 && g! > 140 && b! < 110;

describe('a proof', () => {
  it('shows the blank in its color, fully opaque', async () => {
    const { raster, at } = await proof([], '#c8102e');
    expect([raster.width, raster.height]).toEqual([800, 400]);
    expect(at(200, 100)).toEqual([200, 16, 46, 255]);
    expect(at(5, 5)[3]).toBe(255);
    expect(at(5, 5)).not.toEqual([200, 16, 46, 255]);
    for (let index = 3; index < raster.data.length; index += 4) expect(raster.data[index]).toBe(255);
  });

  it('sizes and positions the ink, not the canvas of the file', async () => {
    // 80 mm wide, so 40 mm high: 160..240 x 80..120 mm.
    const { at } = await proof([flat]);
    for (const [x, y] of [
      [162, 82],
      [238, 82],
      [162, 118],
      [238, 118],
    ] as const)
      expect(isYellow(at(x, y)), `${x}, ${y}`).toBe(true);
    for (const [x, y] of [
      [158, 100],
      [242, 100],
      [200, 78],
      [200, 122],
    ] as const)
      expect(at(x, y)).toEqual([26, 26, 26, 255]);
  });

  it('rotates clockwise about the center', async () => {
    const { at } = await proof([{ ...flat, angleDeg: 90 }]);
    expect(isYellow(at(200, 62))).toBe(true);
    expect(isYellow(at(200, 138))).toBe(true);
    expect(isYellow(at(162, 100))).toBe(false);
    // 45 degrees clockwise: the right end of the bar goes down (y grows downward).
    const slant = await proof([{ ...flat, angleDeg: 45 }]);
    expect(isYellow(slant.at(200 + 25, 100 + 25))).toBe(true);
    expect(isYellow(slant.at(200 + 25, 100 - 25))).toBe(false);
  });

  it('shows ink without white underbase duller on dark cloth', async () => {
    const { at } = await proof([{ ...flat, underbase: false }]);
    const [r, g] = at(200, 100);
    expect(r! + g!).toBeLessThan(120);
  });

  it('gives the same bytes for the same request, and different ones for another', async () => {
    const hash = async (placements: readonly ProofPlacement[]) =>
      createHash('sha256')
        .update(
          await renderProof(
            request(placements),
            placements.map(() => bar),
          ),
        )
        .digest('hex');
    const first = await hash([flat, { ...flat, xMm: 90, angleDeg: 33.333 }]);
    expect(await hash([flat, { ...flat, xMm: 90, angleDeg: 33.333 }])).toBe(first);
    expect(await hash([flat, { ...flat, xMm: 91, angleDeg: 33.333 }])).not.toBe(first);
  });

  it('clips what extends over the edge, and skips artwork without ink', async () => {
    const { at } = await proof([{ ...flat, xMm: 0, yMm: 0, ink: { widthMm: 3000 }, angleDeg: 12 }]);
    expect(isYellow(at(200, 100))).toBe(true);
    const clear = blankRaster(10, 10);
    await expect(renderProof(request([flat]), [clear])).resolves.toBeInstanceOf(Buffer);
  });

  it.each([
    [
      'path data',
      { drawing: { ...drawing, shapes: [{ d: 'M0 0"/><script/>', role: 'cloth' as const }] } },
      /shape 0/,
    ],
    ['a color', { clothHex: 'red"/>' }, /the cloth is red/],
    ['a size', { longSidePx: 100_000 }, /longSidePx is 100000; it must be from 200 to 2000/],
    ['a drawing', { drawing: { ...drawing, widthMm: 0 } }, /0 x 200 mm/],
  ])('refuses anything but %s', async (_, wrong, message) => {
    await expect(renderProof({ ...request([]), ...wrong }, [])).rejects.toThrow(message);
  });
});

describe('a name on a proof', () => {
  const shown = async (name: Partial<LetteringSpec>, angleDeg = 0, text = 'H') => {
    const lettered = { text, font: 'condensed-bold', capHeightMm: 60, mostWidthMm: 300, ...name };
    const png = await renderProof(
      request([{ ...flat, angleDeg, ink: { name: lettered, hex: '#ffcd00' } }]),
      [],
    );
    const { width, data } = await decodePng(png);
    let [left, top, right, bottom, inked] = [width, 1e9, -1, -1, 0];
    for (let at = 0; at < data.length; at += 4) {
      if (!isYellow([...data.subarray(at, at + 3)])) continue;
      inked++;
      left = Math.min(left, (at / 4) % width);
      right = Math.max(right, (at / 4) % width);
      top = Math.min(top, Math.floor(at / 4 / width));
      bottom = Math.max(bottom, Math.floor(at / 4 / width));
    }
    // 2 px to the mm.
    return {
      lettered,
      widthMm: (right - left + 1) / 2,
      heightMm: (bottom - top + 1) / 2,
      centerMm: [(left + right + 1) / 4, (top + bottom + 1) / 4],
      inkMm2: inked / 4,
    };
  };

  it('has the requested cap height, centered on its position', async () => {
    for (const font of LETTERING_FONTS.map(({ id }) => id)) {
      const { heightMm, centerMm } = await shown({ font });
      expect(Math.abs(heightMm - 60), font).toBeLessThanOrEqual(1);
      expect(Math.abs(centerMm[0]! - 200), font).toBeLessThanOrEqual(2);
      expect(Math.abs(centerMm[1]! - 100), font).toBeLessThanOrEqual(1);
    }
  });

  it.each(['KESTREL', 'Ögür', 'Željko 07', '10', 'Nguyễn'])(
    '%s covers what is charged for, in the box that is measured',
    async (text) => {
      for (const font of LETTERING_FONTS.map(({ id }) => id)) {
        const { lettered, widthMm, heightMm, inkMm2 } = await shown({ font }, 0, text);
        const size = lettering(lettered);
        // The letters' own side bearings are in the box, and what is half covered counts here or there.
        expect(widthMm).toBeLessThanOrEqual(size.widthMm + 1);
        expect(widthMm).toBeGreaterThan(0.93 * size.widthMm);
        if (missingLetters(text, font).length > 0) continue;
        expect(Math.abs(heightMm - size.heightMm)).toBeLessThanOrEqual(1);
        const charged = size.widthMm * size.heightMm * size.inkShare;
        expect(Math.abs(inkMm2 / charged - 1)).toBeLessThan(0.04);
      }
    },
  );

  it('is condensed, not shrunk, to fit, and rotates with its placement', async () => {
    const held = await shown({ mostWidthMm: 120 }, 0, 'WILLOUGHBY');
    expect(held.widthMm).toBeGreaterThan(112);
    expect(held.widthMm).toBeLessThanOrEqual(121);
    expect(held.heightMm).toBeGreaterThan(59);
    const turned = await shown({ mostWidthMm: 120 }, 90, 'WILLOUGHBY');
    expect(turned.heightMm).toBeCloseTo(held.widthMm, 0);
    expect(turned.widthMm).toBeCloseTo(held.heightMm, 0);
  });

  it('may be next to artwork, and may have no visible letters', async () => {
    const name = {
      name: { text: '\u2003', font: 'slab-bold', capHeightMm: 20, mostWidthMm: 90 },
      hex: '#ffcd00',
    };
    const { raster } = await proof([{ ...flat, ink: name }, flat].slice(1));
    const both = await decodePng(await renderProof(request([{ ...flat, ink: name }, flat]), [bar]));
    expect(Buffer.from(both.data).equals(Buffer.from(raster.data))).toBe(true);
  });

  it.each([
    ['a face of type', { font: 'wedge' }, '#ffcd00', /there is no font "wedge"/],
    ['a color', {}, 'red"/>', /the color of a name is red/],
  ])('refuses anything but %s', async (_, name, hex, message) => {
    const lettered = { text: 'H', font: 'condensed-bold', capHeightMm: 60, mostWidthMm: 300, ...name };
    await expect(renderProof(request([{ ...flat, ink: { name: lettered, hex } }]), [])).rejects.toThrow(
      message,
    );
  });
});

describe('compositing one picture over another', () => {
  it('keeps every value between those of the two, and changes nothing outside', () => {
    fc.assert(
      fc.property(
        fc.record({
          centerXPx: fc.double({ min: -20, max: 60, noNaN: true }),
          centerYPx: fc.double({ min: -20, max: 60, noNaN: true }),
          widthPx: fc.double({ min: 0.5, max: 50, noNaN: true }),
          heightPx: fc.double({ min: 0.5, max: 50, noNaN: true }),
          angleDeg: fc.double({ min: -360, max: 360, noNaN: true }),
        }),
        fc.integer({ min: 0, max: 255 }),
        (lie, alpha) => {
          const canvas = {
            width: 40,
            height: 40,
            data: new Uint8Array(paint(40, 40, () => [10, 200, 90, 255])),
          };
          compositeOver(canvas, { width: 7, height: 5, data: paint(7, 5, () => [210, 20, 95, alpha]) }, lie);
          const reach = Math.hypot(lie.widthPx, lie.heightPx) / 2 + 2;
          for (let y = 0; y < 40; y++)
            for (let x = 0; x < 40; x++) {
              const [r, g, b, a] = canvas.data.subarray(4 * (40 * y + x), 4 * (40 * y + x) + 4);
              expect(
                r! >= 10 && r! <= 210 && g! >= 20 && g! <= 200 && b! >= 90 && b! <= 95 && a === 255,
              ).toBe(true);
              if (Math.hypot(x + 0.5 - lie.centerXPx, y + 0.5 - lie.centerYPx) > reach) expect(r).toBe(10);
            }
        },
      ),
      { numRuns: 60 },
    );
  });

  it('covers the area of the picture', () => {
    const canvas = { width: 60, height: 60, data: new Uint8Array(paint(60, 60, () => [0, 0, 0, 255])) };
    const white = { width: 10, height: 10, data: paint(10, 10, () => [255, 255, 255, 255]) };
    compositeOver(canvas, white, {
      centerXPx: 30.3,
      centerYPx: 29.6,
      widthPx: 30,
      heightPx: 20,
      angleDeg: 30,
    });
    let sum = 0;
    for (let at = 0; at < canvas.data.length; at += 4) sum += canvas.data[at]! / 255;
    expect(Math.abs(sum - 600)).toBeLessThan(12);
  });
});
