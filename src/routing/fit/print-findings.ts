import { findFindings } from '../../artwork/index.ts';
import type { Blank, Method } from '../../catalog/index.ts';
import type { ArtworkFacts, Finding } from '../../contract/index.ts';
import { memoByKey } from '../../memo-by-key.ts';
import { TextCache } from '../../text-cache.ts';
import type { Print } from './print.ts';

/**
 * Findings take long to work out, so they are kept by artwork, methods and the text of all else. The methods are keyed as
 * an object, since another version of the catalog may give the same ids other limits.
 */
const findingsByMethods = memoByKey((_: ArtworkFacts) =>
  memoByKey((_: readonly Method[]) => new TextCache<readonly Finding[]>(64)),
);

/** One list for each method, so that its findings are found again. */
const listOf = memoByKey((method: Method): readonly Method[] => [method]);

/** What the artwork check notices of a print on a cloth, judged for one method. */
export function findingsForMethod(
  print: Print,
  clothHex: string,
  blank: Blank,
  method: Method,
): readonly Finding[] {
  return findingsFor(print, clothHex, blank, listOf(method));
}

/** What the artwork check notices of a print on a cloth, judged for all methods of a list. Pass the same list each time. */
export function findingsFor(
  { artwork, widthMm }: Print,
  clothHex: string,
  blank: Blank,
  methods: readonly Method[],
): readonly Finding[] {
  if (artwork === undefined) return [];
  const { facts, source } = artwork;
  const breathes = !blank.use.includes('drinkware');
  const key = `${clothHex} ${widthMm} ${breathes} ${source?.kind ?? ''}`;
  return findingsByMethods(facts)(methods).get(key, () =>
    findFindings({
      facts,
      source,
      clothHex,
      placedWidthMm: widthMm,
      methods: methods.map(({ id, limits }) => ({ id, ...limits })),
      breathes,
    }),
  );
}
