import type { CompiledCatalog } from '../../catalog/compile.ts';
import type { Method } from '../../catalog/index.ts';
import { type Reason, type ReasonCode, reason } from '../../contract/index.ts';
import type { Candidate, PrintCandidates } from './candidates.ts';
import { keepsLines } from './limits.ts';
import { otherBlank, otherColor, otherFace, otherFinish, otherSurface } from './nearest-options.ts';
import { makeSmaller, makeSmallerElsewhere, moveOntoFace } from './nearest-size.ts';
import type { Print } from './print.ts';
import type { ResolvedLine } from './resolve-slip.ts';
import type { UnfitCode } from './unfit.ts';

/** A print that a method does not fit. */
type Unfit = {
  readonly catalog: CompiledCatalog;
  readonly line: ResolvedLine;
  readonly print: Print;
  readonly method: Method;
  readonly methodIndex: number;
  /** the change alone must make the print possible; false: it is enough that it answers this reason. */
  readonly alone: boolean;
};

/** The change that answers a reason, if there is one. */
type Answer = (unfit: Unfit) => Reason | undefined;

const smaller: Answer = ({ catalog, line, print, method }) => makeSmaller(catalog, line, print, method);

const finish: Answer = ({ catalog, line, print, methodIndex, alone }) =>
  otherFinish(catalog, line, print, methodIndex, alone);

const color: Answer = ({ line, print, method }) => otherColor(line, print, method);

const none: Answer = () => undefined;

/** What answers each reason. A new reason does not compile until it is here. */
const ANSWERS: Readonly<Record<UnfitCode, Answer>> = {
  'nothing-to-print': none,
  'off-the-face': (unfit) =>
    moveOntoFace(unfit.line, unfit.print) ?? smaller(unfit) ?? makeSmallerElsewhere(unfit.line, unfit.print),
  'in-keep-out': (unfit) =>
    smaller(unfit) ?? moveOntoFace(unfit.line, unfit.print) ?? makeSmallerElsewhere(unfit.line, unfit.print),
  'surface-unfit': ({ catalog, line, print, method, alone }) =>
    alone ? otherFace(catalog, line, print) : otherSurface(line, print, method),
  'fiber-unfit': ({ catalog, line, print, methodIndex }) => otherBlank(catalog, line, print, methodIndex),
  'cloth-too-light': color,
  'cloth-too-dark': color,
  'too-few-pieces': ({ print, method }) =>
    reason('more-pieces', { pieces: method.limits.pieces!.least }, print.at),
  'too-many-pieces': ({ print, method }) =>
    reason('fewer-pieces', { pieces: method.limits.pieces!.most! }, print.at),
  'hand-too-thick': finish,
  'gloss-out-of-bounds': finish,
  'wash-life-too-short': finish,
  'breathability-too-low': finish,
  'no-station': none,
  'too-large-for-bed': smaller,
  'too-large-for-sheet': smaller,
  'line-too-thin': ({ line, print, method }) =>
    print.strokeMm === undefined
      ? reason('thicken-lines', { toMm: method.limits.thinnestLineMm }, print.at)
      : largerLetters(line, print, method, print.strokeMm),
  'gap-too-thin': ({ print, method }) =>
    reason('widen-gaps', { toMm: method.limits.thinnestGapMm }, print.at),
  'too-few-pixels': (unfit) => {
    const { print, method } = unfit;
    const change = smaller(unfit);
    return change !== undefined && staysPrintable(print, method, change)
      ? change
      : sharperFile(print, method);
  },
  'soft-alpha-lost': ({ print }) => reason('firm-up-soft-alpha', {}, print.at),
};

/**
 * The nearest changes that would make a print possible, nearest first: each alone is enough for at least one method,
 * except where two things are wrong with every method; then each answers one of them.
 */
export function nearestChanges(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  candidates: PrintCandidates,
): Reason[] {
  const { print, byMethod } = candidates;
  const requested = line.line.method;
  const considered = byMethod.filter(
    ({ method }) => requested === undefined || catalog.methods[method]!.id === requested,
  );
  // The methods that fail for the fewest reasons are the nearest to fit.
  const ranked = [...considered].sort((one, other) => codesOf(one).size - codesOf(other).size);
  const changes: Reason[] = [];
  const add = (change: Reason | undefined): void => {
    if (change !== undefined && !changes.some((known) => known.code === change.code)) changes.push(change);
  };
  const addAnswers = (alone: boolean): void => {
    for (const candidate of ranked) {
      const methodIndex = candidate.method;
      const unfit: Unfit = {
        catalog,
        line,
        print,
        method: catalog.methods[methodIndex]!,
        methodIndex,
        alone,
      };
      for (const code of allCodes(candidates, candidate)) add(answerTo(code, unfit));
    }
  };
  addAnswers(true);
  const otherFits = byMethod.some(({ routed }) => routed !== undefined);
  if (requested !== undefined && candidates.reasons.length === 0 && otherFits)
    add(reason('method-not-asked', { asked: requested }, print.at));
  if (changes.length > 0) return changes;
  // Several things are wrong with every method: offer what answers one of them.
  addAnswers(false);
  if (requested !== undefined) add(reason('method-not-asked', { asked: requested }, print.at));
  return changes;
}

function answerTo(code: ReasonCode, unfit: Unfit): Reason | undefined {
  const answers: Partial<Record<ReasonCode, Answer>> = ANSWERS;
  return answers[code]?.(unfit);
}

function codesOf({ reasons }: Candidate): ReadonlySet<ReasonCode> {
  return new Set(reasons?.map(({ code }) => code));
}

function allCodes(print: PrintCandidates, candidate: Candidate): ReasonCode[] {
  return [...new Set([...print.reasons, ...(candidate.reasons ?? [])].map(({ code }) => code))];
}

/** Suggests the size at which the thinnest stroke is wide enough. Height and width grow alike, so no name gets narrower. */
function largerLetters(line: ResolvedLine, print: Print, method: Method, strokeMm: number): Reason {
  const { capHeightMm, widthMm } = line.line.names!;
  const factor = method.limits.thinnestLineMm / strokeMm;
  const scaleUp = (mm: number): number => Math.ceil(mm * factor * 10 - 1e-6) / 10;
  return reason('larger-letters', { capHeightMm: scaleUp(capHeightMm), widthMm: scaleUp(widthMm) }, print.at);
}

/** Whether strokes and gaps that are wide enough now still are at the smaller width. */
function staysPrintable(print: Print, method: Method, { params }: Reason): boolean {
  const mmPerPx = print.mmPerPx * ((params['widthMm'] as number) / print.widthMm);
  return !keepsLines(print, method) || keepsLines({ ...print, mmPerPx }, method);
}

function sharperFile(print: Print, method: Method): Reason {
  const widthPx = Math.ceil((print.widthMm * method.limits.leastDpi) / 25.4);
  return reason('sharper-file', { widthPx }, print.at);
}
