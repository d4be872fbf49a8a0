import type { Choice, ChooseOptions } from './choice.ts';
import { enumerateBest } from './enumerate.ts';
import { type ChoiceModel, outcomeOf } from './model.ts';
import type { Objective } from './objective.ts';
import { searchBest } from './search/search.ts';

/** Up to this many combinations are all tried. */
const ENUMERATION_LIMIT = 1024;

/**
 * Chooses a method for every slot: up to 1,024 combinations are all tried, more are searched by branch and bound.
 *
 * @returns undefined when no choice is compatible, within the capacities and accepted
 */
export function choose(
  model: ChoiceModel,
  objective: Objective,
  options: ChooseOptions = {},
): Choice | undefined {
  if (!isEnumerable(model)) return searchBest(model, objective, options);
  const best = enumerateBest(model, objective, options.capacityMs, options.accept);
  return best && { ...best, outcome: outcomeOf(model, best.chosen), gap: 0 };
}

/** Whether all combinations of this model are tried. */
export function isEnumerable(model: ChoiceModel): boolean {
  return !hasMoreCombinations(model, ENUMERATION_LIMIT);
}

/** Whether there are more combinations of options than `limit`. */
export function hasMoreCombinations({ slots }: ChoiceModel, limit: number): boolean {
  let combinations = 1;
  for (const { options } of slots) combinations = Math.min(combinations * options.length, limit + 1);
  return combinations > limit;
}
