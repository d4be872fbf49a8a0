import { clash } from '../clashes.ts';
import type { ChoiceModel } from '../model.ts';

/** Above this many sets for one piece, its methods are only compared two by two. */
const MAX_SETS = 64;

/** A piece on which some methods clash: its slots, and every largest set of methods that may be on it together. */
export type ConflictPiece = {
  readonly slots: readonly number[];
  /** each set by method: true when it is in the set. */
  readonly compatibleSets: readonly (readonly boolean[])[];
};

/** The pieces (lines) that have options of methods that clash. */
export function conflictPieces(model: ChoiceModel): ConflictPiece[] {
  const byLine = new Map<number, number[]>();
  model.slots.forEach(({ line }, slot) => {
    const slots = byLine.get(line);
    if (slots === undefined) byLine.set(line, [slot]);
    else slots.push(slot);
  });
  const pieces: ConflictPiece[] = [];
  for (const slots of byLine.values()) {
    if (slots.length < 2) continue;
    const methods = [
      ...new Set(slots.flatMap((slot) => model.slots[slot]!.options.map(({ method }) => method))),
    ];
    const anyClash = methods.some((one) => methods.some((other) => clash(model, one, other)));
    if (!anyClash) continue;
    const compatibleSets = maximalSets(model, methods);
    if (compatibleSets.length <= MAX_SETS) pieces.push({ slots, compatibleSets });
  }
  return pieces;
}

/** All maximal sets of compatible methods, by the algorithm of Bron and Kerbosch without pivoting. */
function maximalSets(model: ChoiceModel, methods: readonly number[]): boolean[][] {
  const found: boolean[][] = [];
  const compatibleWith = (one: number) => (other: number) => one !== other && !clash(model, one, other);
  const grow = (set: readonly number[], candidates: readonly number[], excluded: readonly number[]): void => {
    if (found.length > MAX_SETS) return;
    if (candidates.length === 0 && excluded.length === 0) {
      const members = new Array<boolean>(model.incompatible.length).fill(false);
      for (const method of set) members[method] = true;
      found.push(members);
      return;
    }
    let left = candidates;
    let done = excluded;
    for (const method of candidates) {
      grow([...set, method], left.filter(compatibleWith(method)), done.filter(compatibleWith(method)));
      left = left.filter((each) => each !== method);
      done = [...done, method];
    }
  };
  grow([], methods, []);
  return found;
}
