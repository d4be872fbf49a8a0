import { describe, expect, it } from 'vitest';
import { emptyLine } from '../../../widget/controllers/draft.ts';
import { keepInPlace } from '../../../widget/controllers/keep-in-place.ts';
import { monthGrid, shiftMonth } from '../../../widget/controllers/month-grid.ts';
import { fitInto } from '../../../widget/controllers/place-artwork.ts';
import { readCounts } from '../../../widget/controllers/read-counts.ts';
import { countsOfNames, readNames } from '../../../widget/controllers/read-names.ts';
import { scaleTo } from '../../../widget/controllers/scale-to.ts';

const SIZES = ['s', 'm', 'l', '2xl'].map((id) => ({ id, names: [id, id.toUpperCase()] }));

describe('counts pasted from a spreadsheet', () => {
  it('reads rows of size and count', () => {
    expect(readCounts('S\t3\nM\t5\r\n2XL\t1\n', SIZES, 's')).toEqual([
      { size: 's', count: 3, named: true },
      { size: 'm', count: 5, named: true },
      { size: '2xl', count: 1, named: true },
    ]);
  });

  it('reads a row of sizes over a row of counts', () => {
    expect(readCounts('S\tM\tL\n3\t0\t4', SIZES, 's').map(({ size, count }) => [size, count])).toEqual([
      ['s', 3],
      ['m', 0],
      ['l', 4],
    ]);
  });

  it('fills the fields from where it was pasted', () => {
    expect(readCounts('3\t5', SIZES, 'm').map(({ size, count }) => [size, count])).toEqual([
      ['m', 3],
      ['l', 5],
    ]);
  });

  it.each(['1e2', '1.5', '-1', 'NaN', '99999999', 'M', ''])('takes nothing from %j', (text) => {
    expect(readCounts(text, SIZES, 's')).toEqual([]);
  });
});

describe('a names list', () => {
  it('reads names with sizes, quotes and a heading', () => {
    const read = readNames('Name,Size\n"O\'Neil, J.",M\nAda,L\n"say ""hi""",2xl', SIZES, 's');
    expect(read.faults).toEqual([]);
    expect(read.entries).toEqual([
      { size: 'm', text: "O'Neil, J." },
      { size: 'l', text: 'Ada' },
      { size: '2xl', text: 'say "hi"' },
    ]);
    expect(countsOfNames(read.entries, ['s', 'm', 'l', '2xl'])).toEqual([
      { size: 'm', count: 1 },
      { size: 'l', count: 1 },
      { size: '2xl', count: 1 },
    ]);
  });

  it('takes bare rows in the first size', () => {
    expect(readNames('10\n11\n\n12', SIZES, 'l').entries).toEqual([
      { size: 'l', text: '10' },
      { size: 'l', text: '11' },
      { size: 'l', text: '12' },
    ]);
  });

  it('names the row of what it cannot take, and keeps the rest', () => {
    const read = readNames(`Ada\tM\nBo\tXS\n${'x'.repeat(41)}\tM`, SIZES, 's');
    expect(read.faults.map((fault) => [fault.code, fault.row])).toEqual([
      ['unknown-size', 2],
      ['too-long', 3],
    ]);
    expect(read.entries.map((entry) => entry.text)).toEqual(['Ada', 'Bo']);
  });
});

describe('a month', () => {
  it('starts its rows on the language’s first weekday', () => {
    // 2026-11-01 is a Sunday
    expect(monthGrid('2026-11', 7)[0]).toBe('2026-11-01');
    expect(monthGrid('2026-11', 1).slice(0, 7)).toEqual([null, null, null, null, null, null, '2026-11-01']);
    expect(monthGrid('2028-02', 1).filter((day) => day !== null)).toHaveLength(29);
  });

  it('moves over the turn of the year', () => {
    expect(shiftMonth('2026-12', 1)).toBe('2027-01');
    expect(shiftMonth('2026-01', -1)).toBe('2025-12');
  });
});

describe('placing', () => {
  it('shrinks and moves artwork just so far that it lies inside', () => {
    expect(
      fitInto({ xMm: 200, yMm: 0, widthMm: 280, angleDeg: 0 }, 2, { widthMm: 350, heightMm: 450 }),
    ).toEqual({
      xMm: 62.5,
      yMm: 225,
      widthMm: 225,
      angleDeg: 0,
    });
  });

  it('brings a line to a count without losing or making a piece', () => {
    const line = {
      ...emptyLine('line-1'),
      counts: [
        { size: 's', count: 1 },
        { size: 'm', count: 1 },
        { size: 'l', count: 1 },
      ],
    };
    for (const count of [1, 2, 5, 12, 100]) {
      const scaled = scaleTo(line, count);
      expect(scaled.counts.reduce((sum, entry) => sum + entry.count, 0)).toBe(count);
      expect(scaled.counts.every((entry) => entry.count > 0)).toBe(true);
    }
  });
});

describe('a mend', () => {
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

  it('that takes a white box away leaves the motif where and as large as it was', () => {
    // 1200 px at 120 mm: 10 px a mm; the motif is 700 px wide, 50 px right of and 20 px above the middle
    const after = keepInPlace(
      placement,
      facts({ left: 0, top: 0, width: 1200, height: 900 }),
      facts({ left: 300, top: 80, width: 700, height: 700 }),
    );
    expect(after).toMatchObject({ widthMm: 70, xMm: 5, yMm: 108 });
  });

  it('turns the shift with the artwork', () => {
    const after = keepInPlace(
      { ...placement, angleDeg: 90 },
      facts({ left: 0, top: 0, width: 1200, height: 900 }),
      facts({ left: 300, top: 80, width: 700, height: 700 }),
    );
    expect(after).toMatchObject({ widthMm: 70, xMm: 2, yMm: 115 });
  });

  it('taken back restores the numbers', () => {
    const box = facts({ left: 0, top: 0, width: 1200, height: 900 });
    const motif = facts({ left: 300, top: 80, width: 700, height: 700 });
    expect(keepInPlace(keepInPlace(placement, box, motif), motif, box)).toEqual(placement);
  });

  it('that crops the picture keeps the center', () => {
    const after = keepInPlace(
      placement,
      facts({ left: 100, top: 100, width: 600, height: 600 }),
      facts({ left: 0, top: 0, width: 600, height: 600 }, 600),
    );
    expect(after).toMatchObject({ xMm: 0, yMm: 110, widthMm: 120 });
  });
});
