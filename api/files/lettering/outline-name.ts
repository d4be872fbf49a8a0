import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import opentype, { type Font } from 'opentype.js';
import { LETTERING_FILES, type LetteringSpec, lettering } from '../../../src/production/index.ts';

/** The outlines of a name: SVG path data in mm, from the top left of its box. */
export type NameOutline = { readonly d: string; readonly widthMm: number; readonly heightMm: number };

const require = createRequire(import.meta.url);
/** by id; each font is read once. */
const fonts = new Map<string, Promise<readonly Font[]>>();

/**
 * The outlines of a name in the box that `lettering` measures: letters at their own widths, without kerning, all condensed
 * if the name would be too wide. A letter missing in the font is the font's empty box. Null if no letter has ink.
 *
 * @throws RangeError for an unknown font
 */
export async function outlineName(name: LetteringSpec): Promise<NameOutline | null> {
  const size = lettering(name);
  if (size.widthMm === 0) return null;
  const files = await fontOf(name.font);
  let d = '';
  let pen = 0;
  const letters = [...name.text.normalize('NFC')].map((char) => glyphOf(files, char));
  const advance = letters.reduce((sum, letter) => sum + letter.advance, 0);
  const across = size.widthMm / advance;
  const down = across / size.squeeze;
  const base = size.heightMm - size.baselineMm;
  for (const letter of letters) {
    const x = (value: number) => round((pen + value / letter.em) * across);
    const y = (value: number) => round(base - (value / letter.em) * down);
    for (const step of letter.outline)
      switch (step.type) {
        case 'M':
        case 'L':
          d += `${step.type}${x(step.x)} ${y(step.y)}`;
          break;
        case 'Q':
          d += `Q${x(step.x1)} ${y(step.y1)} ${x(step.x)} ${y(step.y)}`;
          break;
        case 'C':
          d += `C${x(step.x1)} ${y(step.y1)} ${x(step.x2)} ${y(step.y2)} ${x(step.x)} ${y(step.y)}`;
          break;
        case 'Z':
          d += 'Z';
      }
    pen += letter.advance;
  }
  return { d, widthMm: size.widthMm, heightMm: size.heightMm };
}

/** A letter from the file that has it: its advance in ems, and its outline in units, `em` of which are one em. */
function glyphOf(files: readonly Font[], char: string) {
  const font = files.find((file) => file.charToGlyphIndex(char) > 0) ?? files[0]!;
  const { advanceWidth = 0, path } = font.charToGlyph(char);
  const em = font.unitsPerEm;
  return { advance: advanceWidth / em, em, outline: path.commands };
}

function fontOf(id: string): Promise<readonly Font[]> {
  let font = fonts.get(id);
  if (font === undefined) {
    const files = LETTERING_FILES.find((entry) => entry.id === id)?.files ?? [];
    font = Promise.all(files.map(readFont));
    fonts.set(id, font);
  }
  return font;
}

/** @param path `package/…`, without extension */
async function readFont(path: string): Promise<Font> {
  const [scope, name, ...rest] = path.split('/');
  const home = dirname(require.resolve(`${scope}/${name}/package.json`));
  const bytes = await readFile(join(home, `${rest.join('/')}.woff`));
  return opentype.parse(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
  );
}

/** Rounds to 0.0001 mm, far finer than any print. */
function round(mm: number): number {
  return Math.round(mm * 10_000) / 10_000;
}
