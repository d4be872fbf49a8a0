import type { ArtworkFacts, Finding, PixelBox, Remedy, Severity, SourceInfo } from '../../contract/facts.ts';
import { tenth } from '../../figures.ts';
import type { ArtworkLimits } from '../limits.ts';

export type FindingInput = {
  readonly facts: ArtworkFacts;
  /** what reading the file showed; left out when there is nothing to say of it. */
  readonly source?: SourceInfo | undefined;
  /** color of the cloth (or of whatever is printed on), `#rrggbb`. */
  readonly clothHex: string;
  /** printed width of the ink box, mm; over 0. */
  readonly placedWidthMm: number;
  /** the methods to judge for. */
  readonly methods: readonly ArtworkLimits[];
  /** whether what is printed on should breathe; default true. Mugs and plates need not. */
  readonly breathes?: boolean | undefined;
};

/** An artwork with ink, at its printed size. */
export type PlacedArtwork = FindingInput & { readonly inkBox: PixelBox; readonly mmPerPx: number };

/** Severity by method id. */
export type SeverityByMethod = Record<string, Severity>;

/** Severities, the worse the higher. */
export const SEVERITY_RANK: Record<Severity, number> = { note: 0, warning: 1, stops: 2 };

/** Cell of the screens offered, mm: about 32 dots an inch, coarse enough for cloth. */
const SCREEN_CELL_MM = 0.8;

/** Puts a finding together; its worst severity is worked out. */
export function finding(
  code: Finding['code'],
  severity: SeverityByMethod,
  box: PixelBox | null,
  params: Finding['params'],
  remedies: Remedy[],
): Finding {
  let worst: Severity = 'note';
  for (const one of Object.values(severity)) if (SEVERITY_RANK[one] > SEVERITY_RANK[worst]) worst = one;
  return { code, severity, worst, box, params, remedies };
}

/** The same severity for every method. */
export function forAllMethods(methods: readonly ArtworkLimits[], severity: Severity): SeverityByMethod {
  return Object.fromEntries(methods.map((method) => [method.id, severity]));
}

/** Cell of a screen at this size, px, within what the remedies take. */
export function screenCellPx(mmPerPx: number): number {
  return clampTenth(SCREEN_CELL_MM / mmPerPx, 2, 200);
}

/** A length rounded to tenths and held between bounds. */
export function clampTenth(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, tenth(value)));
}
