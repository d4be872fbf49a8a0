import { describe, expect, it } from 'vitest';
import { emptyLine, sizesWithWrongNames } from '../../../../widget/draft/draft.ts';
import { assignSizes, countNamesBySize, parseNames } from '../../../../widget/draft/tables/read-names.ts';
import { NAMED_SIZES } from './named-sizes.ts';

describe('a names list', () => {
  const names = (text: string) => {
    const { entries, faults } = parseNames(text, NAMED_SIZES);
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
    ['rows of one cell', '10\n11\n\n12', ['10', '11', '12']],
    ['rows of one cell under a heading', 'Name\nAda\nBo', ['Ada', 'Bo']],
    ['rows of one cell that look like sizes', 'M\nL\nAda', ['M', 'L', 'Ada']],
    ['names with commas, in cells separated by tabs', 'Ada, the first\tM', ['Ada, the first m']],
  ])('is read from %s', (_, text, entries) => {
    expect(names(text)).toEqual({ entries, faults: [] });
  });

  it('reports the rows it cannot read, and reads the rest', () => {
    expect(names(`Ada\tM\nBo\tXS\n\n${'x'.repeat(41)}\tM\n\tL\nCy\tL`)).toEqual({
      entries: ['Ada m', 'Bo', 'Cy l'],
      faults: ['2 unknown-size', '4 too-long', '5 no-name'],
    });
    const long = parseNames(Array.from({ length: 2_003 }, (_, n) => String(n)).join('\n'), NAMED_SIZES);
    expect(long.entries).toHaveLength(2_000);
    expect(long.faults).toEqual([{ code: 'too-many', row: 2_001, text: '2000' }]);
  });

  it('without sizes takes those of the pieces in turn, and counts names and pieces that do not match', () => {
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
