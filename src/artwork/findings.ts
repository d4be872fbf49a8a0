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
 * Checks an artwork at a printed size on a cloth. Returns the findings, worst first, with remedies that fix them. All
 * limits come from the methods.
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
  const placed: PlacedArtwork = { ...input, inkBox: facts.inkBox, mmPerPx };
  const findings = [
    tooFewPixels(placed),
    thinLines(placed),
    thinGaps(placed),
    softAlpha(placed),
    backgroundBox(placed),
    vanishes(placed),
    lightRim(placed),
    outOfGamut(placed),
    largeSolid(placed),
    mostlyEmpty(placed),
    extremeShape(placed),
    ...notes,
  ].filter((one) => one !== undefined);
  return findings.sort((one, other) => SEVERITY_RANK[other.worst] - SEVERITY_RANK[one.worst]);
}
