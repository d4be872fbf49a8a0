import { type Block, fillAlike, type Kind, type Room } from './like.ts';
import { Shelves, type TurnRule } from './shelves.ts';

/** Sheets filled alike: how many, and how. */
export type Run = { readonly times: number; readonly blocks: readonly Block[] };

const TURN_RULES: readonly TurnRule[] = ['most', 'flat', 'upright'];

/** Sheets needed, counted steadily, and how they would be filled. */
export type Steady = { readonly sheets: number; readonly runs: () => Run[] };

/**
 * How many sheets prints take, counted so that more prints never need fewer sheets: the least of several counts, each
 * of which has that property, and each of which is a layout that can be made. Nesting that looks for the best place for
 * every print has it not: one print more may happen to make it find a better layout.
 *
 * Each kind by itself, `Σ ceil(count / prints of it to a sheet)`, has it plainly. The others are of this form:
 *
 * 1. All prints are put in a row: one of every kind, then a second of every kind that has one, and so on. One print
 *    more is one more in the row, and leaves the order of the rest as it was.
 * 2. A sheet takes prints from the row for as long as they fit; then the next sheet begins (next fit).
 * 3. Prints fit a sheet when shelves hold them: sorted by height, highest first, laid side by side; where one does not
 *    fit the shelf, the next shelf begins; a shelf is as high as its first print.
 *
 * What fits by 3 still fits when a print is taken away: shelves are next fit over widths, so with more prints in the
 * sorted row the k-th shelf starts no later in it, is at least as high, and there are at least as many. Therefore, with
 * one more print in row 1, the k-th sheet starts no later: by induction, were its end later, it would hold all that the
 * sheet without it held and one more, which did not fit. So there are at least as many sheets.
 */
export function steadyCount(room: Room, kinds: readonly Kind[], mayTurn: boolean, least: number): Steady {
  const likes = kinds.map((kind, index) => fillAlike(room, kind, index, mayTurn));
  let sheets = 0;
  kinds.forEach(({ count }, index) => {
    sheets += Math.ceil(count / likes[index]!.count);
  });
  let best: Steady = { sheets, runs: () => alone(room, kinds, mayTurn) };
  if (kinds.length < 2) return best;
  for (const across of [true, false]) {
    for (const rule of mayTurn ? TURN_RULES : (['never'] as const)) {
      if (best.sheets <= least) return best;
      const shelves = new Shelves(room, kinds, across, rule);
      const count = shelves.count();
      if (count < best.sheets) best = { sheets: count, runs: () => shelves.runs() };
    }
  }
  return best;
}

/** Every kind on sheets of its own. */
function alone(room: Room, kinds: readonly Kind[], mayTurn: boolean): Run[] {
  return kinds.flatMap((kind, index) => {
    const { count, blocks } = fillAlike(room, kind, index, mayTurn);
    const runs: Run[] = [];
    const full = Math.floor(kind.count / count);
    if (full > 0) runs.push({ times: full, blocks });
    const rest = kind.count - full * count;
    if (rest > 0) runs.push({ times: 1, blocks: firstOf(blocks, rest, kind) });
    return runs;
  });
}

/** The first prints of some blocks of a kind. */
function firstOf(blocks: readonly Block[], prints: number, kind: Kind): Block[] {
  const kept: Block[] = [];
  let rest = prints;
  for (const block of blocks) {
    const rows = Math.min(block.rows, Math.floor(rest / block.columns));
    if (rows > 0) kept.push({ ...block, rows });
    rest -= rows * block.columns;
    if (rest === 0 || rows === block.rows) continue;
    const y = block.y + rows * (block.turned ? kind.width : kind.height);
    kept.push({ ...block, y, rows: 1, columns: rest });
    break;
  }
  return kept;
}
