import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { resolve } from 'node:path';
import fc from 'fast-check';
import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import {
  LETTERING_FILES,
  LETTERING_FONTS,
  lettering,
  missingLetters,
} from '../../../src/production/index.ts';
import { FONT_FILES, letteringTable, readFont } from '../../tools/generators/make-lettering-table.ts';

const FONTS = LETTERING_FONTS.map(({ id }) => id);

describe('the table of letters', () => {
  it('is what the bundled font files say', () => {
    const written = readFileSync(
      resolve(import.meta.dirname, '../../../src/production/lettering-table.ts'),
      'utf8',
    );
    // The formatter may break lines and choose quotes: figures and letters are what must agree.
    const bare = (text: string): string => text.replaceAll(/['"\\\s]/g, '').replaceAll(/,([\]}])/g, '$1');
    expect(
      bare(written) === bare(letteringTable()),
      'run tests/tools/generators/make-lettering-table.ts',
    ).toBe(true);
  });

  it.each(FONT_FILES)('$id has ink as a renderer draws it', async ({ id, folder, files }) => {
    const font = readFont(folder, files[0]!);
    for (const char of ['A', 'O', '8', 'g', 'W', '1', 'Ñ']) {
      const { path } = font.charToGlyph(char);
      const d = path.commands
        .map((command) => {
          switch (command.type) {
            case 'Q':
              return `Q${command.x1} ${command.y1} ${command.x} ${command.y}`;
            case 'C':
              return `C${command.x1} ${command.y1} ${command.x2} ${command.y2} ${command.x} ${command.y}`;
            case 'Z':
              return 'Z';
            default:
              return `${command.type}${command.x} ${command.y}`;
          }
        })
        .join('');
      const { x1, y1, x2, y2 } = path.getBoundingBox();
      const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${x2 - x1}" height="${y2 - y1}" viewBox="${x1} ${y1} ${x2 - x1} ${y2 - y1}"><path d="${d}"/></svg>`;
      const { data, info } = await sharp(Buffer.from(svg))
        .extractChannel('alpha')
        .raw()
        .toBuffer({ resolveWithObject: true });
      let drawn = 0;
      for (const alpha of data) drawn += alpha / 255;
      const { widthMm, heightMm, inkShare } = lettering({
        text: char,
        font: id,
        capHeightMm: 100,
        mostWidthMm: 1e6,
      });
      const unitsPerMm = heightMm === 0 ? 0 : info.height / heightMm;
      const measured = widthMm * heightMm * inkShare * unitsPerMm * unitsPerMm;
      expect(measured / drawn, char).toBeGreaterThan(0.98);
      expect(measured / drawn, char).toBeLessThan(1.02);
    }
  });
});

describe('the files of the fonts', () => {
  it.each(LETTERING_FILES)('$id are there, for reading and for browsers', ({ files, family }) => {
    const require = createRequire(import.meta.url);
    expect(family).not.toBe('');
    expect(files.length).toBeGreaterThan(0);
    for (const path of files)
      for (const ending of ['woff', 'woff2'])
        expect(existsSync(require.resolve(`${path}.${ending}`))).toBe(true);
  });
});

describe('a set name', () => {
  it('has its capitals at the height asked for', () => {
    for (const font of FONTS) {
      // H has neither overshoot nor descender.
      const { heightMm, baselineMm, squeeze } = lettering({
        text: 'H',
        font,
        capHeightMm: 50,
        mostWidthMm: 500,
      });
      expect(heightMm).toBeCloseTo(50, 9);
      expect(baselineMm).toBe(0);
      expect(squeeze).toBe(1);
    }
  });

  it('reaches lower with a descender and higher with an accent', () => {
    for (const font of FONTS) {
      const of = (text: string) => lettering({ text, font, capHeightMm: 50, mostWidthMm: 500 });
      expect(of('Hg').heightMm).toBeGreaterThan(of('H').heightMm + 5);
      expect(of('Hg').baselineMm).toBeGreaterThan(5);
      expect(of('Á').heightMm).toBeGreaterThan(of('A').heightMm + 5);
    }
  });

  it('is drawn narrower where it would be too wide, with the same share of ink', () => {
    const wide = lettering({ text: 'WILLOUGHBY', font: 'slab-bold', capHeightMm: 60, mostWidthMm: 1000 });
    const held = lettering({ text: 'WILLOUGHBY', font: 'slab-bold', capHeightMm: 60, mostWidthMm: 200 });
    expect(held.widthMm).toBe(200);
    expect(held.heightMm).toBe(wide.heightMm);
    expect(held.squeeze).toBeCloseTo(200 / wide.widthMm, 9);
    expect(held.inkShare).toBe(wide.inkShare);
  });

  it('is as wide as its letters, and never wider than allowed', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...FONTS),
        fc.string({ unit: fc.constantFrom(...'ABCxyz0189 -Åß'), minLength: 1, maxLength: 40 }),
        fc.integer({ min: 3, max: 400 }),
        fc.integer({ min: 5, max: 3000 }),
        (font, text, capHeightMm, mostWidthMm) => {
          const size = lettering({ text, font, capHeightMm, mostWidthMm });
          expect(size.widthMm).toBeLessThanOrEqual(mostWidthMm * (1 + 1e-12));
          expect(size.inkShare).toBeGreaterThanOrEqual(0);
          expect(size.inkShare).toBeLessThanOrEqual(1);
          const twice = lettering({ text: text + text, font, capHeightMm, mostWidthMm: 1e6 });
          const once = lettering({ text, font, capHeightMm, mostWidthMm: 1e6 });
          expect(twice.widthMm).toBeCloseTo(2 * once.widthMm, 6);
        },
      ),
    );
  });

  it('is the same however its accents are coded', () => {
    const of = (text: string) =>
      lettering({ text, font: 'condensed-bold', capHeightMm: 50, mostWidthMm: 500 });
    expect(of('Nu\u0301n\u0303ez')).toEqual(of('Núñez'));
    expect(missingLetters('Nu\u0301n\u0303ez', 'condensed-bold')).toEqual([]);
  });

  it('names the letters its font lacks', () => {
    expect(missingLetters('Łukasz Ødegård-Žižka 10', 'slab-bold')).toEqual([]);
    expect(missingLetters('田中 A田', 'condensed-bold')).toEqual(['田', '中']);
    expect(
      lettering({ text: '田', font: 'condensed-bold', capHeightMm: 50, mostWidthMm: 500 }).widthMm,
    ).toBeGreaterThan(20);
  });

  it('takes no room where there is no ink', () => {
    expect(lettering({ text: ' ', font: 'slab-bold', capHeightMm: 50, mostWidthMm: 500 })).toMatchObject({
      widthMm: 0,
      heightMm: 0,
      inkShare: 0,
    });
  });

  it('refuses a font there is not, naming those there are', () => {
    const size = { text: 'A', font: 'gothic', capHeightMm: 50, mostWidthMm: 500 };
    expect(() => lettering(size)).toThrow(
      'there is no font "gothic"; names are set in one of: condensed-bold, slab-bold',
    );
    expect(() => missingLetters('A', '__proto__')).toThrow('there is no font "__proto__"');
  });
});
