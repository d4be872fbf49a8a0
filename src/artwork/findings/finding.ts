import type { ArtworkFacts, Finding, PixelBox, Remedy, Severity, SourceInfo } from '../../contract/facts.ts';
import { tenth } from '../../figures.ts';
import type { ArtworkLimits } from '../limits.ts';

export type FindingInput = {
  readonly facts: ArtworkFacts;
  /** what was learned from reading the file, if anything. */
  readonly source?: SourceInfo | undefined;
  /** color of the cloth (or other surface), `#rrggbb`. */
  readonly clothHex: string;
  /** printed width of the ink box, mm; over 0. */
  readonly placedWidthMm: number;
  /** the methods to check against. */
  readonly methods: readonly ArtworkLimits[];
  /** whether the cloth should breathe; default true. False for mugs and the like. */
  readonly breathes?: boolean | undefined;
};

/** An artwork with ink, at its printed size. */
export type PlacedArtwork = FindingInput & { readonly inkBox: PixelBox; readonly mmPerPx: number };

/** Severity by method id. */
export type SeverityByMethod = Record<string, Severity>;

/** Order of severity: worse is higher. */
export const SEVERITY_RANK: Record<Severity, number> = { note: 0, warning: 1, stops: 2 };

/** Cell of the halftone screens offered, mm: about 32 lines per inch, coarse enough for cloth. */
const SCREEN_CELL_MM = 0.8;

/** Builds a finding; `worst` is computed. */
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

/** Cell of a halftone screen at this size, px, within the range of the remedies. */
export function screenCellPx(mmPerPx: number): number {
  return clampTenth(SCREEN_CELL_MM / mmPerPx, 2, 200);
}

/** A length rounded to tenths and clamped. */
export function clampTenth(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, tenth(value)));
}
