import type { ChoiceModel } from './model.ts';
import { isBetter, type Objective, type Score, scoreOf } from './objective.ts';
import { RunningTotals } from './running-totals.ts';

/** A choice with its score: option index by slot. */
export type Scored = { readonly chosen: readonly number[]; readonly score: Score };

/**
 * Tries every choice and keeps the best that keeps the capacities, goes together and is accepted. `accept` is asked
 * only of choices better than the best so far.
 */
export function bestOfAll(
  model: ChoiceModel,
  objective: Objective,
  capacityMs: readonly number[] | undefined,
  accept: ((chosen: readonly number[]) => boolean) | undefined,
): Scored | undefined {
  const { slots, apart } = model;
  const tally = new RunningTotals(model);
  const chosen = new Array<number>(slots.length).fill(0);
  let best: Scored | undefined;
  const visit = (slot: number): void => {
    if (slot === slots.length) {
      const cost = tally.settle();
      if (capacityMs !== undefined && !within(tally.loads, capacityMs)) return;
      const score = scoreOf(objective, cost, tally.loads, tally.methods);
      if (best !== undefined && !isBetter(score, best.score)) return;
      if (accept !== undefined && !accept(chosen)) return;
      best = { chosen: [...chosen], score };
      return;
    }
    const { options, line } = slots[slot]!;
    for (let j = 0; j < options.length; j++) {
      const option = options[j]!;
      let together = true;
      for (let before = slot - 1; before >= 0 && slots[before]!.line === line; before--)
        if (apart[option.method]![slots[before]!.options[chosen[before]!]!.method]!) together = false;
      if (!together) continue;
      chosen[slot] = j;
      tally.put(slot, j);
      visit(slot + 1);
      tally.remove(slot, j);
    }
  };
  visit(0);
  return best;
}

/** Loads within capacities, but for the rounding of sums. */
export function within(loads: ArrayLike<number>, capacityMs: readonly number[]): boolean {
  for (let s = 0; s < loads.length; s++) if (loads[s]! > capacityMs[s]! + 1e-3) return false;
  return true;
}
