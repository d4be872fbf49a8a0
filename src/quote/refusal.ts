import type { CompiledCatalog } from '../catalog/compile.ts';
import { type QuoteRefusal, type Reason, reason } from '../contract/index.ts';
import type { LineCandidates } from '../routing/build-model.ts';
import { nearestChanges } from '../routing/fit/nearest-changes.ts';
import { findingsFor } from '../routing/fit/print-findings.ts';
import { unfitReasons } from './instead.ts';

/** What is said of a slip that cannot be made: why, what would make it possible, and what the files show. */
export type Refused = Pick<QuoteRefusal, 'reasons' | 'nearest' | 'findings'>;

/** Lines with nothing to print, and prints no method fits; undefined when there are none. */
export function refusalOf(catalog: CompiledCatalog, lines: readonly LineCandidates[]): Refused | undefined {
  const reasons: Reason[] = [];
  const nearest: Reason[] = [];
  for (const { line, prints } of lines) {
    if (prints.length === 0) reasons.push(reason('no-placement', {}, `lines.${line.index}`));
    for (const print of prints) {
      if (print.fit.length > 0) continue;
      reasons.push(reason('no-method-fits', {}, print.print.at), ...print.reasons);
      // Where the print itself is wrong, what each method says of it comes second and is left out.
      if (print.reasons.length === 0) reasons.push(...unfitReasons(catalog, print, line.line.method));
      nearest.push(...nearestChanges(catalog, line, print));
    }
  }
  if (reasons.length === 0) return undefined;
  return { reasons, nearest, findings: findingsOfAll(catalog, lines) };
}

/** What the artwork check notices of every print, judged for every method. */
export function findingsOfAll(
  catalog: CompiledCatalog,
  lines: readonly LineCandidates[],
): QuoteRefusal['findings'] {
  return lines.flatMap(({ line, prints }) =>
    prints.flatMap(({ print }) => {
      const findings = findingsFor(print, line.cloth.color.hex, line.blank.blank, catalog.methods);
      return findings.length === 0
        ? []
        : [{ line: line.line.id, placement: print.id, findings: [...findings] }];
    }),
  );
}
