import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseCounts } from '../../../../widget/draft/tables/read-counts.ts';
import { NAMED_SIZES } from './named-sizes.ts';

const countsIn = (text: string, from = 's') => {
  const { counts, refused } = parseCounts(text, NAMED_SIZES, from);
  return {
    counts: counts.map(({ size, count }) => `${size} ${count}`),
    refused: refused.map(({ row, column, text: cell }) => `${row},${column} ${cell}`),
  };
};

describe('counts pasted from a spreadsheet', () => {
  it.each([
    ['a column of sizes beside a column of counts', 'S\t3\nM\t5\r\n2XL\t1\n', ['s 3', 'm 5', '2xl 1']],
    ['counts before sizes', '3\ts\n5\tM', ['s 3', 'm 5']],
    ['a row of sizes above a row of counts', 'S\tM\tL\n3\t0\t4', ['s 3', 'm 0', 'l 4']],
    ['cells with a heading, a color and a total', 'Color\tS\tM\tTotal\nNavy\t3\t4\t7', ['s 3', 'm 4']],
    ['columns with headings and a total', 'Size\tQty\nS\t3\nM\t4\nTotal\t7', ['s 3', 'm 4']],
    ['sizes by other names, in any case', 'small\t1\nxxl\t2\n L \t3\nXX-L\t4', ['s 1', '2xl 6', 'l 3']],
    ['a size named twice', 'M\t2\nS\t1\nM\t3', ['m 5', 's 1']],
    ['counts with grouping or zero fractions', 'S\t1,200\nM\t12.0\nL\t1.000', ['s 1200', 'm 12', 'l 1000']],
    ['full-width and Arabic digits', 'S\t１２\nM\t٣٤', ['s 12', 'm 34']],
    ['quoted cells', '"S"\t"3"\n"M"\t"4"', ['s 3', 'm 4']],
    ['semicolons', 'S;3\nM;4', ['s 3', 'm 4']],
    ['commas', 'S,3\nM,4', ['s 3', 'm 4']],
    ['empty text', '', []],
  ])('are read from %s', (_, text, counts) => {
    expect(countsIn(text)).toEqual({ counts, refused: [] });
  });

  it('fill the fields from the one pasted into, from a row or a column', () => {
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
  ])('list the cells that are refused: %j', (text, counts, refused) => {
    expect(countsIn(text)).toEqual({ counts, refused });
  });

  it('are whole numbers in range, whatever is pasted', () => {
    const cell = fc.oneof(
      fc.constantFrom('S', 'm', 'XXL', '', '3', '12000', '-1', '٣', 'Total', '"', ' 4 ', '1,5'),
      fc.string(),
    );
    const table = fc
      .array(fc.array(cell, { maxLength: 5 }), { maxLength: 5 })
      .map((rows) => rows.map((row) => row.join('\t')).join('\n'));
    fc.assert(
      fc.property(table, (text) => {
        const { counts } = parseCounts(text, NAMED_SIZES, 's');
        for (const { count } of counts)
          expect(Number.isInteger(count) && count >= 0 && count <= 10_000).toBe(true);
      }),
    );
  });
});
