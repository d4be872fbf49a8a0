import { describe, expect, it } from 'vitest';
import {
  coverageOfPlate,
  dotShare,
  halftone,
  type Plate,
  tintDensity,
} from '../../../src/production/index.ts';

/*
 * Murray-Davies (A. Murray, Journal of the Franklin Institute 221, 721, 1936) and Yule-Nielsen (J. A. C. Yule,
 * W. J. Nielsen, TAGA Proceedings, 65-76, 1951). The figures are worked out from the equations as printed:
 * share = (1 - 10^(-Dt/n)) / (1 - 10^(-Ds/n)), densities over the bare material.
 */
describe('share of dots from densities', () => {
  it.each([
    [0.0, 1.4, [0.0, 0.0, 0.0, 0.0]],
    [0.1, 1.2, [0.21952, 0.16911, 0.15772, 0.14523]],
    [0.3, 1.4, [0.51949, 0.41775, 0.3929, 0.36485]],
    [0.53, 1.5, [0.7279, 0.61859, 0.5895, 0.55554]],
    [0.9, 1.45, [0.90626, 0.83945, 0.81945, 0.79492]],
    [1.4, 1.4, [1.0, 1.0, 1.0, 1.0]],
  ])('tint %f, solid %f', (tint, solid, shares) => {
    [1, 1.5, 1.7, 2].forEach((n, place) => {
      expect(dotShare(tint, solid, n)).toBeCloseTo(shares[place]!, 5);
      expect(tintDensity(dotShare(tint, solid, n), solid, n)).toBeCloseTo(tint, 9);
    });
  });

  it.each([
    [0.25, 0.11921, 0.16257, 0.19395, 0.37512],
    [0.5, 0.28408, 0.3797, 0.44404, 0.66683],
    [0.75, 0.55306, 0.7077, 0.79665, 0.87512],
  ])('density of a tint of %f, solid 1.40', (share, one, oneAndAHalf, two, read) => {
    expect(tintDensity(share, 1.4)).toBeCloseTo(one, 5);
    expect(tintDensity(share, 1.4, 1.5)).toBeCloseTo(oneAndAHalf, 5);
    expect(tintDensity(share, 1.4, 2)).toBeCloseTo(two, 5);
    // What Murray-Davies reads from dots whose light spreads all it can: the gain of a tint.
    expect(dotShare(tintDensity(share, 1.4, 2), 1.4)).toBeCloseTo(read, 5);
  });
});

function tint(side: number, share: number): Plate {
  return { width: side, height: side, data: new Uint8Array(side * side).fill(Math.round(255 * share)) };
}

/** Reflectance of a screened plate, dot by dot, as a densitometer sees it: bare material 1, solid 10^-solid. */
function densityOf({ data }: Plate, solid: number): number {
  let light = 0;
  for (const ink of data) light += ink === 255 ? 10 ** -solid : 1;
  return -Math.log10(light / data.length);
}

describe('a screened tint, read as a densitometer would', () => {
  it.each([
    [8, 45],
    [12, 22.5],
    [10, 0],
    [17, 30],
  ])('cells of %i px at %f degrees', (cellPx, angleDeg) => {
    for (const share of [0, 0.05, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9, 0.95, 1]) {
      const dots = halftone(tint(400, share), { cellPx, angleDeg });
      expect(new Set(dots.data).size).toBeLessThanOrEqual(2);
      // 8 bits know a share to 1/510; 400 px hold some 400 to 2500 dots, cut ones at the edge.
      const asked = Math.round(255 * share) / 255;
      expect(Math.abs(dotShare(densityOf(dots, 1.4), 1.4) - asked)).toBeLessThan(0.015);
    }
  });

  it('never has less ink where more is asked for', () => {
    let before = halftone(tint(64, 0), { cellPx: 9 }).data;
    for (let ink = 1; ink <= 255; ink++) {
      const dots = halftone(tint(64, ink / 255), { cellPx: 9 }).data;
      before.forEach((was, at) => {
        if (was > dots[at]!) expect({ ink, at }).toBe('a dot that shrank');
      });
      before = dots;
    }
    expect(coverageOfPlate(tint(64, 1))).toBe(1);
    expect(before.every((ink) => ink === 255)).toBe(true);
  });

  it('refuses a cell it cannot draw', () => {
    expect(() => halftone(tint(4, 0.5), { cellPx: 1 })).toThrow('the cell is 1 px');
    expect(() => halftone(tint(4, 0.5), { cellPx: Number.NaN })).toThrow('the cell is NaN px');
  });
});
