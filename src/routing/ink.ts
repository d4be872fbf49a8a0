import { ciede2000 } from '../artwork/color/ciede2000.ts';
import { rgbOfHex } from '../artwork/color/hex.ts';
import { labOfHex, labOfRgb } from '../artwork/color/lab.ts';
import { separate, whiteFor } from '../artwork/color/separation.ts';
import type { Cloth } from '../catalog/compile.ts';
import type { ArtworkFacts } from '../contract/index.ts';

/** Ink by channel, in whatever unit of area it is summed over. */
export type InkSums = {
  readonly c: number;
  readonly m: number;
  readonly y: number;
  readonly k: number;
  /** white, as if it were wanted everywhere on a cloth that is not white. */
  readonly w: number;
};

/** An ink closer than this to the cloth (CIEDE2000) is left to the cloth. */
const SAME_AS_CLOTH = 2.3;

/** Quotes ask for the same few artworks on the same few cloths again and again. */
const cache = new WeakMap<ArtworkFacts, Map<string, InkSums>>();

/** Ink of an artwork on a cloth, summed over its pixels; groups that equal the cloth need none. */
export function inkSumsOn(facts: ArtworkFacts, cloth: Cloth): InkSums {
  let byCloth = cache.get(facts);
  if (byCloth === undefined) {
    byCloth = new Map();
    cache.set(facts, byCloth);
  }
  const { hex } = cloth.color;
  let sums = byCloth.get(hex);
  if (sums === undefined) {
    const total = { c: 0, m: 0, y: 0, k: 0, w: 0 };
    for (const group of facts.colors) {
      if (ciede2000(labOfHex(group.hex), cloth.lab) < SAME_AS_CLOTH) continue;
      total.c += group.cSum;
      total.m += group.mSum;
      total.y += group.ySum;
      total.k += group.kSum;
      total.w += group.wSum;
    }
    sums = total;
    byCloth.set(hex, sums);
  }
  return sums;
}

/** Ink of one solid color, per unit of area. */
export function inksOfHex(hex: string): InkSums {
  const [red, green, blue] = rgbOfHex(hex);
  return { ...separate(red, green, blue), w: whiteFor(labOfRgb([red, green, blue])[0]) };
}
