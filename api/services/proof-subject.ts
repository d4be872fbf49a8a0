import { canonicalJson } from '../../src/canonical-json.ts';
import type { SlipLine } from '../../src/contract/index.ts';
import { sha256 } from '../sha256.ts';

/** A hash of what a proof shows: everything about a line except its id and its counts. */
export function proofSubject(line: SlipLine): string {
  const { counts, id, ...shown } = line;
  return sha256(canonicalJson(shown));
}
