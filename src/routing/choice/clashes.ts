import type { ChoiceModel } from './model.ts';

/** Whether two methods may not be on the same piece. */
export function clash(
  { incompatible }: Pick<ChoiceModel, 'incompatible'>,
  one: number,
  other: number,
): boolean {
  return incompatible[one]![other]!;
}

/**
 * Whether an option of a slot clashes with what is chosen for the other slots of the same piece.
 *
 * @param chosen option index by slot
 * @param end slots from this one on are not looked at
 */
export function clashes(
  model: ChoiceModel,
  chosen: readonly number[],
  slot: number,
  option: number,
  end = model.slots.length,
): boolean {
  const { slots } = model;
  const { line, options } = slots[slot]!;
  const { method } = options[option]!;
  // Slots of a line stand side by side.
  for (let other = slot - 1; other >= 0 && slots[other]!.line === line; other--)
    if (clash(model, method, slots[other]!.options[chosen[other]!]!.method)) return true;
  for (let other = slot + 1; other < end && slots[other]!.line === line; other++)
    if (clash(model, method, slots[other]!.options[chosen[other]!]!.method)) return true;
  return false;
}

/** Whether no two methods of a choice clash on a piece. */
export function isCompatible(model: ChoiceModel, chosen: readonly number[]): boolean {
  return chosen.every((option, slot) => !clashes(model, chosen, slot, option, slot));
}
