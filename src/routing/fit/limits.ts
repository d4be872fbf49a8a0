import type { CompiledBlank } from '../../catalog/compile.ts';
import type { Method } from '../../catalog/index.ts';
import type { Reason } from '../../contract/index.ts';
import { hundredth, tenth } from '../../figures.ts';
import type { Print } from './print.ts';
import type { ResolvedLine } from './resolve-slip.ts';
import { type UnfitReason, unfit } from './unfit.ts';

/** What the limits of a method are checked against. */
export type LimitSubject = {
  readonly print: Print;
  readonly line: Pick<ResolvedLine, 'blank' | 'cloth' | 'pieces'>;
  readonly method: Method;
  readonly methodIndex: number;
};

/** Why a print exceeds a limit; undefined when it does not. */
type LimitCheck = (subject: LimitSubject) => UnfitReason | undefined;

/** `piece`: checked of every print. `ink`: only where there is ink. `none`: not a limit by itself. */
type LimitEntry =
  | { readonly on: 'piece' | 'ink'; readonly check: LimitCheck }
  | { readonly on: 'none'; readonly because: string };

/**
 * Every limit that a method can have, in the order in which reasons are given. A limit added to `Limits` in
 * src/catalog/method.ts does not compile until it is here.
 */
const LIMITS: Readonly<Record<keyof Method['limits'], LimitEntry>> = {
  surfaces: { on: 'piece', check: surfaceLimit },
  fibers: {
    on: 'piece',
    check: ({ print, method, methodIndex, line }) => fiberLimit(print, method, methodIndex, line.blank),
  },
  clothLightness: { on: 'piece', check: clothLimit },
  pieces: { on: 'piece', check: countLimit },
  thinnestLineMm: { on: 'ink', check: ({ print, method }) => lineLimit(print, method) },
  thinnestGapMm: { on: 'ink', check: ({ print, method }) => gapLimit(print, method) },
  leastDpi: { on: 'ink', check: dpiLimit },
  softAlpha: { on: 'ink', check: softAlphaLimit },
  softShareMost: { on: 'none', because: 'checked with softAlpha' },
  goodDpi: { on: 'none', because: 'a finding warns of it' },
  largestSolidMm: { on: 'none', because: 'a finding warns of it' },
};

const checksOn = (on: 'piece' | 'ink'): readonly LimitCheck[] =>
  Object.values(LIMITS).flatMap((entry) => (entry.on === on ? [entry.check] : []));

const CHECKS = { piece: checksOn('piece'), ink: checksOn('ink') };

/** Adds the reason of every limit that is exceeded. */
export function addLimitReasons(on: 'piece' | 'ink', subject: LimitSubject, reasons: Reason[]): void {
  for (const check of CHECKS[on]) {
    const found = check(subject);
    if (found !== undefined) reasons.push(found);
  }
}

/** The surface of the face must be one that the method takes. */
function surfaceLimit({ print, method }: LimitSubject): UnfitReason | undefined {
  const { surfaces } = method.limits;
  if (surfaces.includes(print.face.surface)) return undefined;
  return unfit('surface-unfit', { surface: print.face.surface, allowed: [...surfaces] }, print.at);
}

/** The cloth must hold enough of the fibers that the method needs. */
export function fiberLimit(
  print: Print,
  method: Method,
  methodIndex: number,
  blank: CompiledBlank,
): UnfitReason | undefined {
  const { fibers } = method.limits;
  if (fibers === undefined) return undefined;
  const share = blank.fiberShares[methodIndex]!;
  const leastShare = Number(fibers.leastShare);
  if (share >= leastShare) return undefined;
  return unfit('fiber-unfit', { fibers: [...fibers.anyOf], share, leastShare }, print.at);
}

/** The cloth must be neither too light nor too dark for the method. */
function clothLimit({ print, method, line }: LimitSubject): UnfitReason | undefined {
  const bounds = method.limits.clothLightness;
  if (bounds === undefined) return undefined;
  const lightness = line.cloth.lab[0];
  const { least, most } = bounds;
  if (lightness >= least && lightness <= most) return undefined;
  const code = lightness < least ? 'cloth-too-dark' : 'cloth-too-light';
  return unfit(code, { lightness: tenth(lightness), least, most }, print.at);
}

/** The count of pieces must lie between the method's bounds. */
function countLimit({ print, method, line }: LimitSubject): UnfitReason | undefined {
  const bounds = method.limits.pieces;
  if (bounds === undefined) return undefined;
  const { pieces } = line;
  const { least, most } = bounds;
  if (pieces < least) return unfit('too-few-pieces', { pieces, least }, print.at);
  if (most !== null && pieces > most) return unfit('too-many-pieces', { pieces, most }, print.at);
  return undefined;
}

/** Strokes must not be thinner on the print than the method can print. */
function lineLimit({ artwork, mmPerPx, strokeMm, at }: Print, { limits }: Method): UnfitReason | undefined {
  const lineMm = strokeMm ?? thinnestMm(artwork?.facts.thinLines ?? [], mmPerPx);
  if (lineMm >= limits.thinnestLineMm) return undefined;
  return unfit('line-too-thin', { lineMm: hundredth(lineMm), leastMm: limits.thinnestLineMm }, at);
}

/** Gaps must not be narrower on the print than the method keeps open. */
function gapLimit({ artwork, mmPerPx, at }: Print, { limits }: Method): UnfitReason | undefined {
  const gapMm = thinnestMm(artwork?.facts.thinGaps ?? [], mmPerPx);
  if (gapMm >= limits.thinnestGapMm) return undefined;
  return unfit('gap-too-thin', { gapMm: hundredth(gapMm), leastMm: limits.thinnestGapMm }, at);
}

/** Whether strokes and gaps are wide enough for the method. */
export function keepsLines(print: Print, method: Method): boolean {
  return lineLimit(print, method) === undefined && gapLimit(print, method) === undefined;
}

function thinnestMm([thinnest]: readonly { readonly px: number }[], mmPerPx: number): number {
  return thinnest === undefined ? Number.POSITIVE_INFINITY : thinnest.px * mmPerPx;
}

/** There must be enough pixels for the printed size. */
function dpiLimit({ print, method }: LimitSubject): UnfitReason | undefined {
  const { leastDpi } = method.limits;
  if (!hasPixels(print)) return undefined;
  const dpi = print.mmPerPx > 0 ? 25.4 / print.mmPerPx : Number.POSITIVE_INFINITY;
  // Half a pixel more or less is no ground for refusing.
  if (Math.round(dpi) >= leastDpi) return undefined;
  return unfit('too-few-pixels', { dpi: Math.round(dpi), leastDpi }, print.at);
}

/** Whether a print is made of the pixels of its file. Drawings are rendered anew at the printed size. */
export function hasPixels({ artwork }: Print): boolean {
  const kind = artwork?.source?.kind;
  return artwork !== undefined && kind !== 'svg' && kind !== 'pdf';
}

/** Where soft alpha is lost, no more of the ink may be shadow and fade than the method allows. */
function softAlphaLimit({ print, method }: LimitSubject): UnfitReason | undefined {
  const { softAlpha, softShareMost } = method.limits;
  const { artwork } = print;
  if (artwork === undefined || softAlpha === 'prints' || softShareMost === undefined) return undefined;
  const share = artwork.facts.deepSoftShare;
  if (share <= softShareMost) return undefined;
  return unfit('soft-alpha-lost', { share: hundredth(share), most: softShareMost }, print.at);
}
