import { type Channels, coverageOn, labOfHex, rgbOfHex, separate, whiteFor } from '../../artwork/index.ts';
import type { Cloth } from '../../catalog/compile.ts';
import type { ArtworkFacts } from '../../contract/index.ts';
import { memoByKey } from '../../memo-by-key.ts';
import { TextCache } from '../../text-cache.ts';

/** By the cloth's hex color. A shop's catalog has fewer colors than this. */
const inkByCloth = memoByKey((_: ArtworkFacts) => new TextCache<Channels>(256));

/** Ink of an artwork on a cloth, summed over its pixels. White is counted as if it were printed on every cloth but white. */
export function inkSumsOn(facts: ArtworkFacts, { color }: Cloth): Channels {
  return inkByCloth(facts).get(color.hex, (hex) => coverageOn(facts, hex).px);
}

/** Ink of one solid color, per unit of area. */
export function inksOfHex(hex: string): Channels {
  const [red, green, blue] = rgbOfHex(hex);
  return { ...separate(red, green, blue), w: whiteFor(labOfHex(hex)[0]) };
}
