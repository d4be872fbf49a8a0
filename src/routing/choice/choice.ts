import type { Outcome } from './model.ts';
import type { Objective, Score } from './objective.ts';

/** What binds a choice besides the objective. */
export type ChooseOptions = {
  /** most load of each station, ms; absent: no limit. */
  readonly capacityMs?: readonly number[] | undefined;
  /** called only for choices better than the best so far; false refuses one (its day is too late). */
  readonly accept?: ((chosen: readonly number[]) => boolean) | undefined;
  /** options to look at before giving up. Default `WORK_LIMIT`. */
  readonly workLimit?: number | undefined;
};

/** The best choice: option index by slot. */
export type Choice = {
  readonly chosen: readonly number[];
  readonly outcome: Outcome;
  readonly score: Score;
  /** how much better the optimum may be, as a share of the objective's value; 0 when this is proved to be the optimum. */
  readonly gap: number;
};

/**
 * The gap, as in `Choice.gap`, of a choice made under conditions, measured against the best choice without them.
 *
 * @param best for the same objective; may have a gap of its own
 */
export function gapFrom(objective: Objective, choice: Choice, best: Choice): number {
  if (objective.kind === 'best-rate' && choice.score[0] < 0)
    return Math.max(0, ((1 + best.gap) * best.score[0]) / choice.score[0] - 1);
  // A choice that earns nothing was made by its cost.
  const value = ({ score, outcome }: Choice): number =>
    objective.kind === 'least-load' ? score[0] : outcome.cost;
  const least = Math.max(0, (1 - best.gap) * value(best));
  return value(choice) === 0 ? 0 : Math.max(0, 1 - least / value(choice));
}
