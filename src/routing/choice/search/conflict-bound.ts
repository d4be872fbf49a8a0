import type { Slot } from '../model.ts';
import type { ConflictPiece } from './compatible-sets.ts';
import type { OpenOptions } from './open-options.ts';

/**
 * Tightens a bound for a piece on which methods clash: it must be made with one of its compatible sets. Each option's
 * reduced cost becomes that of the best set that has it, and each slot's pick the cheapest option in the best set.
 *
 * @param reducedCosts by slot, by place in its list; changed in place
 * @param picks place in its list, by slot; changed in place
 * @returns what the best set adds to the bound; Infinity when no set is possible
 */
export function conflictBound(
  slots: readonly Slot[],
  piece: ConflictPiece,
  open: OpenOptions,
  reducedCosts: readonly Float64Array[],
  picks: Int32Array,
): number {
  const { compatibleSets: sets } = piece;
  const least = piece.slots.map(() => new Float64Array(sets.length));
  const totals = new Float64Array(sets.length);
  sets.forEach((set, q) => {
    piece.slots.forEach((slot, index) => {
      const { options } = slots[slot]!;
      const list = open[slot]!;
      let best = Number.POSITIVE_INFINITY;
      for (let p = 0; p < list.length; p++)
        if (set[options[list[p]!]!.method]! && reducedCosts[slot]![p]! < best) best = reducedCosts[slot]![p]!;
      least[index]![q] = best;
      totals[q]! += best;
    });
  });
  let bestSet = 0;
  for (let q = 1; q < sets.length; q++) if (totals[q]! < totals[bestSet]!) bestSet = q;
  const added = totals[bestSet]!;
  if (added === Number.POSITIVE_INFINITY) return added;
  piece.slots.forEach((slot, index) => {
    const { options } = slots[slot]!;
    const list = open[slot]!;
    const own = reducedCosts[slot]!;
    let pickCost = Number.POSITIVE_INFINITY;
    for (let p = 0; p < list.length; p++) {
      const { method } = options[list[p]!]!;
      let best = Number.POSITIVE_INFINITY;
      for (let q = 0; q < sets.length; q++)
        if (sets[q]![method]!) best = Math.min(best, totals[q]! - least[index]![q]!);
      if (sets[bestSet]![method]! && own[p]! < pickCost) {
        pickCost = own[p]!;
        picks[slot] = p;
      }
      own[p] = own[p]! + best - added;
    }
  });
  return added;
}
