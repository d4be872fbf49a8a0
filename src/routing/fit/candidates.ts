import type { Channels } from '../../artwork/index.ts';
import type { CompiledCatalog } from '../../catalog/compile.ts';
import type { Method, Treatment } from '../../catalog/index.ts';
import { stepsOf, type Variant } from '../../catalog/treatments.ts';
import { type Reason, reason } from '../../contract/index.ts';
import type { InkArea, RoutedPlacement } from '../routed.ts';
import {
  clothLimit,
  countLimit,
  dpiLimit,
  faceLimit,
  fiberLimit,
  keepOutLimits,
  lineLimits,
  sheetLimit,
  softAlphaLimit,
  stationChoice,
  surfaceLimit,
} from './limits.ts';
import type { Print } from './print.ts';
import type { ResolvedLine } from './resolve-slip.ts';

/** A method for a print: fit, with everything needed to cost and make it, or not, with every reason. */
export type Candidate =
  | { readonly method: number; readonly routed: RoutedPlacement; readonly reasons?: undefined }
  | { readonly method: number; readonly reasons: readonly Reason[]; readonly routed?: undefined };

/** The candidates of one print, by method index, and what rules out every method alike. */
export type PrintCandidates = {
  readonly print: Print;
  /** off the face, in a keep-out, nothing to print: no method helps. */
  readonly reasons: readonly Reason[];
  readonly byMethod: readonly Candidate[];
  /** indexes of the fit methods; empty when `reasons` is not. */
  readonly fit: readonly number[];
};

/** Tries every method on every print of a line. */
export function candidatesOf(catalog: CompiledCatalog, line: ResolvedLine): PrintCandidates[] {
  const asked = line.line.method;
  return line.prints.map((print) => {
    const reasons = placeReasons(print, line);
    const byMethod: Candidate[] = [];
    const fit: number[] = [];
    for (let index = 0; index < catalog.methods.length; index++) {
      const candidate = candidateFor(catalog, line, print, index);
      byMethod.push(candidate);
      const wanted = asked === undefined || catalog.methods[index]!.id === asked;
      if (wanted && candidate.routed !== undefined && reasons.length === 0) fit.push(index);
    }
    return { print, reasons, byMethod, fit };
  });
}

function placeReasons(print: Print, line: ResolvedLine): Reason[] {
  if (print.empty) return [reason('nothing-to-print', {}, print.at)];
  const off = faceLimit(print, line.sizes);
  const kept = keepOutLimits(print);
  return off === undefined ? kept : [off, ...kept];
}

/** Tries one method on a print, in the finish of its line. */
export function candidateFor(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  index: number,
): Candidate {
  const method = catalog.methods[index]!;
  const variant = line.finish.variants[index]!;
  const reasons: Reason[] = [];
  const add = (found: Reason | undefined): void => {
    if (found !== undefined) reasons.push(found);
  };
  add(surfaceLimit(print, method));
  add(fiberLimit(print, method, index, line.blank));
  add(clothLimit(print, method, line.cloth));
  add(countLimit(print, method, line.pieces));
  for (const miss of variant.misses) reasons.push({ ...miss, at: print.at });
  // A surface nothing takes makes every bed too small as well; saying so twice helps nobody.
  const surfaceFits = reasons[0]?.code !== 'surface-unfit';
  const steps = stepsOf(method, variant.treatments);
  const choice = stationChoice(print, steps, line.sizes, catalog.stations);
  if (choice.reasons !== undefined && surfaceFits) reasons.push(...choice.reasons);
  if (!print.empty) {
    if (surfaceFits) add(sheetLimit(print, method.consumables));
    reasons.push(...lineLimits(print, method));
    add(dpiLimit(print, method));
    add(softAlphaLimit(print, method));
  }
  if (reasons.length > 0 || choice.stations === undefined) return { method: index, reasons };
  return { method: index, routed: routedWith(line, print, method, variant, choice.stations) };
}

function routedWith(
  line: ResolvedLine,
  print: Print,
  method: Method,
  variant: Variant,
  stations: RoutedPlacement['stations'],
): RoutedPlacement {
  const white = !line.cloth.white && line.cloth.lab[0] < method.whiteBelowLightness;
  return {
    id: print.id,
    face: print.face,
    design: `${print.key} ${method.id}`,
    method,
    treatments: variant.treatments,
    qualities: variant.qualities,
    widthMm: print.widthMm,
    heightMm: print.heightMm,
    boxWidthMm: print.boxWidthMm,
    boxHeightMm: print.boxHeightMm,
    ink: inkArea(print.inkOn(line.cloth), white, screenedShare(print, variant.treatments)),
    white,
    distinct: print.distinct,
    stations,
  };
}

function inkArea(sums: Channels, white: boolean, share: number): InkArea {
  return {
    c: sums.c * share,
    m: sums.m * share,
    y: sums.y * share,
    k: sums.k * share,
    w: white ? sums.w * share : 0,
  };
}

/**
 * Share of the ink that stays when solids are screened: soft pixels keep theirs, opaque ones keep the screen's tint.
 */
function screenedShare(print: Print, treatments: readonly Treatment[]): number {
  let tint = 1;
  for (const { screen } of treatments) if (screen !== undefined) tint *= screen.tint;
  if (tint === 1) return 1;
  const facts = print.artwork?.facts;
  if (facts === undefined) return tint;
  const inked = facts.opaqueShare + facts.softShare;
  const solid = inked > 0 ? facts.opaqueShare / inked : 1;
  return 1 - solid * (1 - tint);
}
