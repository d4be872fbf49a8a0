import { type Channels, coverageOn, labOfHex, rgbOfHex, separate, whiteFor } from '../../artwork/index.ts';
import type { Cloth } from '../../catalog/compile.ts';
import type { ArtworkFacts } from '../../contract/index.ts';

/** Most cloths remembered for an artwork; a shop's catalog has fewer. */
const CLOTHS_KEPT = 256;

/** Quotes ask for the same few artworks on the same few cloths again and again. */
const cache = new WeakMap<ArtworkFacts, Map<string, Channels>>();

/** Ink of an artwork on a cloth, summed over its pixels; white as if the method printed it on every cloth but white. */
export function inkSumsOn(facts: ArtworkFacts, cloth: Cloth): Channels {
  let byCloth = cache.get(facts);
  if (byCloth === undefined) {
    byCloth = new Map();
    cache.set(facts, byCloth);
  }
  const { hex } = cloth.color;
  let sums = byCloth.get(hex);
  if (sums === undefined) {
    sums = coverageOn(facts, hex).px;
    if (byCloth.size >= CLOTHS_KEPT) byCloth.clear();
    byCloth.set(hex, sums);
  }
  return sums;
}

/** Ink of one solid color, per unit of area. */
export function inksOfHex(hex: string): Channels {
  const [red, green, blue] = rgbOfHex(hex);
  return { ...separate(red, green, blue), w: whiteFor(labOfHex(hex)[0]) };
}
