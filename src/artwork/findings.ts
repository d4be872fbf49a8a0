import type { Finding } from '../contract/facts.ts';
import { backgroundBox, lightRim, outOfGamut, vanishes } from './findings/color.ts';
import { thinGaps, thinLines, tooFewPixels } from './findings/detail.ts';
import {
  type FindingInput,
  finding,
  forAllMethods,
  type PlacedArtwork,
  SEVERITY_RANK,
} from './findings/finding.ts';
import { largeSolid, softAlpha } from './findings/ink.ts';
import { extremeShape, mostlyEmpty } from './findings/shape.ts';
import { sourceFindings } from './findings/source.ts';

export type { FindingInput } from './findings/finding.ts';

/**
 * What the artwork check notices about an artwork at a printed size on a cloth, worst first, with the mends that answer
 * it. Pure in its input; limits come from the methods alone.
 *
 * @throws RangeError when `placedWidthMm` is not over 0 or a color is not written `#rrggbb`.
 */
export function findFindings(input: FindingInput): Finding[] {
  const { facts, methods, placedWidthMm } = input;
  if (!(placedWidthMm > 0)) throw new RangeError(`placedWidthMm is ${placedWidthMm}; it must be over 0`);
  const notes = sourceFindings(input.source, methods);
  if (facts.inkBox === null)
    return [finding('nothing-to-print', forAllMethods(methods, 'stops'), null, {}, []), ...notes];
  const mmPerPx = placedWidthMm / facts.inkBox.width;
  const seen: PlacedArtwork = { ...input, inkBox: facts.inkBox, mmPerPx };
  const found = [
    tooFewPixels(seen),
    thinLines(seen),
    thinGaps(seen),
    softAlpha(seen),
    backgroundBox(seen),
    vanishes(seen),
    lightRim(seen),
    outOfGamut(seen),
    largeSolid(seen),
    mostlyEmpty(seen),
    extremeShape(seen),
    ...notes,
  ].filter((one) => one !== null);
  return found.sort((one, other) => SEVERITY_RANK[other.worst] - SEVERITY_RANK[one.worst]);
}
