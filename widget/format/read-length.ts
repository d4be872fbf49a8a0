/** Lengths as people type them, in their own digits and separators. */
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

/** What a language writes of its own in lengths. */
export type LengthMarks = {
  /** its grouping mark; only one that groups three digits is taken for one. */
  readonly group: string;
  /** its names of units, lower case, with their mm. */
  readonly units: Readonly<Record<string, number>>;
};

/** Marks by language: to gather them asks the runtime for a few dozen names. */
const known = new Map<string, LengthMarks>();

function marksOf(language: string): LengthMarks {
  const marks = known.get(language) ?? { group: groupMark(language), units: unitNames(language) };
  known.set(language, marks);
  return marks;
}

function groupMark(language: string): string {
  const parts = new Intl.NumberFormat(language, { useGrouping: true }).formatToParts(1234567);
  return parts.find((part) => part.type === 'group')?.value ?? '';
}

/** What this language calls millimeters, centimeters and inches, long and short, of one and of several. */
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

/** What a customer typed into a length field. @param language a tag the runtime can read, as a formatter has it. */
export const parseLengthIn = (text: string, units: Units, language: string): ParsedLength =>
  parseLength(text, units, marksOf(language));

/**
 * Reads a length such as `90`, `12,5`, `3.5 in`, `5 1/2"`, `9 cm`, `١٢٫٥ مم` or `１２．５`. Without a unit it is in
 * `units`.
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

/** The number in a figure such as `-12.5`, `1 1/2`, `1/4`, or null. */
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

/** Grouping taken out and the decimal mark made a point; null when it is no number. */
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

/** ASCII digits and marks for those of other scripts and widths; `5½` becomes `5 1/2`. */
function plainMarks(text: string): string {
  return toAsciiDigits(text.replace(/[¼-¾⅐-⅞]/g, ' $&').replace(/[″“”]/g, '"'))
    .replace(/[٬\u200e\u200f\u061c]/g, '')
    .replaceAll('٫', '.')
    .replaceAll('،', ',')
    .replaceAll('⁄', '/')
    .replace(/[−‒–]/g, '-')
    .replace(/\s/g, ' ');
}
