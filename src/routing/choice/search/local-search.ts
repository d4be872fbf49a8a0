import { clashes } from '../clashes.ts';
import type { ChoiceModel } from '../model.ts';
import type { RunningTotals } from '../running-totals.ts';

/** Most passes over all slots; two or three are usual. */
const MAX_PASSES = 12;

/**
 * Improves a choice by two kinds of move: another option for one slot, and giving up a set-up by moving every slot that
 * uses it to its next best option. Ends where neither improves it.
 *
 * @param totals holds the choice; holds the improved one afterwards
 * @param chosen option index by slot; changed in place
 * @param evaluate value of what the totals hold, less is better
 * @param workLimit options to look at before stopping
 * @returns options looked at
 */
export function localSearch(
  model: ChoiceModel,
  totals: RunningTotals,
  chosen: number[],
  evaluate: () => number,
  workLimit = Number.POSITIVE_INFINITY,
): number {
  const { slots } = model;
  let work = 0;
  let value = evaluate();
  const improves = (next: number): boolean => next < value - 1e-4 - 1e-13 * Math.abs(value);

  const set = (slot: number, option: number): void => {
    totals.remove(slot, chosen[slot]!);
    chosen[slot] = option;
    totals.add(slot, option);
  };

  /** Moves a slot to its best option that is not excluded; false when there is none. */
  const moveToBest = (slot: number, isExcluded: (option: number) => boolean): boolean => {
    const { options } = slots[slot]!;
    const before = chosen[slot]!;
    let best = -1;
    let bestValue = Number.POSITIVE_INFINITY;
    for (let option = 0; option < options.length; option++) {
      if (isExcluded(option) || clashes(model, chosen, slot, option)) continue;
      set(slot, option);
      work++;
      const next = evaluate();
      if (next < bestValue) {
        bestValue = next;
        best = option;
      }
    }
    set(slot, best < 0 ? before : best);
    return best >= 0;
  };

  for (let pass = 0; pass < MAX_PASSES && work < workLimit; pass++) {
    let improved = false;
    for (let slot = 0; slot < slots.length; slot++) {
      if (slots[slot]!.options.length === 1 || work >= workLimit) continue;
      const before = chosen[slot]!;
      moveToBest(slot, () => false);
      const next = evaluate();
      if (improves(next)) {
        value = next;
        improved = true;
      } else set(slot, before);
    }
    for (const [setUp, users] of sharedSetUps(model, chosen)) {
      if (work >= workLimit) break;
      const before = users.map((slot) => chosen[slot]!);
      const usesSetUp = (slot: number) => (option: number) =>
        slots[slot]!.options[option]!.setUps.includes(setUp);
      let moved = 0;
      while (moved < users.length && moveToBest(users[moved]!, usesSetUp(users[moved]!))) moved++;
      const next = evaluate();
      if (moved === users.length && improves(next)) {
        value = next;
        improved = true;
      } else users.forEach((slot, index) => void set(slot, before[index]!));
    }
    if (!improved) break;
  }
  return work;
}

/** Set-ups used by more than one slot, with those slots. */
function sharedSetUps(model: ChoiceModel, chosen: readonly number[]): ReadonlyMap<number, readonly number[]> {
  const users = new Map<number, number[]>();
  chosen.forEach((option, slot) => {
    for (const setUp of model.slots[slot]!.options[option]!.setUps) {
      const slots = users.get(setUp);
      if (slots === undefined) users.set(setUp, [slot]);
      else slots.push(slot);
    }
  });
  for (const [setUp, slots] of users) if (slots.length < 2) users.delete(setUp);
  return users;
}
