import type { Bin, Block, Item, RepeatedSheet } from './types.ts';

/** How prints are oriented on the shelves: as most of them fit a sheet alone, low, high, or as they are. */
export type TurnRule = 'most' | 'flat' | 'upright' | 'never';

/** An item in its orientation on the shelves. */
type ShelfItem = {
  readonly item: number;
  readonly turned: boolean;
  readonly width: number;
  readonly height: number;
  readonly count: number;
};

/** Consecutive sheets with the same content: how many, and the number of prints of each shelf item. */
type RepeatedFill = { times: number; readonly counts: readonly number[] };

/**
 * Prints queued in rounds (one of each size, then a second of each, and so on) and taken from the queue sheet by sheet,
 * each sheet packed in shelves. The proof that the count never falls when prints are added is in `monotone-count.ts`.
 */
export class Shelves {
  readonly #bin: Bin;
  readonly #across: boolean;
  /** highest first: the order on a sheet and within each round of the queue. */
  readonly #items: readonly ShelfItem[];

  /** @param across shelves run along the sheet's width; otherwise along its height */
  constructor(bin: Bin, items: readonly Item[], across: boolean, rule: TurnRule) {
    this.#bin = across ? bin : { width: bin.height, height: bin.width };
    this.#across = across;
    const shelfItems = items.map((item, index) => this.#shelfItem(item, index, rule));
    this.#items = shelfItems.sort(
      (one, other) => other.height - one.height || other.width - one.width || one.item - other.item,
    );
  }

  count(): number {
    return this.#sheets().reduce((sum, { times }) => sum + times, 0);
  }

  layouts(): RepeatedSheet[] {
    return this.#sheets().map(({ times, counts }) => ({ times, blocks: this.#blocks(counts) }));
  }

  #shelfItem({ width, height, count }: Item, item: number, rule: TurnRule): ShelfItem {
    // Seen along the shelves: a sheet whose shelves run down is the same sheet turned by a quarter.
    const flip = !this.#across;
    const asGiven = flip ? { width: height, height: width } : { width, height };
    const rotated = { width: asGiven.height, height: asGiven.width };
    const fits = (box: Bin): boolean => box.width <= this.#bin.width && box.height <= this.#bin.height;
    const perSheet = (box: Bin): number =>
      Math.floor(this.#bin.width / box.width) * Math.floor(this.#bin.height / box.height);
    let turned = false;
    if (rule === 'most') turned = perSheet(rotated) > perSheet(asGiven);
    else if (rule === 'flat') turned = rotated.height < asGiven.height;
    else if (rule === 'upright') turned = rotated.height > asGiven.height;
    if (rule !== 'never' && !fits(turned ? rotated : asGiven)) turned = !turned;
    return { item, turned, count, ...(turned ? rotated : asGiven) };
  }

  /** Every print must fit an empty sheet. */
  #sheets(): RepeatedFill[] {
    const items = this.#items;
    const fills: RepeatedFill[] = [];
    let round = 0;
    let place = 0;
    let queue = this.#itemsOfRound(round);
    let until = this.#endOf(queue);
    // Where sheets began while the rounds were alike: when a place recurs, so do the sheets in between.
    const begun = new Map<number, { readonly round: number; readonly fill: number }>();
    while (queue.length > 0) {
      const before = begun.get(place);
      begun.set(place, { round, fill: fills.length });
      if (before !== undefined) {
        const rounds = round - before.round;
        const repeats = Math.floor((until - round) / rounds) - 1;
        if (repeats > 0) {
          for (let fill = before.fill; fill < fills.length; fill++) fills[fill]!.times *= repeats + 1;
          round += repeats * rounds;
          begun.clear();
        }
      }
      const counts = new Array<number>(items.length).fill(0);
      while (queue.length > 0) {
        if (place === 0) round += this.#addRounds(counts, queue, until - round);
        if (round < until) {
          const next = queue[place]!;
          counts[next]!++;
          if (!this.#fits(counts)) {
            counts[next]!--;
            break;
          }
          if (++place < queue.length) continue;
          place = 0;
          if (++round < until) continue;
        }
        queue = this.#itemsOfRound(round);
        until = this.#endOf(queue);
        begun.clear();
      }
      fills.push({ times: 1, counts });
    }
    return fills;
  }

  /** The items that have a print for this round. */
  #itemsOfRound(round: number): number[] {
    return this.#items.flatMap(({ count }, index) => (count > round ? [index] : []));
  }

  /** The round in which the first of these items has run out. */
  #endOf(queue: readonly number[]): number {
    return queue.reduce(
      (first, index) => Math.min(first, this.#items[index]!.count),
      Number.POSITIVE_INFINITY,
    );
  }

  /** Adds as many whole rounds as still fit, at most `most`, by doubling and halving the step. */
  #addRounds(counts: number[], queue: readonly number[], most: number): number {
    const add = (rounds: number): void => {
      for (const item of queue) counts[item]! += rounds;
    };
    let added = 0;
    let step = 1;
    while (step > 0) {
      const rounds = Math.min(step, most - added);
      if (rounds === 0) break;
      add(rounds);
      if (this.#fits(counts)) {
        added += rounds;
        step *= 2;
      } else {
        add(-rounds);
        step = Math.floor(rounds / 2);
      }
    }
    return added;
  }

  /** Whether shelves on one sheet hold so many of each item. */
  #fits(counts: readonly number[]): boolean {
    const { width, height } = this.#bin;
    let used = 0;
    let along = width;
    for (let index = 0; index < counts.length; index++) {
      const print = this.#items[index]!;
      const onShelf = Math.min(counts[index]!, Math.floor((width - along) / print.width));
      along += onShelf * print.width;
      const rest = counts[index]! - onShelf;
      if (rest === 0) continue;
      const perShelf = Math.floor(width / print.width);
      const shelves = Math.ceil(rest / perShelf);
      used += shelves * print.height;
      if (used > height) return false;
      along = (rest - (shelves - 1) * perShelf) * print.width;
    }
    return true;
  }

  /** The shelves of a sheet as blocks. */
  #blocks(counts: readonly number[]): Block[] {
    const blocks: Block[] = [];
    const { width } = this.#bin;
    let top = 0;
    let used = 0;
    let along = width;
    counts.forEach((count, index) => {
      let rest = count;
      const print = this.#items[index]!;
      while (rest > 0) {
        const onShelf = Math.min(rest, Math.floor((width - along) / print.width));
        if (onShelf > 0) blocks.push(this.#block(print, along, top, onShelf));
        along += onShelf * print.width;
        rest -= onShelf;
        if (rest === 0) break;
        top = used;
        used += print.height;
        along = 0;
      }
    });
    return blocks;
  }

  #block({ item, turned }: ShelfItem, along: number, top: number, prints: number): Block {
    return this.#across
      ? { item, x: along, y: top, turned, columns: prints, rows: 1 }
      : { item, x: top, y: along, turned, columns: 1, rows: prints };
  }
}
