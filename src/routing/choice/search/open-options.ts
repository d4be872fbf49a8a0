import { clash } from '../clashes.ts';
import type { ChoiceModel } from '../model.ts';

/** The options still open in a node of the search: option indexes by slot. */
export type OpenOptions = readonly (readonly number[])[];

/** Every option of every slot. */
export function allOptions({ slots }: ChoiceModel): OpenOptions {
  return slots.map(({ options }) => options.map((_, index) => index));
}

/**
 * Leaves out options.
 *
 * @param isPruned by slot and place in its list
 * @returns the same list when nothing is left out; undefined when a slot has no option left
 */
export function prune(
  open: OpenOptions,
  isPruned: (slot: number, place: number) => boolean,
): OpenOptions | undefined {
  let pruned: (readonly number[])[] | undefined;
  for (let slot = 0; slot < open.length; slot++) {
    const list = open[slot]!;
    if (list.length === 1) continue;
    const kept = list.filter((_, place) => !isPruned(slot, place));
    if (kept.length === list.length) continue;
    if (kept.length === 0) return undefined;
    pruned ??= [...open];
    pruned[slot] = kept;
  }
  return pruned ?? open;
}

/** Fixes one slot to an option and leaves out what clashes with it on the piece; undefined when a slot has none left. */
export function fixOption(
  model: ChoiceModel,
  open: OpenOptions,
  slot: number,
  option: number,
): OpenOptions | undefined {
  const { slots } = model;
  const { line, options } = slots[slot]!;
  const { method } = options[option]!;
  const child = [...open];
  child[slot] = [option];
  for (let other = 0; other < slots.length; other++) {
    if (other === slot || slots[other]!.line !== line) continue;
    const kept = open[other]!.filter((index) => !clash(model, method, slots[other]!.options[index]!.method));
    if (kept.length === 0) return undefined;
    if (kept.length < open[other]!.length) child[other] = kept;
  }
  return child;
}
