import type { CompiledCatalog } from '../catalog/compile.ts';
import { type QuoteRefusal, type Reason, reason } from '../contract/index.ts';
import type { LineCandidates } from '../routing/build-model.ts';
import { nearestChanges } from '../routing/fit/nearest-changes.ts';
import { findingsFor } from '../routing/fit/print-findings.ts';
import { unfitReasons } from './instead.ts';

/** Why a slip cannot be made, what would make it possible, and what is found in its files. */
export type Refused = Pick<QuoteRefusal, 'reasons' | 'nearest' | 'findings'>;

/** Refuses lines with nothing to print and prints that no method fits; undefined when there are none. */
export function refusalOf(catalog: CompiledCatalog, lines: readonly LineCandidates[]): Refused | undefined {
  const reasons: Reason[] = [];
  const nearest: Reason[] = [];
  for (const { line, prints } of lines) {
    if (prints.length === 0) reasons.push(reason('no-placement', {}, `lines.${line.index}`));
    for (const print of prints) {
      if (print.fit.length > 0) continue;
      reasons.push(reason('no-method-fits', {}, print.print.at), ...print.reasons);
      // Where no method could help, the reasons of each are left out.
      if (print.reasons.length === 0) reasons.push(...unfitReasons(catalog, print, line.line.method));
      nearest.push(...nearestChanges(catalog, line, print));
    }
  }
  if (reasons.length === 0) return undefined;
  return { reasons, nearest, findings: findingsOfAll(catalog, lines) };
}

/** The findings of every print, for all methods. */
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
