import { areaOf } from '../../catalog/compile.ts';
import { tenth } from '../../figures.ts';
import { EDGE_TOLERANCE_MM, overlapsBox } from '../../geometry.ts';
import type { Print } from './print.ts';
import { type UnfitReason, unfit } from './unfit.ts';

/** Ids of the sizes of a line that have pieces. */
export type Sizes = readonly string[];

/** The rotated print must lie within the printable area of every size that has pieces. The one exceeded most is named. */
export function faceLimit(print: Print, sizes: Sizes): UnfitReason | undefined {
  let worst: UnfitReason | undefined;
  let worstExcess = EDGE_TOLERANCE_MM;
  for (const size of sizes) {
    const area = areaOf(print.face, size);
    const excess = excessOver(print, area.widthMm, area.heightMm);
    if (excess <= worstExcess) continue;
    worstExcess = excess;
    worst = unfit(
      'off-the-face',
      {
        widthMm: tenth(print.boxWidthMm),
        heightMm: tenth(print.boxHeightMm),
        areaWidthMm: area.widthMm,
        areaHeightMm: area.heightMm,
        size,
      },
      print.at,
    );
  }
  return worst;
}

/** How far the rotated print reaches over the edge of an area, mm; 0 or less when it lies within. */
function excessOver(print: Print, areaWidthMm: number, areaHeightMm: number): number {
  const halfWidth = print.boxWidthMm / 2;
  const halfHeight = print.boxHeightMm / 2;
  return Math.max(
    Math.abs(print.xMm) + halfWidth - areaWidthMm / 2,
    halfHeight - print.yMm,
    print.yMm + halfHeight - areaHeightMm,
  );
}

/** Nothing may be printed on seams, rims and the like. The rotated rectangle itself counts, not the box around it. */
export function keepOutLimits(print: Print): UnfitReason[] {
  const reasons: UnfitReason[] = [];
  for (const keepOut of print.face.keepOuts) {
    const { xMm: leftMm, yMm: topMm, widthMm, heightMm } = keepOut;
    const overlaps = overlapsBox(
      [print.xMm, print.yMm],
      print.widthMm,
      print.heightMm,
      print.angleDeg,
      { leftMm, topMm, widthMm, heightMm },
      EDGE_TOLERANCE_MM,
    );
    if (overlaps) reasons.push(unfit('in-keep-out', { keepOut: keepOut.id }, print.at));
  }
  return reasons;
}
