import type { LocalText } from '../contract/index.ts';
import { LETTERING_TABLE } from './lettering-table.ts';

/** A typeface for names. */
export type LetteringFont = { readonly id: string; readonly name: LocalText };

/** The bundled typefaces. */
export const LETTERING_FONTS: readonly LetteringFont[] = LETTERING_TABLE.map(({ id, name }) => ({
  id,
  name,
}));

/** The font files of a typeface, for drawing it. */
export type LetteringFiles = {
  readonly id: string;
  /** family name inside the files. */
  readonly family: string;
  readonly weight: number;
  /** paths in the installed packages without extension; `.woff` and `.woff2` exist. Latin first, then extended Latin. */
  readonly files: readonly string[];
};

/** The files of `LETTERING_FONTS`. Draw with kerning off, as `lettering` measures. */
export const LETTERING_FILES: readonly LetteringFiles[] = LETTERING_TABLE.map(
  ({ id, family, weight, files }) => ({ id, family, weight, files }),
);

/** A name or number to set. */
export type LetteringSpec = {
  readonly text: string;
  /** id of a bundled font. */
  readonly font: string;
  readonly capHeightMm: number;
  readonly mostWidthMm: number;
};

/** Size of a set name: the box of its letters and the ink in it. */
export type LetteringMetrics = {
  /** sum of the advance widths, condensed to `mostWidthMm` if that is less. */
  readonly widthMm: number;
  /** from the lowest to the highest ink. */
  readonly heightMm: number;
  /** share of that box covered by ink, 0 to 1. */
  readonly inkShare: number;
  /** thinnest stroke, taken from the hyphen and the vertical bar, condensed. */
  readonly strokeMm: number;
  /** height of the baseline above the bottom of the box. */
  readonly baselineMm: number;
  /** horizontal scale: 1 as the font is, 0.5 half as wide. */
  readonly squeeze: number;
};

type Letter = {
  readonly advance: number;
  readonly ink: number;
  readonly bottom: number;
  readonly top: number;
};
type Face = {
  readonly capHeight: number;
  readonly letters: ReadonlyMap<string, Letter>;
  /** thickness of the hyphen and of the vertical bar, thousandths of an em. */
  readonly levelStroke: number;
  readonly uprightStroke: number;
};

/** Measured instead of a letter that the font lacks. */
const FALLBACK_LETTER = 'M';

const faces: ReadonlyMap<string, Face> = new Map(
  LETTERING_TABLE.map((table) => {
    const list = (text: string): number[] => text.split(' ').map(Number);
    const [advances, inks, bottoms, tops] = [table.advances, table.inks, table.bottoms, table.tops].map(list);
    const letters = [...table.chars].map((char, index): [string, Letter] => [
      char,
      {
        advance: advances![index]!,
        ink: inks![index]!,
        bottom: bottoms![index]!,
        top: tops![index]!,
      },
    ]);
    const byChar = new Map(letters);
    const hyphen = byChar.get('-')!;
    const bar = byChar.get('|')!;
    return [
      table.id,
      {
        capHeight: table.capHeight,
        letters: byChar,
        levelStroke: hyphen.top - hyphen.bottom,
        // The area over the height; see `lettering` for the factor of 1000.
        uprightStroke: (bar.ink * 1000) / (bar.top - bar.bottom),
      },
    ];
  }),
);

/**
 * Measures a name as it is drawn: normalized to NFC, letters at their advance widths without kerning. A letter that the
 * font lacks is measured as a capital M (`missingLetters` lists them).
 *
 * @throws RangeError when the font is not in `LETTERING_FONTS`
 */
export function lettering({ text, font, capHeightMm, mostWidthMm }: LetteringSpec): LetteringMetrics {
  const { capHeight, letters, levelStroke, uprightStroke } = faceOf(font);
  let advance = 0;
  let ink = 0;
  let bottom = Number.POSITIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (const char of text.normalize('NFC')) {
    const letter = letters.get(char) ?? letters.get(FALLBACK_LETTER)!;
    advance += letter.advance;
    ink += letter.ink;
    if (letter.ink === 0) continue;
    bottom = Math.min(bottom, letter.bottom);
    top = Math.max(top, letter.top);
  }
  const mmPerUnit = capHeightMm / capHeight;
  const strokeOf = (squeeze: number): number => Math.min(levelStroke, uprightStroke * squeeze) * mmPerUnit;
  if (ink === 0)
    return { widthMm: 0, heightMm: 0, inkShare: 0, strokeMm: strokeOf(1), baselineMm: 0, squeeze: 1 };
  const natural = advance * mmPerUnit;
  const squeeze = Math.min(1, mostWidthMm / natural);
  // Ink is in thousandths of an em², lengths in thousandths of an em: hence the factor of 1000.
  const inkShare = Math.min(1, (ink * 1000) / (advance * (top - bottom)));
  return {
    widthMm: natural * squeeze,
    heightMm: (top - bottom) * mmPerUnit,
    inkShare,
    strokeMm: strokeOf(squeeze),
    baselineMm: (0 - bottom) * mmPerUnit,
    squeeze,
  };
}

/**
 * Letters of a text that a font lacks, each once, in order; empty if the text can be set.
 *
 * @throws RangeError when the font is not in `LETTERING_FONTS`
 */
export function missingLetters(text: string, font: string): string[] {
  const { letters } = faceOf(font);
  return [...new Set([...text.normalize('NFC')].filter((char) => !letters.has(char)))];
}

function faceOf(font: string): Face {
  const face = faces.get(font);
  if (face === undefined)
    throw new RangeError(
      `there is no font "${font}"; names are set in one of: ${LETTERING_FONTS.map(({ id }) => id).join(', ')}`,
    );
  return face;
}
