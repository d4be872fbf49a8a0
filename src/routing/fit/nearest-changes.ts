import { ciede2000 } from '../../artwork/index.ts';
import { areaOf, type CompiledCatalog } from '../../catalog/compile.ts';
import type { Method } from '../../catalog/index.ts';
import { type Reason, type ReasonCode, reason } from '../../contract/index.ts';
import { rotatedHalfSize } from '../../geometry.ts';
import { type Candidate, candidateFor, type PrintCandidates } from './candidates.ts';
import { faceLimit, fiberLimit, keepOutLimits, lineLimits, sheetLimit, stationChoice } from './limits.ts';
import type { Print } from './print.ts';
import type { ResolvedLine } from './resolve-slip.ts';
import { withFinish } from './resolve-slip.ts';

/** Reasons that a smaller print answers. */
const TOO_LARGE: ReadonlySet<ReasonCode> = new Set([
  'off-the-face',
  'in-keep-out',
  'too-large-for-bed',
  'too-large-for-sheet',
  'too-few-pixels',
]);
/** Least width offered, tenths of a mm. */
const LEAST_TENTHS = 10;
/** Reasons that another finish answers. */
const OF_FINISH: ReadonlySet<ReasonCode> = new Set([
  'hand-too-thick',
  'gloss-out-of-bounds',
  'wash-life-too-short',
  'breathability-too-low',
]);

/**
 * The nearest changes that would make a print possible, nearest first: each alone is enough for at least one method,
 * except where two things are wrong with every method; then each answers one of them.
 */
export function nearestChanges(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: PrintCandidates,
): Reason[] {
  const asked = line.line.method;
  const open = print.byMethod.filter(
    ({ method }) => asked === undefined || catalog.methods[method]!.id === asked,
  );
  // The methods that fail for the fewest grounds are the nearest to fit.
  const ranked = [...open].sort((one, other) => groundsOf(one).size - groundsOf(other).size);
  const changes: Reason[] = [];
  const add = (change: Reason | undefined): void => {
    if (change !== undefined && !changes.some((known) => known.code === change.code)) changes.push(change);
  };
  const answers = (enough: boolean): void => {
    for (const candidate of ranked)
      for (const code of allCodes(print, candidate))
        add(answer(catalog, line, print, candidate, code, enough));
  };
  answers(true);
  const otherFits = print.byMethod.some(({ routed }) => routed !== undefined);
  if (asked !== undefined && print.reasons.length === 0 && otherFits)
    add(reason('method-not-asked', { asked }, print.print.at));
  if (changes.length > 0) return changes;
  // Several things are wrong with every method: what mends one of them.
  answers(false);
  if (asked !== undefined) add(reason('method-not-asked', { asked }, print.print.at));
  return changes;
}

function groundsOf({ reasons }: Candidate): ReadonlySet<ReasonCode> {
  return new Set(reasons?.map(({ code }) => code));
}

function allCodes(print: PrintCandidates, candidate: Candidate): ReasonCode[] {
  return [...new Set([...print.reasons, ...(candidate.reasons ?? [])].map(({ code }) => code))];
}

function answer(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  { print }: PrintCandidates,
  candidate: Candidate,
  code: ReasonCode,
  enough: boolean,
): Reason | undefined {
  const method = catalog.methods[candidate.method]!;
  if (TOO_LARGE.has(code)) {
    const place = code === 'off-the-face' || code === 'in-keep-out';
    const moved = place ? ontoFace(line, print) : undefined;
    if (moved !== undefined && code === 'off-the-face') return moved;
    const smaller = makeSmaller(catalog, line, print, method);
    if (code === 'too-few-pixels')
      return smaller && keepsLines(print, method, smaller) ? smaller : sharperFile(print, method);
    return smaller ?? moved ?? (place ? smallerElsewhere(line, print) : undefined);
  }
  if (OF_FINISH.has(code)) return otherFinish(catalog, line, print, candidate.method, enough);
  switch (code) {
    case 'surface-unfit':
      return otherFace(catalog, line, print, enough ? undefined : method);
    case 'line-too-thin':
      if (print.strokeMm !== undefined) return largerLetters(line, print, method);
      return reason('thicken-lines', { toMm: method.limits.thinnestLineMm }, print.at);
    case 'gap-too-thin':
      return reason('widen-gaps', { toMm: method.limits.thinnestGapMm }, print.at);
    case 'fiber-unfit':
      return otherBlank(catalog, line, print, candidate.method);
    case 'cloth-too-dark':
    case 'cloth-too-light':
      return otherColor(line, print, method);
    case 'too-few-pieces':
      return reason('more-pieces', { pieces: method.limits.pieces!.least }, print.at);
    case 'too-many-pieces':
      return reason('fewer-pieces', { pieces: method.limits.pieces!.most! }, print.at);
    case 'soft-alpha-lost':
      return reason('firm-up-soft-alpha', {}, print.at);
    default:
      return undefined;
  }
}

/** As high and wide as gives the thinnest stroke what the method needs: both grow alike, so no name is set narrower. */
function largerLetters(line: ResolvedLine, print: Print, method: Method): Reason {
  const { capHeightMm, widthMm } = line.line.names!;
  const times = method.limits.thinnestLineMm / print.strokeMm!;
  const tenthUp = (mm: number): number => Math.ceil(mm * times * 10 - 1e-6) / 10;
  return reason('larger-letters', { capHeightMm: tenthUp(capHeightMm), widthMm: tenthUp(widthMm) }, print.at);
}

/** The first blank, in the shop's order, with a face of the same kind and the fibers the method needs. */
function otherBlank(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  method: number,
): Reason | undefined {
  const limits = catalog.methods[method]!;
  for (const blank of catalog.blanks.values()) {
    if (blank === line.blank || fiberLimit(print, limits, method, blank) !== undefined) continue;
    if ([...blank.faces.values()].some(({ surface }) => limits.limits.surfaces.includes(surface)))
      return reason('use-other-blank', { blank: blank.blank.id }, print.at);
  }
  return undefined;
}

/** The nearest place on its face that takes the print as large as it is, on every size of the line. */
function ontoFace(line: ResolvedLine, print: Print): Reason | undefined {
  const areas = line.sizes.map((size) => areaOf(print.face, size));
  const spareX = (Math.min(...areas.map(({ widthMm }) => widthMm)) - print.boxWidthMm) / 2;
  const spareY = Math.min(...areas.map(({ heightMm }) => heightMm)) - print.boxHeightMm;
  if (spareX < 0 || spareY < 0) return undefined;
  const top = print.boxHeightMm / 2;
  const xMm = Math.max(-spareX, Math.min(spareX, print.xMm));
  const yMm = Math.max(top, Math.min(top + spareY, print.yMm));
  const free = (at: Print): boolean =>
    faceLimit(at, line.sizes) === undefined && keepOutLimits(at).length === 0;
  const there = { ...print, xMm, yMm };
  const moved = free(there) ? there : clearOfKeepOuts(there, { spareX, top, spareY }).find(free);
  return moved && reason('move-onto-face', { xMm: moved.xMm, yMm: moved.yMm }, print.at);
}

/** The print beside, above and below each keep-out of its face, the nearest first. */
function clearOfKeepOuts(
  print: Print,
  { spareX, top, spareY }: { readonly spareX: number; readonly top: number; readonly spareY: number },
): Print[] {
  const [halfWidth, halfHeight] = [print.boxWidthMm / 2, print.boxHeightMm / 2];
  const within = (least: number, most: number) => (mm: number) => mm >= least && mm <= most;
  const xs = [print.xMm];
  const ys = [print.yMm];
  for (const { xMm, yMm, widthMm, heightMm } of print.face.keepOuts) {
    xs.push(xMm - halfWidth, xMm + widthMm + halfWidth);
    ys.push(yMm - halfHeight, yMm + heightMm + halfHeight);
  }
  const places = xs
    .filter(within(-spareX, spareX))
    .flatMap((xMm) => ys.filter(within(top, top + spareY)).map((yMm) => ({ ...print, xMm, yMm })));
  const far = ({ xMm, yMm }: Print): number => Math.hypot(xMm - print.xMm, yMm - print.yMm);
  return places.sort((one, other) => far(one) - far(other));
}

/** Where a print has no place as it is: the largest width, to a tenth of a mm, with which it has one elsewhere on the face. */
function smallerElsewhere(line: ResolvedLine, print: Print): Reason | undefined {
  const most = largestTenths(Math.floor(print.widthMm * 10), (tenths) => {
    return ontoFace(line, scaledTo(print, tenths / 10)) !== undefined;
  });
  return smallerTo(print, most);
}

/** Unless that is no smaller, or too small to be offered. */
function smallerTo(print: Print, tenths: number): Reason | undefined {
  return tenths >= LEAST_TENTHS && tenths < print.widthMm * 10 - 0.001
    ? reason('make-smaller', { widthMm: tenths / 10 }, print.at)
    : undefined;
}

/** The largest whole number up to `most` that fits, where every smaller one fits too; 0 when none does. */
function largestTenths(most: number, fits: (tenths: number) => boolean): number {
  if (most > 0 && fits(most)) return most;
  let low = 0;
  let high = most;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** The largest width, to a tenth of a mm, at which face, keep-outs, bed, sheet and pixels all allow the print. */
function makeSmaller(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  method: Method,
): Reason | undefined {
  const variant = line.finish.variants[catalog.methodIndex.get(method.id)!]!;
  const steps = [...method.steps, ...variant.treatments.flatMap((treatment) => treatment.steps)];
  const fits = (tenths: number): boolean => {
    const small = scaledTo(print, tenths / 10);
    if (faceLimit(small, line.sizes) !== undefined || keepOutLimits(small).length > 0) return false;
    if (!method.limits.surfaces.includes(print.face.surface)) return true;
    if (sheetLimit(small, method.consumables) !== undefined) return false;
    return stationChoice(small, steps, line.sizes, catalog.stations).stations !== undefined;
  };
  let high = Math.floor(print.widthMm * 10);
  // Fewer pixels to the inch only come with a larger print.
  const px = print.artwork?.facts.inkBox?.width;
  if (px !== undefined && print.artwork?.source?.kind !== 'svg' && print.artwork?.source?.kind !== 'pdf')
    high = Math.min(high, Math.floor((10 * px * 25.4) / method.limits.leastDpi));
  // Smaller never fits worse: each print lies within every larger one about the same center.
  return smallerTo(print, largestTenths(high, fits));
}

function scaledTo(print: Print, widthMm: number): Print {
  const scale = widthMm / print.widthMm;
  const heightMm = print.heightMm * scale;
  const [halfWidth, halfHeight] = rotatedHalfSize(widthMm, heightMm, print.angleDeg);
  return { ...print, widthMm, heightMm, boxWidthMm: 2 * halfWidth, boxHeightMm: 2 * halfHeight };
}

/** Whether strokes and gaps that are wide enough now still are when the print is smaller. */
function keepsLines(print: Print, method: Method, { params }: Reason): boolean {
  const times = (params['widthMm'] as number) / print.widthMm;
  const mmPerPx = print.mmPerPx * times;
  return lineLimits(print, method).length > 0 || lineLimits({ ...print, mmPerPx }, method).length === 0;
}

function sharperFile(print: Print, method: Method): Reason {
  const widthPx = Math.ceil((print.widthMm * method.limits.leastDpi) / 25.4);
  return reason('sharper-file', { widthPx }, print.at);
}

/** The first finish, in the shop's order, in which the method fits, or at least keeps the finish's bounds. */
function otherFinish(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  method: number,
  enough: boolean,
): Reason | undefined {
  for (const finish of catalog.finishes.values()) {
    if (finish === line.finish) continue;
    const fits = enough
      ? candidateFor(catalog, withFinish(line, finish), print, method).routed !== undefined
      : finish.variants[method]!.misses.length === 0;
    if (fits) return reason('use-other-finish', { finish: finish.finish.id }, print.at);
  }
  return undefined;
}

/**
 * The first face of the blank that takes the print at its size, centered, by any method; or, where the surface is not
 * all that is wrong, the first whose surface the method takes.
 */
function otherFace(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  surfaceOf: Method | undefined,
): Reason | undefined {
  for (const face of line.blank.faces.values()) {
    if (face === print.face) continue;
    if (surfaceOf?.limits.surfaces.includes(face.surface))
      return reason('use-other-face', { face: face.id }, print.at);
    if (surfaceOf !== undefined) continue;
    const least = line.sizes
      .map((size) => areaOf(face, size))
      .reduce((one, other) => (one.heightMm * one.widthMm < other.heightMm * other.widthMm ? one : other));
    const moved: Print = { ...print, face, xMm: 0, yMm: least.heightMm / 2 };
    if (faceLimit(moved, line.sizes) !== undefined || keepOutLimits(moved).length > 0) continue;
    const fits = catalog.methods.some(
      (_, index) => candidateFor(catalog, line, moved, index).routed !== undefined,
    );
    if (fits) return reason('use-other-face', { face: face.id }, print.at);
  }
  return undefined;
}

/** The color of the blank nearest to the one chosen whose lightness the method takes. */
function otherColor(line: ResolvedLine, print: Print, method: Method): Reason | undefined {
  const { least, most } = method.limits.clothLightness!;
  let best: { color: string; distance: number } | undefined;
  for (const { color, lab } of line.blank.cloths.values()) {
    if (lab[0] < least || lab[0] > most) continue;
    const distance = ciede2000(lab, line.cloth.lab);
    if (best === undefined || distance < best.distance) best = { color: color.id, distance };
  }
  return best && reason('use-other-color', { color: best.color }, print.at);
}
