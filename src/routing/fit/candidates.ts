import type { Channels } from '../../artwork/index.ts';
import type { CompiledCatalog } from '../../catalog/compile.ts';
import type { Method, Treatment } from '../../catalog/index.ts';
import { stepsOf, type Variant } from '../../catalog/treatments.ts';
import type { Reason } from '../../contract/index.ts';
import type { InkArea, RoutedPlacement } from '../routed.ts';
import { faceLimit, keepOutLimits } from './face-limits.ts';
import { addLimitReasons, type LimitSubject } from './limits.ts';
import type { Print } from './print.ts';
import type { ResolvedLine } from './resolve-slip.ts';
import { sheetLimit, stationChoice } from './station-choice.ts';
import { unfit } from './unfit.ts';

/** A method for a print: it fits, with all that is needed to cost and make it, or does not, with every reason. */
export type Candidate =
  | { readonly method: number; readonly routed: RoutedPlacement; readonly reasons?: undefined }
  | { readonly method: number; readonly reasons: readonly Reason[]; readonly routed?: undefined };

/** The candidates of one print, and what rules out every method. */
export type PrintCandidates = {
  readonly print: Print;
  /** off the face, in a keep-out, nothing to print: no method helps. */
  readonly reasons: readonly Reason[];
  readonly byMethod: readonly Candidate[];
  /** indexes of the methods that fit and may be chosen; empty when `reasons` is not. */
  readonly fit: readonly number[];
};

/** Tries every method on every print of a line. */
export function candidatesOf(catalog: CompiledCatalog, line: ResolvedLine): PrintCandidates[] {
  const requested = line.line.method;
  return line.prints.map((print) => {
    const reasons = reasonsOfPlace(print, line);
    const byMethod: Candidate[] = [];
    const fit: number[] = [];
    for (let index = 0; index < catalog.methods.length; index++) {
      const candidate = candidateFor(catalog, line, print, index);
      byMethod.push(candidate);
      const mayBeChosen = requested === undefined || catalog.methods[index]!.id === requested;
      if (mayBeChosen && candidate.routed !== undefined && reasons.length === 0) fit.push(index);
    }
    return { print, reasons, byMethod, fit };
  });
}

function reasonsOfPlace(print: Print, line: ResolvedLine): Reason[] {
  if (print.empty) return [unfit('nothing-to-print', {}, print.at)];
  const offFace = faceLimit(print, line.sizes);
  const inKeepOuts = keepOutLimits(print);
  return offFace === undefined ? inKeepOuts : [offFace, ...inKeepOuts];
}

/** Tries one method on a print, in the finish of its line. */
export function candidateFor(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  methodIndex: number,
): Candidate {
  const method = catalog.methods[methodIndex]!;
  const variant = line.finish.variants[methodIndex]!;
  const subject: LimitSubject = { print, line, method, methodIndex };
  const reasons: Reason[] = [];
  addLimitReasons('piece', subject, reasons);
  for (const miss of variant.misses) reasons.push({ ...miss, at: print.at });
  // Where the surface does not fit, no bed does either: one reason is enough.
  const surfaceFits = reasons[0]?.code !== 'surface-unfit';
  const steps = stepsOf(method, variant.treatments);
  const choice = stationChoice(print, steps, line.sizes, catalog.stations);
  if (choice.reasons !== undefined && surfaceFits) reasons.push(...choice.reasons);
  if (!print.empty) {
    const offSheet = surfaceFits ? sheetLimit(print, method.consumables) : undefined;
    if (offSheet !== undefined) reasons.push(offSheet);
    addLimitReasons('ink', subject, reasons);
  }
  if (reasons.length > 0 || choice.stations === undefined) return { method: methodIndex, reasons };
  return { method: methodIndex, routed: routedPlacement(line, print, method, variant, choice.stations) };
}

function routedPlacement(
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

/** Share of the ink that is printed when solids are screened: soft pixels keep theirs, opaque ones the screen's tint. */
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
