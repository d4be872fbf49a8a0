import { describe, expect, it } from 'vitest';
import { keepInPlace } from '../../../../widget/artwork/placing/keep-in-place.ts';

describe('a placement whose artwork gets other remedies', () => {
  const facts = (inkBox: object, widthPx = 1200) =>
    ({ widthPx, heightPx: 900, inkBox }) as unknown as Parameters<typeof keepInPlace>[1];
  const placement = {
    id: 'a',
    face: 'front',
    artwork: 'x',
    remedies: [],
    xMm: 0,
    yMm: 110,
    widthMm: 120,
    angleDeg: 0,
  };

  it('keeps its motif in place when a white box is removed', () => {
    // 1200 px at 120 mm: 10 px per mm; the motif is 700 px wide, 50 px right of and 20 px above the center
    const after = keepInPlace(
      placement,
      facts({ left: 0, top: 0, width: 1200, height: 900 }),
      facts({ left: 300, top: 80, width: 700, height: 700 }),
    );
    expect(after).toMatchObject({ widthMm: 70, xMm: 5, yMm: 108 });
  });

  it('shifts along the turned axes of turned artwork', () => {
    const after = keepInPlace(
      { ...placement, angleDeg: 90 },
      facts({ left: 0, top: 0, width: 1200, height: 900 }),
      facts({ left: 300, top: 80, width: 700, height: 700 }),
    );
    expect(after).toMatchObject({ widthMm: 70, xMm: 2, yMm: 115 });
  });

  it('gets its old numbers back when the remedy is undone', () => {
    const box = facts({ left: 0, top: 0, width: 1200, height: 900 });
    const motif = facts({ left: 300, top: 80, width: 700, height: 700 });
    expect(keepInPlace(keepInPlace(placement, box, motif), motif, box)).toEqual(placement);
  });

  it('keeps the center of its ink when the picture is cropped', () => {
    const after = keepInPlace(
      placement,
      facts({ left: 100, top: 100, width: 600, height: 600 }),
      facts({ left: 0, top: 0, width: 600, height: 600 }, 600),
    );
    expect(after).toMatchObject({ xMm: 0, yMm: 110, widthMm: 120 });
  });
});
