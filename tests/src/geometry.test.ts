import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { overlapsBox, rotatedHalfSize } from '../../src/geometry.ts';

const mm = fc.double({ min: -200, max: 200, noNaN: true });
const side = fc.double({ min: 1, max: 150, noNaN: true });
const angle = fc.double({ min: -360, max: 360, noNaN: true });

/** The corners of a rectangle about the origin, rotated clockwise. */
function rotatedCorners(width: number, height: number, angleDeg: number): readonly [number, number][] {
  const radians = (angleDeg * Math.PI) / 180;
  const corner = (signX: number, signY: number): [number, number] => {
    const x = (signX * width) / 2;
    const y = (signY * height) / 2;
    return [x * Math.cos(radians) - y * Math.sin(radians), x * Math.sin(radians) + y * Math.cos(radians)];
  };
  return [corner(-1, -1), corner(1, -1), corner(1, 1), corner(-1, 1)];
}

describe('rotatedHalfSize', () => {
  it('is exact at quarter turns', () => {
    expect(rotatedHalfSize(100, 40, 0)).toEqual([50, 20]);
    expect(rotatedHalfSize(100, 40, 90)).toEqual([20, 50]);
    expect(rotatedHalfSize(100, 40, -180)).toEqual([50, 20]);
    expect(rotatedHalfSize(100, 40, 270)).toEqual([20, 50]);
  });

  it('is half the box around the corners', () => {
    fc.assert(
      fc.property(side, side, angle, (width, height, turn) => {
        const corners = rotatedCorners(width, height, turn);
        const [halfWidth, halfHeight] = rotatedHalfSize(width, height, turn);
        expect(Math.max(...corners.map(([x]) => x))).toBeCloseTo(halfWidth, 9);
        expect(Math.max(...corners.map(([, y]) => y))).toBeCloseTo(halfHeight, 9);
      }),
    );
  });
});

describe('overlapsBox', () => {
  it('tells a corner that passes by from a rectangle that overlaps', () => {
    // A square turned by 45 degrees reaches 70.7 mm along the axes, but only half of that toward the corner.
    const far = { leftMm: 55, topMm: 55, widthMm: 20, heightMm: 20 };
    expect(overlapsBox([0, 0], 100, 100, 45, far)).toBe(false);
    expect(overlapsBox([0, 0], 141, 141, 0, far)).toBe(true);
  });

  it('agrees with sampled points: a shared inner point means overlap, bounding circles that do not meet mean none', () => {
    fc.assert(
      fc.property(mm, mm, side, side, angle, side, side, (x, y, width, height, turn, boxWidth, boxHeight) => {
        const box = { leftMm: -boxWidth / 2, topMm: -boxHeight / 2, widthMm: boxWidth, heightMm: boxHeight };
        const radians = (turn * Math.PI) / 180;
        let shared = false;
        for (let i = 1; i < 24 && !shared; i++)
          for (let k = 1; k < 24 && !shared; k++) {
            const u = (i / 24 - 0.5) * width;
            const v = (k / 24 - 0.5) * height;
            const px = x + u * Math.cos(radians) - v * Math.sin(radians);
            const py = y + u * Math.sin(radians) + v * Math.cos(radians);
            shared = Math.abs(px) < boxWidth / 2 && Math.abs(py) < boxHeight / 2;
          }
        if (shared) expect(overlapsBox([x, y], width, height, turn, box)).toBe(true);
        const reach = (Math.hypot(width, height) + Math.hypot(boxWidth, boxHeight)) / 2;
        if (Math.hypot(x, y) > reach) expect(overlapsBox([x, y], width, height, turn, box)).toBe(false);
      }),
      { numRuns: 400 },
    );
  });

  it('is symmetric for upright boxes', () => {
    fc.assert(
      fc.property(mm, mm, side, side, side, side, (x, y, width, height, boxWidth, boxHeight) => {
        const box = { leftMm: -boxWidth / 2, topMm: -boxHeight / 2, widthMm: boxWidth, heightMm: boxHeight };
        const other = { leftMm: x - width / 2, topMm: y - height / 2, widthMm: width, heightMm: height };
        expect(overlapsBox([x, y], width, height, 0, box)).toBe(
          overlapsBox([0, 0], boxWidth, boxHeight, 0, other),
        );
      }),
    );
  });
});
