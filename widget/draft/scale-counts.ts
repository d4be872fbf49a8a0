import { scaleToTotal } from '../../src/largest-remainder.ts';
import { type DraftLine, piecesIn } from './draft.ts';

/** A copy of the line with `count` pieces in all, in the same proportion of sizes (largest remainder method). */
export function scaleCounts(line: DraftLine, count: number): DraftLine {
  return piecesIn(line) === 0 ? line : { ...line, counts: scaleToTotal(line.counts, count) };
}
