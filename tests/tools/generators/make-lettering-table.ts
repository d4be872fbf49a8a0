/**
 * Writes src/production/lettering-table.ts: widths, heights and ink of every letter of the bundled fonts, so that the
 * core can measure names without reading a font. Run: npx tsx tests/tools/generators/make-lettering-table.ts
 */
import { readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { basename, dirname, join, resolve } from 'node:path';
import opentype, { type Font, type PathCommand } from 'opentype.js';

const require = createRequire(import.meta.url);

/**
 * The fonts that names are set in. Both are under the SIL Open Font License 1.1; the packages hold its text. Files are
 * named without their ending: `.woff` is read here, `.woff2` is for browsers.
 */
export const FONT_FILES = [
  {
    id: 'condensed-bold',
    name: {
      en: 'Condensed bold',
      de: 'Schmal, fett',
      es: 'Estrecha negrita',
      ja: '細幅の太字',
      ar: 'ضيق عريض',
    },
    family: 'Barlow Condensed',
    weight: 700,
    folder: join(dirname(require.resolve('@fontsource/barlow-condensed/package.json')), 'files'),
    files: ['latin', 'latin-ext'].map(
      (subset) => `@fontsource/barlow-condensed/files/barlow-condensed-${subset}-700-normal`,
    ),
  },
  {
    id: 'slab-bold',
    name: {
      en: 'Slab bold',
      de: 'Serifenbetont, fett',
      es: 'Egipcia negrita',
      ja: '角セリフの太字',
      ar: 'مذيل عريض',
    },
    family: 'Bitter',
    weight: 700,
    folder: join(dirname(require.resolve('@fontsource/bitter/package.json')), 'files'),
    files: ['latin', 'latin-ext'].map((subset) => `@fontsource/bitter/files/bitter-${subset}-700-normal`),
  },
] as const;

/** Units to the em in the table. */
const EM = 1000;
/** Straight pieces a curve is cut into. */
const PIECES = 16;

/** Reads a bundled font file: the folder it is in and its path in the package, without ending. */
export function readFont(folder: string, path: string): Font {
  const bytes = readFileSync(join(folder, `${basename(path)}.woff`));
  return opentype.parse(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
  );
}

type Letter = {
  readonly char: string;
  readonly advance: number;
  readonly ink: number;
  readonly bottom: number;
  readonly top: number;
};

/** Ink of an outline by Green's theorem, em² / EM: outer contours count, inner ones are taken off. */
export function inkOf(commands: readonly PathCommand[], unitsPerEm: number): number {
  let doubled = 0;
  let x = 0;
  let y = 0;
  let startX = 0;
  let startY = 0;
  const lineTo = (toX: number, toY: number): void => {
    doubled += x * toY - toX * y;
    x = toX;
    y = toY;
  };
  for (const command of commands) {
    const fromX = x;
    const fromY = y;
    switch (command.type) {
      case 'M':
        x = startX = command.x;
        y = startY = command.y;
        break;
      case 'L':
        lineTo(command.x, command.y);
        break;
      case 'Q':
        for (let piece = 1; piece <= PIECES; piece++) {
          const t = piece / PIECES;
          const u = 1 - t;
          lineTo(
            u * u * fromX + 2 * u * t * command.x1 + t * t * command.x,
            u * u * fromY + 2 * u * t * command.y1 + t * t * command.y,
          );
        }
        break;
      case 'C':
        for (let piece = 1; piece <= PIECES; piece++) {
          const t = piece / PIECES;
          const u = 1 - t;
          const at = (from: number, one: number, two: number, to: number): number =>
            u * u * u * from + 3 * u * u * t * one + 3 * u * t * t * two + t * t * t * to;
          lineTo(at(fromX, command.x1, command.x2, command.x), at(fromY, command.y1, command.y2, command.y));
        }
        break;
      case 'Z':
        lineTo(startX, startY);
        break;
    }
  }
  return (Math.abs(doubled) / 2 / unitsPerEm ** 2) * EM;
}

function lettersOf(font: Font): Letter[] {
  const { unitsPerEm } = font;
  const scaled = (units: number): number => Math.round((units * EM) / unitsPerEm);
  const letters: Letter[] = [];
  for (let index = 0; index < font.glyphs.length; index++) {
    const glyph = font.glyphs.get(index);
    for (const code of glyph.unicodes ?? []) {
      const char = String.fromCodePoint(code);
      if (!/^[\p{L}\p{N}\p{P}\p{S}\p{Zs}]$/u.test(char) || char !== char.normalize('NFC')) continue;
      const box = glyph.path.getBoundingBox();
      letters.push({
        char,
        advance: scaled(glyph.advanceWidth ?? 0),
        ink: Math.round(inkOf(glyph.path.commands, unitsPerEm)),
        bottom: scaled(box.y1),
        top: scaled(box.y2),
      });
    }
  }
  return letters;
}

function tableOf({ id, name, family, weight, folder, files }: (typeof FONT_FILES)[number]): string {
  const fonts = files.map((path) => readFont(folder, path));
  const byChar = new Map<string, Letter>();
  for (const font of fonts)
    for (const letter of lettersOf(font)) if (!byChar.has(letter.char)) byChar.set(letter.char, letter);
  const letters = [...byChar.values()].sort(
    (one, other) => one.char.codePointAt(0)! - other.char.codePointAt(0)!,
  );
  const capHeight = byChar.get('H')!.top;
  const list = (of: (letter: Letter) => number): string => letters.map(of).join(' ');
  return `  {
    id: '${id}',
    name: ${JSON.stringify(name)},
    family: '${family}',
    weight: ${weight},
    files: ${JSON.stringify(files)},
    capHeight: ${capHeight},
    chars: ${JSON.stringify(letters.map(({ char }) => char).join(''))},
    advances: '${list(({ advance }) => advance)}',
    inks: '${list(({ ink }) => ink)}',
    bottoms: '${list(({ bottom }) => bottom)}',
    tops: '${list(({ top }) => top)}',
  },`;
}

/** The table as source text. */
export function letteringTable(): string {
  return `/**
 * Letters of the fonts that names are set in, measured from their files; written by tests/tools/generators/make-lettering-table.ts.
 * Thousandths of an em, one figure for each of \`chars\`: advance width, lowest and highest ink over the base line
 * (up is positive), and ink area in thousandths of an em².
 *
${FONT_FILES.map(({ id, family, weight }) => ` * \`${id}\`: ${family} ${weight}, SIL Open Font License 1.1.`).join('\n')}
 */
export const LETTERING_TABLE = [
${FONT_FILES.map(tableOf).join('\n')}
] as const;
`;
}

if (process.argv[1] === import.meta.filename)
  writeFileSync(resolve(import.meta.dirname, '../../../src/production/lettering-table.ts'), letteringTable());
