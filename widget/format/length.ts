/** Lengths as people type them, in their own digits and separators. */

/** Units a customer may choose to see. */
export type Units = 'mm' | 'in';

/** Millimeters in an inch, exact by definition since 1959. */
export const MM_PER_INCH = 25.4;

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

const FRACTIONS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '¼': '1/4',
  '¾': '3/4',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
  '⅓': '1/3',
  '⅔': '2/3',
};

/** What a language writes of its own in lengths. */
export type LengthMarks = {
  /** its grouping mark; only one that groups three digits is taken for one. */
  readonly group: string;
  /** its names of units, lower case, with their mm. */
  readonly units: Readonly<Record<string, number>>;
};

/**
 * Reads a length such as `90`, `12,5`, `3.5 in`, `5 1/2"`, `9 cm`, `١٢٫٥ مم` or `１２．５`. Without a unit it is in
 * `units`.
 */
export function parseLength(text: string, units: Units, marks: LengthMarks): ParsedLength {
  const plain = plainDigits(text).trim();
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

/** ASCII digits and marks for those of other scripts and widths. */
function plainDigits(text: string): string {
  let out = '';
  for (const char of text) {
    const code = char.codePointAt(0) ?? 0;
    if (code >= 0x0660 && code <= 0x0669) out += String(code - 0x0660);
    else if (code >= 0x06f0 && code <= 0x06f9) out += String(code - 0x06f0);
    else if (code >= 0xff10 && code <= 0xff19) out += String(code - 0xff10);
    else if (char === '٫' || char === '．') out += '.';
    else if (char === '٬' || char === '\u200e' || char === '\u200f' || char === '\u061c') continue;
    else if (char === '，' || char === '،') out += ',';
    else if (char === '−' || char === '‒' || char === '–' || char === '－') out += '-';
    else if (char === '″' || char === '”' || char === '“') out += '"';
    else if (char === '⁄') out += '/';
    else if (char in FRACTIONS) out += `${/\d$/.test(out) ? ' ' : ''}${FRACTIONS[char]}`;
    else out += /\s/u.test(char) ? ' ' : char;
  }
  return out;
}
