import type { Bin, Block, Item } from './types.ts';

/** The free rectangle a print goes to: best short side fit, best area fit, or topmost. */
export type FitRule = 'short-side' | 'area' | 'top-left';

/** A filled sheet: where its prints lie and how many there are of each item. */
export type FilledSheet = { readonly blocks: readonly Block[]; readonly used: readonly number[] };

type Rect = { readonly x: number; readonly y: number; readonly width: number; readonly height: number };

/**
 * Fills one sheet by max-rects: item after item in the order given, each as often as it still fits, keeping the list of
 * all maximal free rectangles. Prints of one size are placed in whole blocks, so that the work does not grow with their
 * count.
 *
 * @see J. Jylänki, A thousand ways to pack the bin, 2010: the max-rects family (cited from memory)
 * @param remaining how many of each item are still to be placed
 * @param work counts the free rectangles examined, for callers that bound the work
 */
export function fillSheet(
  bin: Bin,
  items: readonly Item[],
  order: readonly number[],
  remaining: readonly number[],
  rule: FitRule,
  mayTurn: boolean,
  work: { steps: number },
): FilledSheet {
  const free = new FreeRects(bin);
  const blocks: Block[] = [];
  const used = new Array<number>(items.length).fill(0);
  for (const index of order) {
    let rest = remaining[index]!;
    while (rest > 0) {
      const block = free.best(items[index]!, index, rest, rule, mayTurn);
      work.steps += free.size;
      if (block === undefined) break;
      blocks.push(block);
      free.place(block, items[index]!);
      used[index]! += block.columns * block.rows;
      rest -= block.columns * block.rows;
    }
  }
  return { blocks, used };
}

class FreeRects {
  #rects: Rect[];

  constructor(bin: Bin) {
    this.#rects = [{ x: 0, y: 0, width: bin.width, height: bin.height }];
  }

  get size(): number {
    return this.#rects.length;
  }

  /** The best place for a block of an item: most prints first, then by the rule, then topmost and leftmost. */
  best(item: Item, index: number, rest: number, rule: FitRule, mayTurn: boolean): Block | undefined {
    let best: Block | undefined;
    let bestCount = 0;
    let bestFirst = Number.POSITIVE_INFINITY;
    let bestSecond = Number.POSITIVE_INFINITY;
    const turns = mayTurn && item.width !== item.height ? 2 : 1;
    for (const rect of this.#rects) {
      for (let turn = 0; turn < turns; turn++) {
        const width = turn === 0 ? item.width : item.height;
        const height = turn === 0 ? item.height : item.width;
        if (width > rect.width || height > rect.height) continue;
        const across = Math.min(rest, Math.floor(rect.width / width));
        const rows = Math.min(Math.floor(rect.height / height), Math.floor(rest / across));
        const count = across * rows;
        if (count < bestCount) continue;
        const overX = rect.width - across * width;
        const overY = rect.height - rows * height;
        const first = primaryScore(rule, rect, overX, overY, rows * height);
        const second = rule === 'top-left' ? rect.x : Math.max(overX, overY);
        if (count === bestCount && (first > bestFirst || (first === bestFirst && second >= bestSecond)))
          continue;
        best = { item: index, x: rect.x, y: rect.y, turned: turn === 1, columns: across, rows };
        bestCount = count;
        bestFirst = first;
        bestSecond = second;
      }
    }
    return best;
  }

  /** Splits every free rectangle that the block overlaps. */
  place(block: Block, item: Item): void {
    const width = block.columns * (block.turned ? item.height : item.width);
    const height = block.rows * (block.turned ? item.width : item.height);
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
    // Only cut pieces can lie within another rectangle: those kept were maximal before.
    for (let index = 0; index < cut.length; index++) {
      const rect = cut[index]!;
      const within =
        kept.some((other) => contains(other, rect)) ||
        // Of two equal pieces the first is kept.
        cut.some(
          (other, at) => at !== index && contains(other, rect) && !(at > index && contains(rect, other)),
        );
      if (!within) kept.push(rect);
    }
    this.#rects = kept;
  }
}

function primaryScore(rule: FitRule, rect: Rect, overX: number, overY: number, height: number): number {
  switch (rule) {
    case 'short-side':
      return Math.min(overX, overY);
    case 'area':
      return rect.width * rect.height;
    case 'top-left':
      return rect.y + height;
  }
}

function contains(outer: Rect, inner: Rect): boolean {
  return (
    outer.x <= inner.x &&
    outer.y <= inner.y &&
    outer.x + outer.width >= inner.x + inner.width &&
    outer.y + outer.height >= inner.y + inner.height
  );
}
