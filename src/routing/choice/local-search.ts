import type { ChoiceModel } from './model.ts';
import type { RunningTotals } from './running-totals.ts';

/** Passes over all slots at most; two or three are usual. */
const PASSES = 12;

/**
 * Improves a choice by local search: another option for one slot, and emptying a set-up by moving every slot that uses
 * it to its next best option. Ends where neither helps.
 *
 * @param tally holds the choice; it holds the improved one afterwards
 * @param chosen option index by slot; changed in place
 * @param evaluate value of what the tally holds, less is better
 * @param mostWork options looked at before it ends where it is
 * @returns options looked at
 */
export function localSearch(
  model: ChoiceModel,
  tally: RunningTotals,
  chosen: number[],
  evaluate: () => number,
  mostWork = Number.POSITIVE_INFINITY,
): number {
  const { slots, apart } = model;
  let work = 0;
  let value = evaluate();
  const better = (next: number): boolean => next < value - 1e-4 - 1e-13 * Math.abs(value);

  const mayBe = (slot: number, option: number): boolean => {
    const { line, options } = slots[slot]!;
    const { method } = options[option]!;
    for (let other = slot - 1; other >= 0 && slots[other]!.line === line; other--)
      if (apart[method]![slots[other]!.options[chosen[other]!]!.method]!) return false;
    for (let other = slot + 1; other < slots.length && slots[other]!.line === line; other++)
      if (apart[method]![slots[other]!.options[chosen[other]!]!.method]!) return false;
    return true;
  };
  const set = (slot: number, option: number): void => {
    tally.remove(slot, chosen[slot]!);
    chosen[slot] = option;
    tally.put(slot, option);
  };

  /** Moves a slot to its best option but those named; false when it has no other. */
  const moveToBest = (slot: number, without: (option: number) => boolean): boolean => {
    const { options } = slots[slot]!;
    const from = chosen[slot]!;
    let best = -1;
    let bestValue = Number.POSITIVE_INFINITY;
    for (let option = 0; option < options.length; option++) {
      if (without(option) || !mayBe(slot, option)) continue;
      set(slot, option);
      work++;
      const next = evaluate();
      if (next < bestValue) {
        bestValue = next;
        best = option;
      }
    }
    set(slot, best < 0 ? from : best);
    return best >= 0;
  };

  for (let pass = 0; pass < PASSES && work < mostWork; pass++) {
    let improved = false;
    for (let slot = 0; slot < slots.length; slot++) {
      if (slots[slot]!.options.length === 1 || work >= mostWork) continue;
      const from = chosen[slot]!;
      moveToBest(slot, () => false);
      const next = evaluate();
      if (better(next)) {
        value = next;
        improved = true;
      } else set(slot, from);
    }
    for (const users of usersOf(model, chosen).values()) {
      if (work >= mostWork) break;
      const before = users.slots.map((slot) => chosen[slot]!);
      const uses = (slot: number) => (option: number) =>
        slots[slot]!.options[option]!.setUps.includes(users.setUp);
      let moved = 0;
      while (moved < users.slots.length && moveToBest(users.slots[moved]!, uses(users.slots[moved]!)))
        moved++;
      const next = evaluate();
      if (moved === users.slots.length && better(next)) {
        value = next;
        improved = true;
      } else users.slots.forEach((slot, index) => void set(slot, before[index]!));
    }
    if (!improved) break;
  }
  return work;
}

/** Set-ups used by more than one slot, with the slots. */
function usersOf(
  model: ChoiceModel,
  chosen: readonly number[],
): Map<number, { readonly setUp: number; readonly slots: number[] }> {
  const users = new Map<number, { readonly setUp: number; readonly slots: number[] }>();
  chosen.forEach((option, slot) => {
    for (const setUp of model.slots[slot]!.options[option]!.setUps) {
      const known = users.get(setUp);
      if (known === undefined) users.set(setUp, { setUp, slots: [slot] });
      else known.slots.push(slot);
    }
  });
  for (const [setUp, { slots }] of users) if (slots.length < 2) users.delete(setUp);
  return users;
}
