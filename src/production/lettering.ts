import type { LocalText } from '../contract/index.ts';
import { LETTERING_TABLE } from './lettering-table.ts';

/** A face of type that names can be set in. */
export type LetteringFont = { readonly id: string; readonly name: LocalText };

/** The bundled faces of type. */
export const LETTERING_FONTS: readonly LetteringFont[] = LETTERING_TABLE.map(({ id, name }) => ({
  id,
  name,
}));

/** Where the outlines of a face of type are, for those who draw it. */
export type LetteringFiles = {
  readonly id: string;
  /** name of the family inside the files. */
  readonly family: string;
  readonly weight: number;
  /** paths in the installed packages, without ending: `.woff` and `.woff2` are there. Latin first, then further letters. */
  readonly files: readonly string[];
};

/** The files of `LETTERING_FONTS`. Draw with kerning off, as `lettering` measures. */
export const LETTERING_FILES: readonly LetteringFiles[] = LETTERING_TABLE.map(
  ({ id, family, weight, files }) => ({ id, family, weight, files }),
);

/** A name or number to be set. */
export type Lettered = {
  readonly text: string;
  /** id of a bundled font. */
  readonly font: string;
  readonly capHeightMm: number;
  readonly mostWidthMm: number;
};

/** A set name: the box of its letters and the ink in it. */
export type LetteredSize = {
  /** sum of the letters' widths, drawn narrower where it would be over `mostWidthMm`. */
  readonly widthMm: number;
  /** from the lowest to the highest ink. */
  readonly heightMm: number;
  /** share of that box the letters cover, 0 to 1. */
  readonly inkShare: number;
  /** thinnest stroke, as the bar and the hyphen have it: of upright ones after the squeeze. */
  readonly strokeMm: number;
  /** how far the base line lies over the bottom of the box. */
  readonly baselineMm: number;
  /** how much narrower than the font it is drawn: 1 as it is, 0.5 half as wide. */
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
  /** thickness of the hyphen, and of the bar. */
  readonly levelStroke: number;
  readonly uprightStroke: number;
};

/** What stands in the measure for a letter the font lacks. */
const STAND_IN = 'M';

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
        // Ink is in thousandths of an em², lengths in thousandths of an em.
        uprightStroke: (bar.ink * 1000) / (bar.top - bar.bottom),
      },
    ];
  }),
);

/**
 * Measures a name as it is drawn: letters side by side at their own widths, not kerned; characters as composed by NFC;
 * a letter the font lacks as wide as a capital M (`missingLetters` names them).
 *
 * @throws RangeError naming the font when it is none of `LETTERING_FONTS`
 */
export function lettering({ text, font, capHeightMm, mostWidthMm }: Lettered): LetteredSize {
  const { capHeight, letters, levelStroke, uprightStroke } = faceOf(font);
  let advance = 0;
  let ink = 0;
  let bottom = Number.POSITIVE_INFINITY;
  let top = Number.NEGATIVE_INFINITY;
  for (const char of text.normalize('NFC')) {
    const letter = letters.get(char) ?? letters.get(STAND_IN)!;
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
  // Ink is in thousandths of an em², a length in thousandths of an em: 1000 of its squares make one of its units.
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
 * Letters of a text that a font does not have, each once, in order; none when it can be set.
 *
 * @throws RangeError naming the font when it is none of `LETTERING_FONTS`
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
