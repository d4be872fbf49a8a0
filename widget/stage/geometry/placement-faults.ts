import type { Face } from '../../../src/catalog/index.ts';
import type { Position } from './placement-math.ts';
import { intersectsBox, isInsideArea } from './placement-math.ts';
import { smallestArea } from './smallest-area.ts';

/** What is wrong with an artwork's place on its face, for the sizes chosen. */
export type PlacementFaults = {
  readonly isOutside: boolean;
  /** the keep-outs it touches. */
  readonly keepOuts: Face['keepOuts'];
};

/** @param aspect ink height over ink width. */
export function placementFaults(
  position: Position,
  face: Face,
  aspect: number,
  sizes: readonly string[],
): PlacementFaults {
  return {
    isOutside: !isInsideArea(position, aspect, smallestArea(face, sizes)),
    keepOuts: face.keepOuts.filter(({ xMm, yMm, widthMm, heightMm }) =>
      intersectsBox(position, aspect, {
        left: xMm,
        top: yMm,
        right: xMm + widthMm,
        bottom: yMm + heightMm,
      }),
    ),
  };
}

export const isFaulty = ({ isOutside, keepOuts }: PlacementFaults): boolean =>
  isOutside || keepOuts.length > 0;
