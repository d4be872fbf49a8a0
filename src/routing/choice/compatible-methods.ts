import type { ChoiceModel } from './model.ts';

/** Most sets of methods told apart for one piece; beyond that, pairs are only checked one by one. */
const MODES_MOST = 64;

/** A piece on which some methods may not be together: its slots, and every largest set of methods that may. */
export type Piece = {
  readonly slots: readonly number[];
  /** by method: allowed. */
  readonly modes: readonly (readonly boolean[])[];
};

/** The pieces (lines) that have options of methods that may not be together. */
export function piecesWithConflicts(model: ChoiceModel): Piece[] {
  const byLine = new Map<number, number[]>();
  model.slots.forEach(({ line }, slot) => {
    const slots = byLine.get(line);
    if (slots === undefined) byLine.set(line, [slot]);
    else slots.push(slot);
  });
  const pieces: Piece[] = [];
  for (const slots of byLine.values()) {
    if (slots.length < 2) continue;
    const methods = [
      ...new Set(slots.flatMap((slot) => model.slots[slot]!.options.map(({ method }) => method))),
    ];
    const clash = methods.some((one) => methods.some((other) => model.apart[one]![other]!));
    if (!clash) continue;
    const modes = largestSets(model, methods);
    if (modes.length <= MODES_MOST) pieces.push({ slots, modes });
  }
  return pieces;
}

/** All sets of methods that go together and can take no further one (Bron and Kerbosch, without pivot). */
function largestSets(model: ChoiceModel, methods: readonly number[]): boolean[][] {
  const found: boolean[][] = [];
  const goes = (one: number) => (other: number) => one !== other && !model.apart[one]![other]!;
  const grow = (set: readonly number[], open: readonly number[], done: readonly number[]): void => {
    if (found.length > MODES_MOST) return;
    if (open.length === 0 && done.length === 0) {
      const mode = new Array<boolean>(model.apart.length).fill(false);
      for (const method of set) mode[method] = true;
      found.push(mode);
      return;
    }
    let left = open;
    let past = done;
    for (const method of open) {
      grow([...set, method], left.filter(goes(method)), past.filter(goes(method)));
      left = left.filter((each) => each !== method);
      past = [...past, method];
    }
  };
  grow([], methods, []);
  return found;
}
