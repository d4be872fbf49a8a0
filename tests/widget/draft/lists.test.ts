import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { keepInPlace } from '../../../widget/artwork/keep-in-place.ts';
import { fitInto, widestMm } from '../../../widget/artwork/place-artwork.ts';
import { emptyLine, sizesWithWrongNames } from '../../../widget/draft/draft.ts';
import { monthGrid, shiftMonth } from '../../../widget/draft/month-grid.ts';
import { parseCounts } from '../../../widget/draft/read-counts.ts';
import { assignSizes, countNamesBySize, parseNames } from '../../../widget/draft/read-names.ts';
import { scaleCounts } from '../../../widget/draft/scale-counts.ts';

const SIZES = ['s', 'm', 'l', '2xl'].map((id) => ({
  id,
  names: [id, id.toUpperCase(), ...(id === 's' ? ['Small'] : [])],
}));

const countsIn = (text: string, from = 's') => {
  const { counts, refused } = parseCounts(text, SIZES, from);
  return {
    counts: counts.map(({ size, count }) => `${size} ${count}`),
    refused: refused.map(({ row, column, text: cell }) => `${row},${column} ${cell}`),
  };
};

describe('counts pasted from a spreadsheet', () => {
  it.each([
    ['a column of sizes beside one of counts', 'S\t3\nM\t5\r\n2XL\t1\n', ['s 3', 'm 5', '2xl 1']],
    ['counts before sizes', '3\ts\n5\tM', ['s 3', 'm 5']],
    ['a row of sizes over one of counts', 'S\tM\tL\n3\t0\t4', ['s 3', 'm 0', 'l 4']],
    ['a heading, a color and a sum around them', 'Color\tS\tM\tTotal\nNavy\t3\t4\t7', ['s 3', 'm 4']],
    ['a heading over columns, and a sum under them', 'Size\tQty\nS\t3\nM\t4\nTotal\t7', ['s 3', 'm 4']],
    ['sizes by another name and in any case', 'small\t1\nxxl\t2\n L \t3\nXX-L\t4', ['s 1', '2xl 6', 'l 3']],
    ['one size twice', 'M\t2\nS\t1\nM\t3', ['m 5', 's 1']],
    ['thousands, and fractions of nothing', 'S\t1,200\nM\t12.0\nL\t1.000', ['s 1200', 'm 12', 'l 1000']],
    ['full-width and Arabic digits', 'S\t１２\nM\t٣٤', ['s 12', 'm 34']],
    ['quoted cells', '"S"\t"3"\n"M"\t"4"', ['s 3', 'm 4']],
    ['semicolons', 'S;3\nM;4', ['s 3', 'm 4']],
    ['commas', 'S,3\nM,4', ['s 3', 'm 4']],
    ['nothing', '', []],
  ])('are read from %s', (_, text, counts) => {
    expect(countsIn(text)).toEqual({ counts, refused: [] });
  });

  it('fill the fields from where they were pasted, in a row or in a column', () => {
    expect(countsIn('3\t5', 'm')).toEqual({ counts: ['m 3', 'l 5'], refused: [] });
    expect(countsIn('3\n5\n', 'm')).toEqual({ counts: ['m 3', 'l 5'], refused: [] });
    expect(countsIn('3\t\t5', 's')).toEqual({ counts: ['s 3', 'l 5'], refused: [] });
  });

  it.each([
    ['S\t3\nXS\t4\nM\tmany', ['s 3'], ['2,1 XS', '3,2 many']],
    ['S\t1e2\nM\t1.5\nL\t-1', [], ['1,2 1e2', '2,2 1.5', '3,2 -1']],
    ['S\t4²\nM\t5₁', [], ['1,2 4²', '2,2 5₁']],
    ['S\t10000\nM\t10001', ['s 10000'], ['2,2 10001']],
    ['S\t6000\nS\t6000', ['s 6000'], ['2,2 6000']],
    ['S\tM\tXS\n3\tx\t4', ['s 3'], ['2,2 x', '1,3 XS']],
    ['S\tM\n3\t4\n5\t6', ['s 3', 'm 4'], ['3,1 5', '3,2 6']],
    ['1\t2\t3\t4\t5', ['s 1', 'm 2', 'l 3', '2xl 4'], ['1,5 5']],
    ['1\tx\t3', ['s 1', 'l 3'], ['1,2 x']],
    ['hello there', [], ['1,1 hello there']],
    ['NaN', [], ['1,1 NaN']],
  ])('name the cells that are not taken: %j', (text, counts, refused) => {
    expect(countsIn(text)).toEqual({ counts, refused });
  });

  it('are whole numbers in range, or refused, whatever is pasted', () => {
    const cell = fc.oneof(
      fc.constantFrom('S', 'm', 'XXL', '', '3', '12000', '-1', '٣', 'Total', '"', ' 4 ', '1,5'),
      fc.string(),
    );
    const table = fc
      .array(fc.array(cell, { maxLength: 5 }), { maxLength: 5 })
      .map((rows) => rows.map((row) => row.join('\t')).join('\n'));
    fc.assert(
      fc.property(table, (text) => {
        const { counts } = parseCounts(text, SIZES, 's');
        for (const { count } of counts)
          expect(Number.isInteger(count) && count >= 0 && count <= 10_000).toBe(true);
      }),
    );
  });
});

describe('a names list', () => {
  const names = (text: string) => {
    const { entries, faults } = parseNames(text, SIZES);
    return {
      entries: entries.map((entry) => (entry.size ? `${entry.text} ${entry.size}` : entry.text)),
      faults: faults.map((fault) => `${fault.row} ${fault.code}`),
    };
  };

  it.each([
    [
      'quoted cells and a heading',
      'Name,Size\n"O\'Neil, J.",M\nAda,L\n"say ""hi""",2xl',
      ["O'Neil, J. m", 'Ada l', 'say "hi" 2xl'],
    ],
    ['semicolons and a byte order mark', '\uFEFFSize;Name\r\nM;Ada\r\nXXL;Bo\r\n', ['Ada m', 'Bo 2xl']],
    ['a German heading', 'Nr.;Größe;Name\n1;M;Jürgen\n2;L;Zoë', ['Jürgen m', 'Zoë l']],
    ['sizes before names', 'M\tAda\nL\tBo', ['Ada m', 'Bo l']],
    ['bare rows', '10\n11\n\n12', ['10', '11', '12']],
    ['bare rows under a heading', 'Name\nAda\nBo', ['Ada', 'Bo']],
    ['bare rows that look like sizes', 'M\nL\nAda', ['M', 'L', 'Ada']],
    ['names with commas, and tabs between cells', 'Ada, the first\tM', ['Ada, the first m']],
  ])('is read from %s', (_, text, entries) => {
    expect(names(text)).toEqual({ entries, faults: [] });
  });

  it('names the row of what it cannot take, and keeps the rest', () => {
    expect(names(`Ada\tM\nBo\tXS\n\n${'x'.repeat(41)}\tM\n\tL\nCy\tL`)).toEqual({
      entries: ['Ada m', 'Bo', 'Cy l'],
      faults: ['2 unknown-size', '4 too-long', '5 no-name'],
    });
    const long = parseNames(Array.from({ length: 2_003 }, (_, n) => String(n)).join('\n'), SIZES);
    expect(long.entries).toHaveLength(2_000);
    expect(long.faults).toEqual([{ code: 'too-many', row: 2_001, text: '2000' }]);
  });

  it('without sizes takes those of the pieces in turn, and says what is over', () => {
    const counts = [
      { size: 's', count: 1 },
      { size: 'm', count: 2 },
    ];
    const entries = ['a', 'b', 'c', 'd'].map((text) => ({ text, size: null }));
    const sized = assignSizes([{ text: 'x', size: 'm' }, ...entries], counts, 's');
    expect(sized.map(({ text, size }) => `${text} ${size}`)).toEqual(['x m', 'a s', 'b m', 'c m', 'd m']);
    const line = { ...emptyLine('line-1'), counts, names: { entries: sized } as never };
    expect(sizesWithWrongNames(line)).toEqual([{ size: 'm', names: 4, pieces: 2 }]);
    expect(sizesWithWrongNames({ ...line, counts: countNamesBySize(sized, ['s', 'm']) })).toEqual([]);
    expect(sizesWithWrongNames({ ...line, counts: [...counts, { size: 'l', count: 3 }] })).toContainEqual({
      size: 'l',
      names: 0,
      pieces: 3,
    });
    expect(assignSizes(entries.slice(0, 1), [], 's')).toEqual([{ text: 'a', size: 's' }]);
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
      const scaled = scaleCounts(line, count);
      expect(scaled.counts.reduce((sum, entry) => sum + entry.count, 0)).toBe(count);
      expect(scaled.counts.every((entry) => entry.count > 0)).toBe(true);
    }
  });
});

describe('a picture with few pixels', () => {
  const methods = [72, 100].map((leastDpi) => ({ limits: { leastDpi } })) as unknown as Parameters<
    typeof widestMm
  >[2];
  const inked = (width: number) => ({ inkBox: { width } }) as unknown as Parameters<typeof widestMm>[0];
  const from = (kind: string) => ({ kind }) as unknown as Parameters<typeof widestMm>[1];

  it('is put down as wide as the strictest method prints it', () => {
    // 600 px at 100 dots to the inch are 6 inches
    expect(widestMm(inked(600), from('png'), methods)).toBe(152.4);
    expect(widestMm(inked(600), null, methods)).toBe(152.4);
    expect((601 * 25.4) / widestMm(inked(601), null, methods)).toBeGreaterThanOrEqual(100);
  });

  it('that is a drawing, unread, or smaller than is of use, is put down as usual', () => {
    expect(widestMm(inked(600), from('svg'), methods)).toBe(Number.POSITIVE_INFINITY);
    expect(widestMm(inked(600), from('pdf'), methods)).toBe(Number.POSITIVE_INFINITY);
    expect(widestMm(undefined, null, methods)).toBe(Number.POSITIVE_INFINITY);
    expect(widestMm(inked(40), null, methods)).toBe(Number.POSITIVE_INFINITY);
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
