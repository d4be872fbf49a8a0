/** Geometry of placements: what a gesture does to the numbers. Camera, ruler, guides and keys besides. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fitCamera, toMm, toPx } from '../../../../widget/stage/geometry/camera.ts';
import {
  angleForPointer,
  type Corner,
  cornerPoint,
  intersectsBox,
  isInsideArea,
  normalizeAngle,
  type Position,
  pinchPosition,
  rotatedBounds,
  rotatePoint,
  roundPosition,
  scaleFromCorner,
  widthForPointer,
} from '../../../../widget/stage/geometry/placement-math.ts';
import { ticks } from '../../../../widget/stage/geometry/ruler.ts';
import { smallestArea } from '../../../../widget/stage/geometry/smallest-area.ts';
import { snapAngle, snapMove, snapWidth } from '../../../../widget/stage/geometry/snap.ts';
import { keyAction } from '../../../../widget/stage/stage-keys.ts';
import { hatchPath } from '../../../../widget/stage/view/blank-svg.ts';

const at = (more: Partial<Position> = {}): Position => ({
  xMm: 0,
  yMm: 100,
  widthMm: 80,
  angleDeg: 0,
  ...more,
});

const mm = fc.double({ min: -400, max: 400, noNaN: true });
const position: fc.Arbitrary<Position> = fc.record({
  xMm: mm,
  yMm: mm,
  widthMm: fc.double({ min: 10, max: 600, noNaN: true }),
  angleDeg: fc.double({ min: -360, max: 360, noNaN: true }),
});
const aspect = fc.double({ min: 0.05, max: 20, noNaN: true });
const corner = fc.record({
  x: fc.constantFrom(-1 as const, 1 as const),
  y: fc.constantFrom(-1 as const, 1 as const),
});
const far = (a: { x: number; y: number }, b: { x: number; y: number }) => Math.hypot(a.x - b.x, a.y - b.y);

describe('rounding', () => {
  it('is stable, and leaves what was not changed to the last digit', () => {
    fc.assert(
      fc.property(position, position, (before, after) => {
        const once = roundPosition(after, before);
        expect(roundPosition(once, once)).toEqual(once);
        expect(roundPosition(once, before)).toEqual(once);
        expect(roundPosition(before, before)).toEqual(before);
        expect(Math.abs(once.xMm - after.xMm)).toBeLessThanOrEqual(0.005 + 1e-9);
        expect(roundPosition({ ...before, xMm: before.xMm + 1 }, before)).toMatchObject({
          yMm: before.yMm,
          widthMm: before.widthMm,
          angleDeg: before.angleDeg,
        });
      }),
    );
  });

  it('brings angles to (-180, 180] and never gives -0', () => {
    expect([370, -190, 180, -180, 360, 540, 0.004, -0.004].map(normalizeAngle)).toEqual([
      10, 170, 180, 180, 0, 180, 0, 0,
    ]);
    expect(Object.is(normalizeAngle(-0.001), 0)).toBe(true);
    expect(Object.is(roundPosition(at({ xMm: -0.001 }), at()).xMm, 0)).toBe(true);
  });
});

describe('the bounds of a turned artwork', () => {
  it('swap width and height at a quarter turn', () => {
    const box = rotatedBounds(at({ angleDeg: 90 }), 0.5);
    expect(box.right - box.left).toBeCloseTo(40, 9);
    expect(box.bottom - box.top).toBeCloseTo(80, 9);
  });

  it('hold all four corners and touch one with each side', () => {
    fc.assert(
      fc.property(position, aspect, (one, ratio) => {
        const box = rotatedBounds(one, ratio);
        const corners = ([-1, 1] as const).flatMap((x) =>
          ([-1, 1] as const).map((y) => cornerPoint(one, ratio, { x, y })),
        );
        expect(Math.min(...corners.map((point) => point.x))).toBeCloseTo(box.left, 6);
        expect(Math.max(...corners.map((point) => point.x))).toBeCloseTo(box.right, 6);
        expect(Math.min(...corners.map((point) => point.y))).toBeCloseTo(box.top, 6);
        expect(Math.max(...corners.map((point) => point.y))).toBeCloseTo(box.bottom, 6);
      }),
    );
  });

  it('are inside an area up to its edge', () => {
    const area = { widthMm: 100, heightMm: 200 };
    expect(isInsideArea(at({ widthMm: 100 }), 1, area)).toBe(true);
    expect(isInsideArea(at({ widthMm: 100.2 }), 1, area)).toBe(false);
    expect(isInsideArea(at({ yMm: 39.9 }), 1, area)).toBe(false);
    expect(isInsideArea(at({ widthMm: 130, angleDeg: 45 }), 0.05, area)).toBe(true); // a turn makes a slender mark narrower
    expect(isInsideArea(at({ widthMm: 95, angleDeg: 45 }), 1, area)).toBe(false);
  });

  it('touch a keep-out exactly when a point of the ink lies in it (sampled)', () => {
    fc.assert(
      fc.property(position, fc.double({ min: 0.2, max: 5, noNaN: true }), mm, mm, (one, ratio, left, top) => {
        const box = { left, top, right: left + 60, bottom: top + 40 };
        let hit = false;
        let near = false;
        for (let u = -1; u <= 1.0001; u += 0.05)
          for (let v = -1; v <= 1.0001; v += 0.05) {
            const offset = rotatePoint(
              { x: (u * one.widthMm) / 2, y: (v * one.widthMm * ratio) / 2 },
              one.angleDeg,
            );
            const point = { x: one.xMm + offset.x, y: one.yMm + offset.y };
            const inside = (by: number) =>
              point.x > box.left - by &&
              point.x < box.right + by &&
              point.y > box.top - by &&
              point.y < box.bottom + by;
            // deeper than what counts as touching the edge
            if (inside(-0.1)) hit = true;
            // between two samples a corner may still touch
            if (inside(one.widthMm * Math.max(1, ratio) * 0.05)) near = true;
          }
        const touches = intersectsBox(one, ratio, box);
        if (hit) expect(touches).toBe(true);
        if (!near) expect(touches).toBe(false);
      }),
      { numRuns: 200 },
    );
  });

  it('the smallest area of the sizes chosen has their least width and least height', () => {
    const face = {
      widthMm: 300,
      heightMm: 400,
      areaBySize: { s: { widthMm: 260, heightMm: 380 }, xs: { widthMm: 280, heightMm: 300 } },
    };
    expect(smallestArea(face, [])).toEqual({ widthMm: 300, heightMm: 400 });
    expect(smallestArea(face, ['s', 'xs', 'xl'])).toEqual({ widthMm: 260, heightMm: 300 });
    expect(smallestArea(face, ['constructor', '__proto__'])).toEqual({ widthMm: 300, heightMm: 400 });
  });
});

describe('scaling', () => {
  it('keeps the opposite corner fixed; the grabbed one follows the pointer along the diagonal', () => {
    fc.assert(
      fc.property(
        position,
        aspect,
        corner,
        fc.double({ min: 6, max: 900, noNaN: true }),
        (one, ratio, grabbed: Corner, widthMm) => {
          const scaled = scaleFromCorner(one, ratio, grabbed, widthMm);
          const opposite = { x: -grabbed.x as -1 | 1, y: -grabbed.y as -1 | 1 };
          const size = one.widthMm * Math.max(1, ratio) + widthMm * Math.max(1, ratio);
          expect(far(cornerPoint(scaled, ratio, opposite), cornerPoint(one, ratio, opposite))).toBeLessThan(
            1e-9 * size + 1e-9,
          );
          // the pointer on the new corner asks for just this width
          expect(
            widthForPointer(one, ratio, grabbed, cornerPoint(scaled, ratio, grabbed), false),
          ).toBeCloseTo(widthMm, 5);
        },
      ),
    );
  });

  it('stays between 5 mm and 3 m, wherever the pointer is', () => {
    fc.assert(
      fc.property(
        position,
        aspect,
        corner,
        fc.double({ noNaN: true, min: -1e6, max: 1e6 }),
        fc.boolean(),
        (one, ratio, grabbed, reach, center) => {
          const width = widthForPointer(one, ratio, grabbed, { x: reach, y: -reach }, center);
          expect(width).toBeGreaterThanOrEqual(5);
          expect(width).toBeLessThanOrEqual(3000);
        },
      ),
    );
  });
});

describe('turning', () => {
  it('follows the pointer around the center', () => {
    expect(angleForPointer(at(), { x: 0, y: 0 }, { x: 100, y: 100 })).toBe(90);
    expect(angleForPointer(at({ angleDeg: 20 }), { x: 0, y: 0 }, { x: -50, y: 100 })).toBe(-70);
  });

  it('snaps to quarter turns, and with Shift to 15 degrees', () => {
    expect([1.9, -2.2, 91, 88.2, 3.5, 178.9].map((deg) => snapAngle(deg, false))).toEqual([
      0, 0, 90, 90, 3.5, 180,
    ]);
    expect([8, 7, 50].map((deg) => snapAngle(deg, true))).toEqual([15, 0, 45]);
  });
});

describe('two fingers', () => {
  it('change nothing while still; moved together they move the artwork', () => {
    const from = [
      { x: -10, y: 100 },
      { x: 10, y: 100 },
    ] as const;
    expect(pinchPosition(at(), from, from)).toEqual(at());
    const along = from.map((point) => ({ x: point.x + 5, y: point.y - 3 }));
    expect(pinchPosition(at(), from, [along[0]!, along[1]!])).toMatchObject({ xMm: 5, yMm: 97, widthMm: 80 });
  });

  it('scale about the point between them and turn after 7 degrees', () => {
    const from = [
      { x: -10, y: 90 },
      { x: 10, y: 90 },
    ] as const;
    const wide = [
      { x: -20, y: 90 },
      { x: 20, y: 90 },
    ] as const;
    // the center is 10 mm below the fingers; at twice the size 20 mm
    expect(pinchPosition(at(), from, wide)).toMatchObject({ xMm: 0, yMm: 110, widthMm: 160, angleDeg: 0 });
    const spin = (deg: number) =>
      from.map((point) => {
        const offset = rotatePoint({ x: point.x, y: point.y - 90 }, deg);
        return { x: offset.x, y: 90 + offset.y };
      });
    const [a, b] = spin(6);
    expect(pinchPosition(at(), from, [a!, b!]).angleDeg).toBe(0);
    const [c, d] = spin(37);
    expect(pinchPosition(at(), from, [c!, d!]).angleDeg).toBe(30);
  });

  it('on the same point give finite numbers', () => {
    const same = [
      { x: 0, y: 0 },
      { x: 0, y: 0 },
    ] as const;
    const result = pinchPosition(at(), same, [
      { x: 0, y: 0 },
      { x: 30, y: 0 },
    ]);
    expect(Object.values(result).every(Number.isFinite)).toBe(true);
  });
});

describe('guides', () => {
  const usual = [
    { id: 'chest', xMm: 0, yMm: 90, widthMm: 250 },
    { id: 'left', xMm: 80, yMm: 40, widthMm: 90 },
  ];
  it('snap both axes to a usual position, or x alone to the center line', () => {
    expect(snapMove(at({ xMm: 81, yMm: 42 }), usual, 3)).toMatchObject({
      usual: 'left',
      guideX: 80,
      guideY: 40,
    });
    expect(snapMove(at({ xMm: 2, yMm: 200 }), usual, 3)).toMatchObject({
      usual: null,
      guideX: 0,
      guideY: null,
      position: { xMm: 0, yMm: 200 },
    });
    expect(snapMove(at({ xMm: 20, yMm: 60 }), usual, 3)).toMatchObject({ guideX: null, guideY: null });
  });
  it('never move an artwork farther than their reach', () => {
    fc.assert(
      fc.property(position, fc.double({ min: 0.1, max: 20, noNaN: true }), (one, reach) => {
        const { position: held } = snapMove(one, usual, reach);
        expect(Math.hypot(held.xMm - one.xMm, held.yMm - one.yMm)).toBeLessThanOrEqual(
          reach * Math.SQRT2 + 1e-9,
        );
      }),
    );
    expect(snapWidth(92, usual, 3)).toBe(90);
    expect(snapWidth(96, usual, 3)).toBeNull();
  });
});

describe('keys', () => {
  it('of no meaning here are left to the browser', () => {
    for (const key of ['a', 'Tab', 'Enter', ' ', 'PageDown', 'Home'])
      expect(keyAction({ key, shift: false, command: false }, at(), 'mm')).toBeNull();
    expect(keyAction({ key: 'ArrowLeft', shift: false, command: true }, at(), 'mm')).toBeNull();
  });
});

describe('the camera', () => {
  it('fits the bounds in the middle, and its two directions are inverse', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 2000, noNaN: true }),
        fc.double({ min: 10, max: 2000, noNaN: true }),
        fc.integer({ min: 1, max: 3000 }),
        fc.integer({ min: 1, max: 3000 }),
        (width, height, widthPx, heightPx) => {
          const camera = fitCamera(
            { left: -5, top: 7, right: width - 5, bottom: height + 7 },
            widthPx,
            heightPx,
          );
          const from = toPx(camera, { x: -5, y: 7 });
          const to = toPx(camera, { x: width - 5, y: height + 7 });
          expect(from.x + to.x).toBeCloseTo(widthPx, 5);
          expect(from.y + to.y).toBeCloseTo(heightPx, 5);
          expect(Math.min(from.x, from.y)).toBeCloseTo(0, 5);
          const back = toMm(camera, toPx(camera, { x: 12.3, y: 45.6 }));
          expect(back.x).toBeCloseTo(12.3, 7);
          expect(back.y).toBeCloseTo(45.6, 7);
        },
      ),
    );
  });
});

describe('the ruler', () => {
  it.each(['mm', 'in'] as const)(
    'in %s: ticks and labels keep their distance, and zero has a label',
    (units) => {
      fc.assert(
        fc.property(
          fc.double({ min: 0.02, max: 60, noNaN: true }),
          fc.integer({ min: 60, max: 3000 }),
          (pxPerMm, length) => {
            const zero = length / 3;
            const all = ticks(length, zero, pxPerMm, units);
            const labels = all.filter((tick) => tick.figure !== null);
            for (let i = 1; i < all.length; i++) expect(all[i]!.atPx - all[i - 1]!.atPx).toBeGreaterThan(4.4);
            for (let i = 1; i < labels.length; i++)
              expect(labels[i]!.atPx - labels[i - 1]!.atPx).toBeGreaterThan(30);
            expect(labels.find((tick) => Math.abs(tick.atPx - zero) < 1e-6)?.figure).toBe(0);
            // a labeled tick lies as far from zero as it says
            for (const { atPx, figure } of labels) {
              const away = Math.abs(atPx - zero) / pxPerMm / (units === 'mm' ? 1 : 25.4);
              expect(away).toBeCloseTo(figure!, 2);
            }
          },
        ),
      );
    },
  );

  it('has no ticks without length or scale', () => {
    expect(ticks(0, 0, 1, 'mm')).toEqual([]);
    expect(ticks(100, 0, 0, 'mm')).toEqual([]);
    expect(ticks(100, 0, Number.NaN, 'in')).toEqual([]);
  });
});

it('the hatch of a keep-out stays inside it', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 300 }),
      fc.integer({ min: 1, max: 300 }),
      fc.integer({ min: 2, max: 20 }),
      (width, height, gap) => {
        const box = { left: -40, top: 10, right: width - 40, bottom: height + 10 };
        for (const [, x, y] of hatchPath(box, gap).matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)) {
          expect(Number(x)).toBeGreaterThanOrEqual(box.left - 0.01);
          expect(Number(x)).toBeLessThanOrEqual(box.right + 0.01);
          expect(Number(y)).toBeGreaterThanOrEqual(box.top - 0.01);
          expect(Number(y)).toBeLessThanOrEqual(box.bottom + 0.01);
        }
      },
    ),
  );
  expect(hatchPath({ left: 0, top: 0, right: 10, bottom: 10 }, 4)).toContain('M');
});
