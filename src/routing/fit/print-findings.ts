import { findFindings } from '../../artwork/index.ts';
import type { Blank, Method } from '../../catalog/index.ts';
import type { ArtworkFacts, Finding } from '../../contract/index.ts';
import type { Print } from './print.ts';

/** Most placements remembered for an artwork. */
const KEPT = 64;

const cache = new WeakMap<ArtworkFacts, Map<string, readonly Finding[]>>();
const keys = new WeakMap<Method, number>();
let nextKey = 0;

/** What the artwork check notices of a print on a cloth, judged for some methods; remembered, since it takes its time. */
export function findingsOf(
  print: Print,
  clothHex: string,
  blank: Blank,
  methods: readonly Method[],
): readonly Finding[] {
  const { artwork } = print;
  if (artwork === undefined) return [];
  const { facts, source } = artwork;
  let known = cache.get(facts);
  if (known === undefined) {
    known = new Map();
    cache.set(facts, known);
  }
  const breathes = !blank.use.includes('drinkware');
  const key = `${clothHex} ${print.widthMm} ${breathes} ${methods.map(keyOf).join()} ${source?.kind ?? ''}`;
  let findings = known.get(key);
  if (findings === undefined) {
    findings = findFindings({
      facts,
      source,
      clothHex,
      placedWidthMm: print.widthMm,
      methods: methods.map(({ id, limits }) => ({ id, ...limits })),
      breathes,
    });
    if (known.size >= KEPT) known.clear();
    known.set(key, findings);
  }
  return findings;
}

/** A number for a method of this version of the catalog: another version may give the same id other limits. */
function keyOf(method: Method): number {
  let key = keys.get(method);
  if (key === undefined) {
    key = nextKey++;
    keys.set(method, key);
  }
  return key;
}
