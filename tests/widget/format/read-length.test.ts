import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Formatter } from '../../../widget/format/index.ts';
import { parseLength, parseLengthIn } from '../../../widget/format/read-length.ts';

describe('a typed length', () => {
  it.each([
    ['90', 'mm', 'en', 90],
    ['90 mm', 'in', 'en', 90],
    ['12,5', 'mm', 'de', 12.5],
    ['12,5', 'mm', 'en', 12.5],
    ['12.5', 'mm', 'de', 12.5],
    ['1.234', 'mm', 'de', 1234],
    ['1,234', 'mm', 'en', 1234],
    ['1,234', 'mm', 'de', 1.234],
    ['1.234,5', 'mm', 'de', 1234.5],
    ['1,234.5', 'mm', 'de', 1234.5],
    ['1 234,5', 'mm', 'es', 1234.5],
    ['5 1/2 in', 'mm', 'en', 139.7],
    ['5½"', 'mm', 'en', 139.7],
    ['1/4', 'in', 'en', 6.35],
    ['3.5in.', 'mm', 'en', 88.9],
    ['9 cm', 'in', 'en', 90],
    ['2 Zoll', 'mm', 'de', 50.8],
    ['-12,5', 'mm', 'de', -12.5],
    ['−3', 'mm', 'en', -3],
    ['١٢٫٥', 'mm', 'ar', 12.5],
    ['١٢٫٥ مم', 'in', 'ar', 12.5],
    ['１２．５', 'mm', 'ja', 12.5],
    ['３インチ', 'mm', 'ja', 76.2],
    ['.5', 'in', 'en', 12.7],
    ['+7', 'mm', 'en', 7],
  ] as const)('%s (%s, %s) is %f mm', (text, units, language, mm) => {
    const read = parseLengthIn(text, units, language);
    expect(read).toHaveProperty('mm');
    expect((read as { mm: number }).mm).toBeCloseTo(mm, 9);
  });

  it.each([
    ['', 'empty'],
    ['   ', 'empty'],
    ['abc', 'not-a-number'],
    ['1/0', 'not-a-number'],
    ['5²', 'unit-unknown'],
    ['1₂', 'unit-unknown'],
    ['1.2.3', 'not-a-number'],
    ['--5', 'not-a-number'],
    ['1e5', 'unit-unknown'],
    ['5 ft', 'unit-unknown'],
    ['5 constructor', 'unit-unknown'],
    ['5 __proto__', 'unit-unknown'],
    ['NaN', 'not-a-number'],
    ['Infinity', 'not-a-number'],
  ])('%j is refused: %s', (text, problem) => {
    expect(parseLength(text, 'mm', { group: ',', units: {} })).toEqual({ problem });
  });

  it('reads what the formatter writes, in every language and unit', () => {
    const languages = ['en', 'de', 'es', 'ja', 'ar', 'fr', 'hi', 'de-CH', 'fa'];
    fc.assert(
      fc.property(
        fc.constantFrom(...languages),
        fc.constantFrom('mm' as const, 'in' as const),
        fc.integer({ min: -300_000, max: 300_000 }),
        (language, units, hundredths) => {
          const formatter = new Formatter(language);
          const mm = hundredths / 100;
          for (const text of [formatter.lengthField(mm, units), formatter.length(mm, units)]) {
            const read = parseLengthIn(text, units, language);
            const coarse = text === formatter.lengthField(mm, units) ? 0.013 : units === 'mm' ? 0.051 : 0.128;
            expect('mm' in read, `${language} ${text}`).toBe(true);
            expect(Math.abs((read as { mm: number }).mm - mm)).toBeLessThanOrEqual(coarse);
          }
        },
      ),
      { numRuns: 400 },
    );
  });

  it('never throws, whatever is typed', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (text) => {
        const read = parseLengthIn(text, 'mm', 'en');
        expect('problem' in read || Number.isFinite(read.mm)).toBe(true);
      }),
    );
  });
});
