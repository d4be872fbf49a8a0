import { describe, expect, it } from 'vitest';
import { measureArtwork } from '../../../src/artwork/facts.ts';
import { applyRemedy } from '../../../src/artwork/remedies/apply.ts';
import { dotScreen } from '../../../src/artwork/screen.ts';
import { canvas, disc, paint, rect, sameBytes } from './drawing.ts';

/** Share of a tint, by A. Murray, J. Franklin Institute 221, 721, 1936: a = (1 - 10^-Dt) / (1 - 10^-Ds). */
function murrayDavies(tintDensity: number, solidDensity: number): number {
  return (1 - 10 ** -tintDensity) / (1 - 10 ** -solidDensity);
}

describe('Murray-Davies', () => {
  // Computed from the equation.
  it.each([
    [0, 1.4, 0],
    [0.1, 1.2, 0.21952],
    [0.3, 1.4, 0.51949],
    [0.53, 1.5, 0.7279],
    [0.9, 1.45, 0.90626],
    [1.4, 1.4, 1],
  ])('of density %d over %d is a share of %d', (tint, solid, share) => {
    expect(murrayDavies(tint, solid)).toBeCloseTo(share, 5);
  });
});

describe('the halftone screen', () => {
  it.each([
    [6, 45],
    [8, 0],
    [10, 15],
    [12.5, 75],
    [24, 22.5],
    [4, 45],
  ])('of %d px at %d degrees prints every tint to a hundredth', (cellPx, angleDeg) => {
    const screen = dotScreen(cellPx, angleDeg);
    const side = 480;
    for (const tint of [0.03, 0.1, 0.25, 0.5, 0.7, 0.9, 0.97]) {
      let inked = 0;
      for (let y = 0; y < side; y++) for (let x = 0; x < side; x++) if (tint > screen(x, y)) inked++;
      // The reading of a densitometer for ink of density 1.4 in that pattern, inverted by Murray-Davies.
      const reflected = inked / side / side;
      const density = -Math.log10(1 - reflected * (1 - 10 ** -1.4));
      // A cell of few pixels has few tints; in aligned rows of whole cells they do not average out.
      const steps = Number.isInteger(cellPx) && angleDeg % 45 === 0 ? 4 / (cellPx * cellPx) : 0;
      expect(Math.abs(murrayDavies(density, 1.4) - tint), `tint ${tint}`).toBeLessThan(0.01 + steps);
    }
  });

  it('has no ink at tint 0 and all ink at tint 1', () => {
    const screen = dotScreen(8, 45);
    const thresholds = Array.from({ length: 1600 }, (_, at) => screen(at % 40, Math.floor(at / 40)));
    expect(thresholds.every((threshold) => threshold >= 0 && threshold < 1)).toBe(true);
  });
});

describe('screening soft alpha', () => {
  it.each([26, 64, 128, 200, 240])(
    'makes dots that cover the share of an alpha of %i, and leaves no soft pixel',
    (alpha) => {
      const raster = canvas(300, 300, '#000000');
      for (let at = 3; at < raster.data.length; at += 4) raster.data[at] = alpha;
      const screened = applyRemedy(raster, { kind: 'screen-soft', cellPx: 7.5, angleDeg: 45 });
      const facts = measureArtwork(screened);
      expect(facts.softShare).toBe(0);
      expect(facts.opaqueShare).toBeCloseTo(alpha / 255, 2);
    },
  );

  it('keeps the local mean of a fade', () => {
    const raster = canvas(400, 200, '#000000');
    for (let y = 0; y < 200; y++)
      for (let x = 0; x < 400; x++) raster.data[4 * (y * 400 + x) + 3] = Math.round(1 + (253 * x) / 399);
    const screened = applyRemedy(raster, { kind: 'screen-soft', cellPx: 6, angleDeg: 45 });
    for (let left = 0; left < 400; left += 50) {
      let before = 0;
      let after = 0;
      for (let y = 0; y < 200; y++)
        for (let x = left; x < left + 50; x++) {
          before += raster.data[4 * (y * 400 + x) + 3]!;
          after += screened.data[4 * (y * 400 + x) + 3]!;
        }
      expect(Math.abs(before - after) / (255 * 50 * 200), `from ${left}`).toBeLessThan(0.015);
    }
  });

  it('thresholds antialiased edges at half alpha, without dots', () => {
    const smooth = paint(canvas(200, 200), disc(100, 100, 80), '#000000', 4);
    const screened = applyRemedy(smooth, { kind: 'screen-soft', cellPx: 10, angleDeg: 45 });
    const firm = applyRemedy(smooth, { kind: 'firm-up', threshold: 128 });
    expect(sameBytes(screened.data, firm.data)).toBe(true);
  });
});

describe('screening large solids', () => {
  const remedy = { kind: 'screen-solids', cellPx: 8, tint: 0.7, minDiameterPx: 60, angleDeg: 45 } as const;

  it('keeps the tint inside and a full border', () => {
    const slab = canvas(400, 400, '#C8102E');
    const screened = applyRemedy(slab, remedy);
    let kept = 0;
    for (let y = 50; y < 350; y++)
      for (let x = 50; x < 350; x++) if (screened.data[4 * (y * 400 + x) + 3] === 255) kept++;
    expect(Math.abs(kept / (300 * 300) - 0.7)).toBeLessThan(0.02);
    for (let x = 0; x < 400; x++)
      for (const y of [0, 1, 2]) expect(screened.data[4 * (y * 400 + x) + 3]).toBe(255);
  });

  it('keeps small shapes and lines, also next to a solid', () => {
    const detail = paint(canvas(400, 400), disc(60, 60, 20), '#C8102E', 4);
    paint(detail, rect(0, 360, 400, 30), '#C8102E');
    expect(sameBytes(applyRemedy(detail, remedy).data, detail.data)).toBe(true);
    const both = paint({ ...detail, data: detail.data.slice() }, rect(100, 100, 200, 200), '#C8102E');
    const screened = applyRemedy(both, remedy);
    const inside = (x: number, y: number): boolean => x >= 100 && x < 300 && y >= 100 && y < 300;
    let holes = 0;
    let touched = 0;
    for (let y = 0, at = 0; y < 400; y++)
      for (let x = 0; x < 400; x++, at += 4) {
        if (inside(x, y)) holes += screened.data[at + 3] === 0 ? 1 : 0;
        else touched += screened.data[at + 3] === both.data[at + 3] ? 0 : 1;
      }
    expect(touched).toBe(0);
    expect(holes).toBeGreaterThan(5000);
  });

  it('leaves no solid of that size', () => {
    const facts = measureArtwork(applyRemedy(canvas(400, 300, '#C8102E'), remedy));
    expect(facts.largestSolid!.diameterPx).toBeLessThan(30);
  });
});
