import { readFile } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import opentype, { type Font } from 'opentype.js';
import { LETTERING_FILES, type LetteringSpec, lettering } from '../../../src/production/index.ts';

/** A name as outlines: SVG path data in mm, from the left and top of its box. */
export type NameOutline = { readonly d: string; readonly widthMm: number; readonly heightMm: number };

const require = createRequire(import.meta.url);
/** by id; a font is read once. */
const fonts = new Map<string, Promise<readonly Font[]>>();

/**
 * The outlines of a name in the box that `lettering` measures for it: letters side by side at their own widths, not
 * kerned, all drawn narrower where the name would be too wide. A letter the font lacks is the font's empty box. Null
 * where no letter has ink.
 *
 * @throws RangeError when the font is none of the bundled ones.
 */
export async function outlineName(name: LetteringSpec): Promise<NameOutline | null> {
  const size = lettering(name);
  if (size.widthMm === 0) return null;
  const files = await fontOf(name.font);
  let d = '';
  let pen = 0;
  const letters = [...name.text.normalize('NFC')].map((char) => letterOf(files, char));
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

/** A letter, from the file that has it: its width in ems, its outline in units of which `em` make an em. */
function letterOf(files: readonly Font[], char: string) {
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

/** @param path `package/…`, without ending. */
async function readFont(path: string): Promise<Font> {
  const [scope, name, ...rest] = path.split('/');
  const home = dirname(require.resolve(`${scope}/${name}/package.json`));
  const bytes = await readFile(join(home, `${rest.join('/')}.woff`));
  return opentype.parse(
    bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.byteLength) as ArrayBuffer,
  );
}

/** Ten-thousandths of a mm are far finer than any print. */
function round(mm: number): number {
  return Math.round(mm * 10_000) / 10_000;
}
