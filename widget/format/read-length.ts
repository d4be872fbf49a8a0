/** Reads lengths as people type them, in the digits and separators of their language. */

import { toAsciiDigits } from '../draft/whole-number.ts';
import { MM_PER_INCH, type Units } from './length.ts';

export type ParsedLength =
  | { readonly mm: number }
  | { readonly problem: 'empty' | 'not-a-number' | 'unit-unknown' };

const UNIT_MM: Readonly<Record<string, number>> = {
  mm: 1,
  millimeter: 1,
  millimeters: 1,
  millimetre: 1,
  millimetres: 1,
  ミリ: 1,
  ミリメートル: 1,
  مم: 1,
  ملم: 1,
  cm: 10,
  centimeter: 10,
  centimeters: 10,
  centimetre: 10,
  centimetres: 10,
  センチ: 10,
  センチメートル: 10,
  سم: 10,
  m: 1000,
  in: MM_PER_INCH,
  '"': MM_PER_INCH,
  "''": MM_PER_INCH,
  inch: MM_PER_INCH,
  inches: MM_PER_INCH,
  zoll: MM_PER_INCH,
  pulgada: MM_PER_INCH,
  pulgadas: MM_PER_INCH,
  pulg: MM_PER_INCH,
  インチ: MM_PER_INCH,
  بوصة: MM_PER_INCH,
  بوصات: MM_PER_INCH,
};

/** How a language writes lengths. */
export type LengthMarks = {
  /** its grouping separator; read as one only before groups of three digits. */
  readonly group: string;
  /** mm of each of its names of units, which are in lower case. */
  readonly units: Readonly<Record<string, number>>;
};

/** Marks by language, as collecting them takes dozens of calls to `Intl`. */
const cache = new Map<string, LengthMarks>();

function marksOf(language: string): LengthMarks {
  const marks = cache.get(language) ?? { group: groupMark(language), units: unitNames(language) };
  cache.set(language, marks);
  return marks;
}

function groupMark(language: string): string {
  const parts = new Intl.NumberFormat(language, { useGrouping: true }).formatToParts(1234567);
  return parts.find((part) => part.type === 'group')?.value ?? '';
}

/** The language's names of millimeters, centimeters and inches, long and short, singular and plural. */
function unitNames(language: string): Readonly<Record<string, number>> {
  const names: Record<string, number> = {};
  for (const [unit, mm] of [
    ['millimeter', 1],
    ['centimeter', 10],
    ['inch', MM_PER_INCH],
  ] as const)
    for (const unitDisplay of ['long', 'short', 'narrow'] as const) {
      const format = new Intl.NumberFormat(language, { style: 'unit', unit, unitDisplay });
      for (const count of [1, 2, 5, 11, 100, 1.5]) {
        const name = format.formatToParts(count).find((part) => part.type === 'unit')?.value;
        if (name) names[name.trim().toLowerCase()] = mm;
      }
    }
  return names;
}

/** Reads the text of a length field. @param language a valid tag, as a formatter has it */
export const parseLengthIn = (text: string, units: Units, language: string): ParsedLength =>
  parseLength(text, units, marksOf(language));

/**
 * Reads a length such as `90`, `12,5`, `3.5 in`, `5 1/2"`, `9 cm`, `١٢٫٥ مم` or `１２．５`; without a unit, it is in `units`.
 */
export function parseLength(text: string, units: Units, marks: LengthMarks): ParsedLength {
  const plain = plainMarks(text).trim();
  if (plain === '') return { problem: 'empty' };
  const parts = /^([+-]?[\d.,'\s/]*\d[\d.,\s/]*)(.*)$/su.exec(plain);
  if (!parts) return { problem: 'not-a-number' };
  const [, figure = '', unitText = ''] = parts;
  const factor = unitFactor(unitText.trim().toLowerCase(), units, marks);
  if (factor === null) return { problem: 'unit-unknown' };
  const value = readFigure(figure.trim(), marks.group);
  return value === null ? { problem: 'not-a-number' } : { mm: value * factor };
}

function unitFactor(unit: string, units: Units, marks: LengthMarks): number | null {
  if (unit === '') return units === 'mm' ? 1 : MM_PER_INCH;
  for (const table of [marks.units, UNIT_MM])
    for (const name of [unit, unit.replace(/\.$/, '')])
      if (Object.hasOwn(table, name)) return table[name] ?? null;
  return null;
}

/** The number written as `-12.5`, `1 1/2` or `1/4`, for example; null for anything else. */
function readFigure(figure: string, group: string): number | null {
  const sign = figure.startsWith('-') ? -1 : 1;
  const unsigned = figure.replace(/^[+-]\s*/, '');
  const fraction = /^(?:(\d+)\s+)?(\d+)\s*\/\s*(\d+)$/.exec(unsigned);
  if (fraction) {
    const below = Number(fraction[3]);
    if (below === 0) return null;
    return sign * (Number(fraction[1] ?? 0) + Number(fraction[2]) / below);
  }
  const decimal = unifyMarks(unsigned, group);
  return decimal === null ? null : sign * Number(decimal);
}

/** Removes grouping and makes the decimal separator a point; null if the result is no number. */
function unifyMarks(figure: string, group: string): string | null {
  let text = figure.replace(/(?<=\d)[\s'](?=\d{3}(\D|$))/gu, '');
  const lastComma = text.lastIndexOf(',');
  const lastPoint = text.lastIndexOf('.');
  if (lastComma >= 0 && lastPoint >= 0) {
    const grouping = lastComma > lastPoint ? '.' : ',';
    text = text.split(grouping).join('');
  } else if (
    (group === ',' || group === '.') &&
    text.includes(group) &&
    new RegExp(`^[1-9]\\d{0,2}(\\${group}\\d{3})+$`).test(text)
  ) {
    text = text.split(group).join('');
  }
  text = text.replace(',', '.');
  return /^(\d+\.?\d*|\.\d+)$/.test(text) ? text : null;
}

/** Replaces digits and marks of other scripts and widths by ASCII ones; `5½` becomes `5 1/2`. */
function plainMarks(text: string): string {
  return toAsciiDigits(text.replace(/[¼-¾⅐-⅞]/g, ' $&').replace(/[″“”]/g, '"'))
    .replace(/[٬\u200e\u200f\u061c]/g, '')
    .replaceAll('٫', '.')
    .replaceAll('،', ',')
    .replaceAll('⁄', '/')
    .replace(/[−‒–]/g, '-')
    .replace(/\s/g, ' ');
}
