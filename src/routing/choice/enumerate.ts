import { clashes } from './clashes.ts';
import type { ChoiceModel } from './model.ts';
import { isBetter, type Objective, type Score, scoreOf, within } from './objective.ts';
import { RunningTotals } from './running-totals.ts';

/** A choice (option index by slot) with its score. */
export type ScoredChoice = { readonly chosen: readonly number[]; readonly score: Score };

/**
 * Tries every combination and keeps the best that is compatible, within capacities and accepted. `accept` is called only
 * for choices better than the best so far.
 */
export function enumerateBest(
  model: ChoiceModel,
  objective: Objective,
  capacityMs: readonly number[] | undefined,
  accept: ((chosen: readonly number[]) => boolean) | undefined,
): ScoredChoice | undefined {
  const { slots } = model;
  const totals = new RunningTotals(model);
  const chosen = new Array<number>(slots.length).fill(0);
  let best: ScoredChoice | undefined;
  const visit = (slot: number): void => {
    if (slot === slots.length) {
      const cost = totals.recompute();
      if (capacityMs !== undefined && !within(totals.loads, capacityMs)) return;
      const score = scoreOf(objective, cost, totals.loads, totals.methods);
      if (best !== undefined && !isBetter(score, best.score)) return;
      if (accept !== undefined && !accept(chosen)) return;
      best = { chosen: [...chosen], score };
      return;
    }
    const { options } = slots[slot]!;
    for (let option = 0; option < options.length; option++) {
      if (clashes(model, chosen, slot, option, slot)) continue;
      chosen[slot] = option;
      totals.add(slot, option);
      visit(slot + 1);
      totals.remove(slot, option);
    }
  };
  visit(0);
  return best;
}
