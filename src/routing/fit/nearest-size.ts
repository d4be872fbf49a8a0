import { areaOf, type CompiledCatalog } from '../../catalog/compile.ts';
import type { Method } from '../../catalog/index.ts';
import { stepsOf } from '../../catalog/treatments.ts';
import { type Reason, reason } from '../../contract/index.ts';
import { rotatedHalfSize } from '../../geometry.ts';
import { faceLimit, keepOutLimits } from './face-limits.ts';
import { hasPixels } from './limits.ts';
import type { Print } from './print.ts';
import type { ResolvedLine } from './resolve-slip.ts';
import { sheetLimit, stationChoice } from './station-choice.ts';

/** Smallest width suggested, tenths of a mm. */
const LEAST_TENTHS = 10;

/** Suggests the nearest place on the face that takes the print at its size, on every size of the line. */
export function moveOntoFace(line: ResolvedLine, print: Print): Reason | undefined {
  const areas = line.sizes.map((size) => areaOf(print.face, size));
  const spareX = (Math.min(...areas.map(({ widthMm }) => widthMm)) - print.boxWidthMm) / 2;
  const spareY = Math.min(...areas.map(({ heightMm }) => heightMm)) - print.boxHeightMm;
  if (spareX < 0 || spareY < 0) return undefined;
  const top = print.boxHeightMm / 2;
  const xMm = Math.max(-spareX, Math.min(spareX, print.xMm));
  const yMm = Math.max(top, Math.min(top + spareY, print.yMm));
  const isFree = (at: Print): boolean => isOnFace(at, line);
  const nearest = { ...print, xMm, yMm };
  const moved = isFree(nearest)
    ? nearest
    : placesBesideKeepOuts(nearest, { spareX, top, spareY }).find(isFree);
  return moved && reason('move-onto-face', { xMm: moved.xMm, yMm: moved.yMm }, print.at);
}

function isOnFace(print: Print, line: ResolvedLine): boolean {
  return faceLimit(print, line.sizes) === undefined && keepOutLimits(print).length === 0;
}

/** The print beside, above and below each keep-out of its face, the nearest first. */
function placesBesideKeepOuts(
  print: Print,
  { spareX, top, spareY }: { readonly spareX: number; readonly top: number; readonly spareY: number },
): Print[] {
  const [halfWidth, halfHeight] = [print.boxWidthMm / 2, print.boxHeightMm / 2];
  const isBetween = (least: number, most: number) => (mm: number) => mm >= least && mm <= most;
  const xs = [print.xMm];
  const ys = [print.yMm];
  for (const { xMm, yMm, widthMm, heightMm } of print.face.keepOuts) {
    xs.push(xMm - halfWidth, xMm + widthMm + halfWidth);
    ys.push(yMm - halfHeight, yMm + heightMm + halfHeight);
  }
  const places = xs
    .filter(isBetween(-spareX, spareX))
    .flatMap((xMm) => ys.filter(isBetween(top, top + spareY)).map((yMm) => ({ ...print, xMm, yMm })));
  const distance = ({ xMm, yMm }: Print): number => Math.hypot(xMm - print.xMm, yMm - print.yMm);
  return places.sort((one, other) => distance(one) - distance(other));
}

/** Suggests the largest width, to a tenth of a mm, at which face, keep-outs, bed, sheet and pixels all allow the print. */
export function makeSmaller(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  method: Method,
): Reason | undefined {
  const variant = line.finish.variants[catalog.methodIndex.get(method.id)!]!;
  const steps = stepsOf(method, variant.treatments);
  const fits = (tenths: number): boolean => {
    const small = scaleTo(print, tenths / 10);
    if (!isOnFace(small, line)) return false;
    if (!method.limits.surfaces.includes(print.face.surface)) return true;
    if (sheetLimit(small, method.consumables) !== undefined) return false;
    return stationChoice(small, steps, line.sizes, catalog.stations).stations !== undefined;
  };
  let most = Math.floor(print.widthMm * 10);
  const px = print.artwork?.facts.inkBox?.width;
  if (px !== undefined && hasPixels(print))
    most = Math.min(most, Math.floor((10 * px * 25.4) / method.limits.leastDpi));
  // A print lies within every larger one about the same center, so a smaller one never fits worse.
  return smallerTo(print, largestThatFits(most, fits));
}

/** Suggests the largest width at which there is a place elsewhere on the face. */
export function makeSmallerElsewhere(line: ResolvedLine, print: Print): Reason | undefined {
  const tenths = largestThatFits(
    Math.floor(print.widthMm * 10),
    (width) => moveOntoFace(line, scaleTo(print, width / 10)) !== undefined,
  );
  return smallerTo(print, tenths);
}

/** Suggests the width, unless it is not smaller or below the minimum. */
function smallerTo(print: Print, tenths: number): Reason | undefined {
  return tenths >= LEAST_TENTHS && tenths < print.widthMm * 10 - 0.001
    ? reason('make-smaller', { widthMm: tenths / 10 }, print.at)
    : undefined;
}

/** The largest whole number up to `most` that fits, given that every smaller one fits too; 0 when none does. */
function largestThatFits(most: number, fits: (tenths: number) => boolean): number {
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

function scaleTo(print: Print, widthMm: number): Print {
  const scale = widthMm / print.widthMm;
  const heightMm = print.heightMm * scale;
  const [halfWidth, halfHeight] = rotatedHalfSize(widthMm, heightMm, print.angleDeg);
  return { ...print, widthMm, heightMm, boxWidthMm: 2 * halfWidth, boxHeightMm: 2 * halfHeight };
}
