/** CSS Values 3, 5.2: an inch is 96 px. */
export const PX_PER_INCH = 96;
export const MM_PER_INCH = 25.4;

const PX_PER_UNIT: Readonly<Record<string, number>> = {
  '': 1,
  px: 1,
  in: PX_PER_INCH,
  pt: PX_PER_INCH / 72,
  pc: PX_PER_INCH / 6,
  cm: PX_PER_INCH / 2.54,
  mm: PX_PER_INCH / MM_PER_INCH,
  q: PX_PER_INCH / (4 * MM_PER_INCH),
  // The initial font size: 16 px in all viewers.
  em: 16,
  rem: 16,
  ex: 8,
};

/** A length in px; null if it is missing, a percentage, or invalid. */
export function lengthPx(text: string | undefined): number | null {
  const match = /^\s*([+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:e[+-]?\d+)?)\s*([a-z]*)\s*$/i.exec(text ?? '');
  if (match === null) return null;
  const factor = PX_PER_UNIT[match[2]!.toLowerCase()];
  const value = Number(match[1]) * (factor ?? Number.NaN);
  return Number.isFinite(value) ? value : null;
}

export type ViewBox = {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
};

/** A `viewBox`; null if it is missing, or not four numbers with width and height over 0. */
export function readViewBox(text: string | undefined): ViewBox | null {
  if (text === undefined) return null;
  const numbers = text
    .trim()
    .split(/[\s,]+/)
    .map(Number);
  if (numbers.length !== 4 || !numbers.every(Number.isFinite)) return null;
  const [x, y, width, height] = numbers as [number, number, number, number];
  return width > 0 && height > 0 ? { x, y, width, height } : null;
}
