import { canonicalJson } from '../../src/canonical-json.ts';
import type { SlipLine } from '../../src/contract/index.ts';
import { sha256 } from '../sha256.ts';

/**
 * What a proof is a proof of: everything about a line but how many. With the view and the methods that print it, so that
 * an approved picture is never taken for another.
 */
export function proofSubject(line: SlipLine): string {
  const { counts, id, ...shown } = line;
  return sha256(canonicalJson(shown));
}
