import { describe, expect, it } from 'vitest';
import { fitInto, widestMm } from '../../../../widget/artwork/placing/place-artwork.ts';

describe('fitting artwork into an area', () => {
  it('shrinks and moves it only as far as needed', () => {
    expect(
      fitInto({ xMm: 200, yMm: 0, widthMm: 280, angleDeg: 0 }, 2, { widthMm: 350, heightMm: 450 }),
    ).toEqual({
      xMm: 62.5,
      yMm: 225,
      widthMm: 225,
      angleDeg: 0,
    });
  });
});

describe('a picture with few pixels', () => {
  const methods = [72, 100].map((leastDpi) => ({ limits: { leastDpi } })) as unknown as Parameters<
    typeof widestMm
  >[2];
  const inked = (width: number) => ({ inkBox: { width } }) as unknown as Parameters<typeof widestMm>[0];
  const from = (kind: string) => ({ kind }) as unknown as Parameters<typeof widestMm>[1];

  it('is placed as wide as the strictest method allows', () => {
    // 600 px at 100 dpi are 6 in
    expect(widestMm(inked(600), from('png'), methods)).toBe(152.4);
    expect(widestMm(inked(600), null, methods)).toBe(152.4);
    expect((601 * 25.4) / widestMm(inked(601), null, methods)).toBeGreaterThanOrEqual(100);
  });

  it('is placed at its usual width when it is a vector file, not read yet or far too small', () => {
    expect(widestMm(inked(600), from('svg'), methods)).toBe(Number.POSITIVE_INFINITY);
    expect(widestMm(inked(600), from('pdf'), methods)).toBe(Number.POSITIVE_INFINITY);
    expect(widestMm(undefined, null, methods)).toBe(Number.POSITIVE_INFINITY);
    expect(widestMm(inked(40), null, methods)).toBe(Number.POSITIVE_INFINITY);
  });
});
