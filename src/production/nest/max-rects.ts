import type { Block, Kind, Room } from './like.ts';

/** Which of the free rectangles a print goes to: where it leaves the shorter strip, the least area, or highest up. */
export type Rule = 'short-side' | 'area' | 'top-left';

/** A sheet as filled: where its prints lie and how many of each kind they are. */
export type Filled = { readonly blocks: readonly Block[]; readonly used: readonly number[] };

type Rect = { readonly x: number; readonly y: number; readonly width: number; readonly height: number };

/**
 * Fills one sheet, kind after kind in the order given, each as often as it still fits, keeping the list of all largest
 * free rectangles. Prints of a kind are laid in whole blocks, so that the work does not grow with their count.
 *
 * @see J. Jylänki, A thousand ways to pack the bin, 2010: the max-rects family (cited from memory)
 * @param left how many of each kind are still to be laid
 * @param work counts the rectangles looked at, for callers that bound it
 */
export function fillSheet(
  room: Room,
  kinds: readonly Kind[],
  order: readonly number[],
  left: readonly number[],
  rule: Rule,
  mayTurn: boolean,
  work: { steps: number },
): Filled {
  const free = new FreeRects(room);
  const blocks: Block[] = [];
  const used = new Array<number>(kinds.length).fill(0);
  for (const index of order) {
    let rest = left[index]!;
    while (rest > 0) {
      const block = free.best(kinds[index]!, index, rest, rule, mayTurn);
      work.steps += free.size;
      if (block === undefined) break;
      blocks.push(block);
      free.take(block, kinds[index]!);
      used[index]! += block.columns * block.rows;
      rest -= block.columns * block.rows;
    }
  }
  return { blocks, used };
}

class FreeRects {
  #rects: Rect[];

  constructor(room: Room) {
    this.#rects = [{ x: 0, y: 0, width: room.width, height: room.height }];
  }

  get size(): number {
    return this.#rects.length;
  }

  /** The best place for a block of a kind: the most prints first, then by the rule, then up and left. */
  best(kind: Kind, index: number, rest: number, rule: Rule, mayTurn: boolean): Block | undefined {
    let best: Block | undefined;
    let bestCount = 0;
    let bestFirst = Number.POSITIVE_INFINITY;
    let bestSecond = Number.POSITIVE_INFINITY;
    const turns = mayTurn && kind.width !== kind.height ? 2 : 1;
    for (const rect of this.#rects) {
      for (let turn = 0; turn < turns; turn++) {
        const width = turn === 0 ? kind.width : kind.height;
        const height = turn === 0 ? kind.height : kind.width;
        if (width > rect.width || height > rect.height) continue;
        const across = Math.min(rest, Math.floor(rect.width / width));
        const rows = Math.min(Math.floor(rect.height / height), Math.floor(rest / across));
        const count = across * rows;
        if (count < bestCount) continue;
        const overX = rect.width - across * width;
        const overY = rect.height - rows * height;
        const first = firstScore(rule, rect, overX, overY, rows * height);
        const second = rule === 'top-left' ? rect.x : Math.max(overX, overY);
        if (count === bestCount && (first > bestFirst || (first === bestFirst && second >= bestSecond)))
          continue;
        best = { kind: index, x: rect.x, y: rect.y, turned: turn === 1, columns: across, rows };
        bestCount = count;
        bestFirst = first;
        bestSecond = second;
      }
    }
    return best;
  }

  /** Takes the place of a block out of every free rectangle. */
  take(block: Block, kind: Kind): void {
    const width = block.columns * (block.turned ? kind.height : kind.width);
    const height = block.rows * (block.turned ? kind.width : kind.height);
    const right = block.x + width;
    const bottom = block.y + height;
    const kept: Rect[] = [];
    const cut: Rect[] = [];
    for (const rect of this.#rects) {
      const rectRight = rect.x + rect.width;
      const rectBottom = rect.y + rect.height;
      if (block.x >= rectRight || right <= rect.x || block.y >= rectBottom || bottom <= rect.y) {
        kept.push(rect);
        continue;
      }
      if (block.x > rect.x) cut.push({ ...rect, width: block.x - rect.x });
      if (right < rectRight) cut.push({ ...rect, x: right, width: rectRight - right });
      if (block.y > rect.y) cut.push({ ...rect, height: block.y - rect.y });
      if (bottom < rectBottom) cut.push({ ...rect, y: bottom, height: rectBottom - bottom });
    }
    // Only cut pieces can lie within another: what was kept was within none before.
    for (let index = 0; index < cut.length; index++) {
      const rect = cut[index]!;
      const within =
        kept.some((other) => holds(other, rect)) ||
        cut.some(
          (other, place) => place !== index && holds(other, rect) && !(place > index && holds(rect, other)),
        );
      if (!within) kept.push(rect);
    }
    this.#rects = kept;
  }
}

function firstScore(rule: Rule, rect: Rect, overX: number, overY: number, height: number): number {
  switch (rule) {
    case 'short-side':
      return Math.min(overX, overY);
    case 'area':
      return rect.width * rect.height;
    case 'top-left':
      return rect.y + height;
  }
}

function holds(outer: Rect, inner: Rect): boolean {
  return (
    outer.x <= inner.x &&
    outer.y <= inner.y &&
    outer.x + outer.width >= inner.x + inner.width &&
    outer.y + outer.height >= inner.y + inner.height
  );
}
