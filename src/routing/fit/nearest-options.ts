import { ciede2000 } from '../../artwork/index.ts';
import { areaOf, type CompiledCatalog } from '../../catalog/compile.ts';
import type { Method } from '../../catalog/index.ts';
import { type Reason, reason } from '../../contract/index.ts';
import { candidateFor } from './candidates.ts';
import { faceLimit, keepOutLimits } from './face-limits.ts';
import { fiberLimit } from './limits.ts';
import type { Print } from './print.ts';
import { type ResolvedLine, withFinish } from './resolve-slip.ts';

/** Suggests the first blank, in the shop's order, with a face of the same kind and the fibers that the method needs. */
export function otherBlank(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  methodIndex: number,
): Reason | undefined {
  const method = catalog.methods[methodIndex]!;
  for (const blank of catalog.blanks.values()) {
    if (blank === line.blank || fiberLimit(print, method, methodIndex, blank) !== undefined) continue;
    if ([...blank.faces.values()].some(({ surface }) => method.limits.surfaces.includes(surface)))
      return reason('use-other-blank', { blank: blank.blank.id }, print.at);
  }
  return undefined;
}

/**
 * Suggests the first finish, in the shop's order, in which the method fits.
 *
 * @param alone false: it is enough that the method keeps the bounds of the finish
 */
export function otherFinish(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  print: Print,
  methodIndex: number,
  alone: boolean,
): Reason | undefined {
  for (const finish of catalog.finishes.values()) {
    if (finish === line.finish) continue;
    const fits = alone
      ? candidateFor(catalog, withFinish(line, finish), print, methodIndex).routed !== undefined
      : finish.variants[methodIndex]!.misses.length === 0;
    if (fits) return reason('use-other-finish', { finish: finish.finish.id }, print.at);
  }
  return undefined;
}

/** Suggests the first face of the blank that takes the print at its size, centered, by any method. */
export function otherFace(catalog: CompiledCatalog, line: ResolvedLine, print: Print): Reason | undefined {
  for (const face of line.blank.faces.values()) {
    if (face === print.face) continue;
    const smallest = line.sizes
      .map((size) => areaOf(face, size))
      .reduce((one, other) => (one.heightMm * one.widthMm < other.heightMm * other.widthMm ? one : other));
    const moved: Print = { ...print, face, xMm: 0, yMm: smallest.heightMm / 2 };
    if (faceLimit(moved, line.sizes) !== undefined || keepOutLimits(moved).length > 0) continue;
    const fits = catalog.methods.some(
      (_, index) => candidateFor(catalog, line, moved, index).routed !== undefined,
    );
    if (fits) return reason('use-other-face', { face: face.id }, print.at);
  }
  return undefined;
}

/** Suggests the first other face of the blank whose surface the method takes. */
export function otherSurface(line: ResolvedLine, print: Print, method: Method): Reason | undefined {
  for (const face of line.blank.faces.values())
    if (face !== print.face && method.limits.surfaces.includes(face.surface))
      return reason('use-other-face', { face: face.id }, print.at);
  return undefined;
}

/** Suggests the color of the blank that is nearest to the one chosen and whose lightness the method takes. */
export function otherColor(line: ResolvedLine, print: Print, method: Method): Reason | undefined {
  const { least, most } = method.limits.clothLightness!;
  let nearest: { color: string; distance: number } | undefined;
  for (const { color, lab } of line.blank.cloths.values()) {
    if (lab[0] < least || lab[0] > most) continue;
    const distance = ciede2000(lab, line.cloth.lab);
    if (nearest === undefined || distance < nearest.distance) nearest = { color: color.id, distance };
  }
  return nearest && reason('use-other-color', { color: nearest.color }, print.at);
}
