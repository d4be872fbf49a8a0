import type { ArtworkFacts, ColorGroup } from '../contract/facts.ts';
import { memoByKey } from '../memo-by-key.ts';
import { ciede2000 } from './color/ciede2000.ts';
import { type Lab, labOfHex } from './color/lab.ts';

/** Ink closer than this to the cloth (CIEDE2000) is not printed: the just noticeable difference. */
export const SAME_AS_CLOTH_DELTA_E = 2.3;
/** Ink closer than this to the cloth (CIEDE2000) is hardly visible on it. Our choice; no published figure. */
export const VANISHING_DELTA_E = 8;

/** A number for each ink. */
export type Channels = {
  readonly c: number;
  readonly m: number;
  readonly y: number;
  readonly k: number;
  readonly w: number;
};

/** Ink used by an artwork on a cloth. */
export type Coverage = {
  /** sum over all pixels; 1 is one pixel fully covered. */
  readonly px: Channels;
  /** the same as a share of the ink box, 0 to 1. */
  readonly share: Channels;
};

export type CoverageOptions = {
  /** white is printed if the cloth's L* is below this: 100 (default) on every cloth but white, 0 never. */
  readonly whiteBelowLightness?: number;
  /** ink closer than this to the cloth (CIEDE2000) is not printed; default `SAME_AS_CLOTH_DELTA_E`. */
  readonly sameDeltaE?: number;
};

const NONE: Channels = { c: 0, m: 0, y: 0, k: 0, w: 0 };

/**
 * How much of each ink an artwork takes on a cloth. The white beneath is `alpha * whiteFor(L*)`. No ink is printed where
 * it has the color of the cloth, and no white on white cloth.
 *
 * @param clothHex `#rrggbb`.
 * @throws RangeError when `clothHex` is not written `#rrggbb`.
 */
export function coverageOn(facts: ArtworkFacts, clothHex: string, options: CoverageOptions = {}): Coverage {
  const { whiteBelowLightness = 100, sameDeltaE = SAME_AS_CLOTH_DELTA_E } = options;
  if (facts.inkBox === null) return { px: NONE, share: NONE };
  const cloth = labOfHex(clothHex);
  const white = cloth[0] < whiteBelowLightness && ciede2000(cloth, [100, 0, 0]) >= sameDeltaE;
  const labs = labsOf(facts.colors);
  const px = { c: 0, m: 0, y: 0, k: 0, w: 0 };
  for (let index = 0; index < labs.length; index++) {
    if (isNear(labs[index]!, cloth, sameDeltaE)) continue;
    const group = facts.colors[index]!;
    px.c += group.cSum;
    px.m += group.mSum;
    px.y += group.ySum;
    px.k += group.kSum;
    if (white) px.w += group.wSum;
  }
  const area = facts.inkBox.width * facts.inkBox.height;
  return { px, share: { c: px.c / area, m: px.m / area, y: px.y / area, k: px.k / area, w: px.w / area } };
}

/**
 * Share of the ink, 0 to 1, that is closer to the cloth than `deltaE` and so hardly visible. A background is left out,
 * since it is a finding of its own.
 */
export function vanishingShare(
  facts: ArtworkFacts,
  clothHex: string,
  deltaE: number = VANISHING_DELTA_E,
): number {
  const cloth = labOfHex(clothHex);
  const background = facts.background === null ? undefined : labOfHex(facts.background.hex);
  const labs = labsOf(facts.colors);
  let all = 0;
  let vanished = 0;
  for (let index = 0; index < labs.length; index++) {
    const lab = labs[index]!;
    if (background !== undefined && isNear(lab, background, VANISHING_DELTA_E)) continue;
    const { alphaSum } = facts.colors[index]!;
    all += alphaSum;
    if (isNear(lab, cloth, deltaE)) vanished += alphaSum;
  }
  return all === 0 ? 0 : vanished / all;
}

/** Share of the edges of the ink, 0 to 1, that is closer to the cloth than `deltaE`: where its shape is not visible. */
export function vanishingEdgeShare(
  facts: ArtworkFacts,
  clothHex: string,
  deltaE: number = VANISHING_DELTA_E,
): number {
  const cloth = labOfHex(clothHex);
  let share = 0;
  for (const edge of facts.edgeColors) if (isNear(labOfHex(edge.hex), cloth, deltaE)) share += edge.share;
  return Math.min(1, share);
}

/** The lightness term alone is a lower bound of CIEDE2000: its weight is at most 1.747. */
const MAX_LIGHTNESS_WEIGHT = 1.75;

function isNear(one: Lab, other: Lab, deltaE: number): boolean {
  if (Math.abs(one[0] - other[0]) >= deltaE * MAX_LIGHTNESS_WEIGHT) return false;
  return ciede2000(one, other) < deltaE;
}

/** Lab of every group. A quote asks for it many times. */
const labsOf = memoByKey((colors: readonly ColorGroup[]): readonly Lab[] =>
  colors.map((group) => labOfHex(group.hex)),
);
