import type { ArtworkFacts, ColorGroup } from '../contract/facts.ts';
import { ciede2000 } from './color/ciede2000.ts';
import { type Lab, labOfHex } from './color/lab.ts';

/** An ink closer than this to the cloth (CIEDE2000) is left to the cloth: what the eye just tells apart. */
export const SAME_AS_CLOTH_DELTA_E = 2.3;
/** An ink closer than this to the cloth (CIEDE2000) will hardly be seen on it. A shop's choice; no published figure. */
export const VANISHING_DELTA_E = 8;

/** One figure for each ink. */
export type Channels = {
  readonly c: number;
  readonly m: number;
  readonly y: number;
  readonly k: number;
  readonly w: number;
};

/** Ink used by an artwork on a cloth. */
export type Coverage = {
  /** sums over all pixels: 1 is one pixel fully covered. */
  readonly px: Channels;
  /** the same as a share of the ink box, 0 to 1. */
  readonly share: Channels;
};

export type CoverageOptions = {
  /** white is printed where the cloth's L* is under this: 100 (default) on every cloth but white, 0 never. */
  readonly whiteBelowLightness?: number;
  /** ink closer than this to the cloth is not printed, CIEDE2000; default `SAME_AS_CLOTH_DELTA_E`. */
  readonly sameDeltaE?: number;
};

const NONE: Channels = { c: 0, m: 0, y: 0, k: 0, w: 0 };

/**
 * How much of each ink an artwork takes on a cloth. White lies beneath as `alpha * whiteFor(L*)`; none of any ink where
 * it would equal the cloth, and no white on a cloth that is white.
 *
 * @param clothHex `#rrggbb`.
 * @throws RangeError when the cloth's color is written otherwise.
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
 * Share of the ink, 0 to 1, that is closer to the cloth than `deltaE`: what will not be seen. A background box does not
 * count, neither as ink nor as vanished: it is another finding.
 */
export function vanishingShare(
  facts: ArtworkFacts,
  clothHex: string,
  deltaE: number = VANISHING_DELTA_E,
): number {
  const cloth = labOfHex(clothHex);
  const ground = facts.background === null ? null : labOfHex(facts.background.hex);
  const labs = labsOf(facts.colors);
  let all = 0;
  let vanished = 0;
  for (let index = 0; index < labs.length; index++) {
    const lab = labs[index]!;
    if (ground !== null && isNear(lab, ground, VANISHING_DELTA_E)) continue;
    const { alphaSum } = facts.colors[index]!;
    all += alphaSum;
    if (isNear(lab, cloth, deltaE)) vanished += alphaSum;
  }
  return all === 0 ? 0 : vanished / all;
}

/** Share of the ink's edges, 0 to 1, that is closer to the cloth than `deltaE`: where its shape is not seen. */
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

/** The lightness term alone is a lower bound: its weight is at most 1.747. */
const MAX_LIGHTNESS_WEIGHT = 1.75;

function isNear(one: Lab, other: Lab, deltaE: number): boolean {
  if (Math.abs(one[0] - other[0]) >= deltaE * MAX_LIGHTNESS_WEIGHT) return false;
  return ciede2000(one, other) < deltaE;
}

const known = new WeakMap<readonly ColorGroup[], readonly Lab[]>();

/** Lab of every group; kept as long as the facts are, since quotes ask again and again. */
function labsOf(colors: readonly ColorGroup[]): readonly Lab[] {
  let labs = known.get(colors);
  if (labs === undefined) {
    labs = colors.map((group) => labOfHex(group.hex));
    known.set(colors, labs);
  }
  return labs;
}
