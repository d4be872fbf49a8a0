import type { Block, Kind, Room } from './like.ts';

/** How prints are turned for the shelves: as most of them fit alone, lying, standing, or not at all. */
export type TurnRule = 'most' | 'flat' | 'upright' | 'never';

/** A kind as it lies on the shelves. */
type Shelved = {
  readonly kind: number;
  readonly turned: boolean;
  readonly width: number;
  readonly height: number;
  readonly count: number;
};

/** Sheets that hold the same prints: how many, and how many prints of each shelved kind. */
type SheetRun = { times: number; readonly held: readonly number[] };

/**
 * Prints put in a row (one of each kind, then a second of each, and so on) and taken from it sheet after sheet, each
 * sheet laid out in shelves. `steady.ts` says why: the count never falls when prints are added.
 */
export class Shelves {
  readonly #room: Room;
  readonly #across: boolean;
  /** by height, highest first: the order on a sheet and within each round of the row. */
  readonly #kinds: readonly Shelved[];

  /** @param across shelves run along the sheet's width; else along its height */
  constructor(room: Room, kinds: readonly Kind[], across: boolean, rule: TurnRule) {
    this.#room = across ? room : { width: room.height, height: room.width };
    this.#across = across;
    const shelved = kinds.map((kind, index) => this.#shelved(kind, index, rule));
    this.#kinds = shelved.sort(
      (one, other) => other.height - one.height || other.width - one.width || one.kind - other.kind,
    );
  }

  count(): number {
    return this.#sheets().reduce((sum, { times }) => sum + times, 0);
  }

  runs(): { readonly times: number; readonly blocks: readonly Block[] }[] {
    return this.#sheets().map(({ times, held }) => ({ times, blocks: this.#blocks(held) }));
  }

  #shelved({ width, height, count }: Kind, kind: number, rule: TurnRule): Shelved {
    // Seen along the shelves: a sheet whose shelves run down is the same sheet on its side.
    const flip = !this.#across;
    const one = flip ? { width: height, height: width } : { width, height };
    const other = { width: one.height, height: one.width };
    const fits = (box: Room): boolean => box.width <= this.#room.width && box.height <= this.#room.height;
    const likes = (box: Room): number =>
      Math.floor(this.#room.width / box.width) * Math.floor(this.#room.height / box.height);
    let turned = false;
    if (rule === 'most') turned = likes(other) > likes(one);
    else if (rule === 'flat') turned = other.height < one.height;
    else if (rule === 'upright') turned = other.height > one.height;
    if (rule !== 'never' && !fits(turned ? other : one)) turned = !turned;
    return { kind, turned, count, ...(turned ? other : one) };
  }

  /** Every print must fit an empty sheet. */
  #sheets(): SheetRun[] {
    const kinds = this.#kinds;
    const runs: SheetRun[] = [];
    let round = 0;
    let place = 0;
    let row = this.#rowOf(round);
    let until = this.#untilOf(row);
    // Where sheets began while the row was the same: when a place comes again, so do the sheets in between.
    const begun = new Map<number, { readonly round: number; readonly run: number }>();
    while (row.length > 0) {
      const before = begun.get(place);
      begun.set(place, { round, run: runs.length });
      if (before !== undefined) {
        const rounds = round - before.round;
        const repeats = Math.floor((until - round) / rounds) - 1;
        if (repeats > 0) {
          for (let run = before.run; run < runs.length; run++) runs[run]!.times *= repeats + 1;
          round += repeats * rounds;
          begun.clear();
        }
      }
      const held = new Array<number>(kinds.length).fill(0);
      while (row.length > 0) {
        if (place === 0) round += this.#addRounds(held, row, until - round);
        if (round < until) {
          const next = row[place]!;
          held[next]!++;
          if (!this.#hold(held)) {
            held[next]!--;
            break;
          }
          if (++place < row.length) continue;
          place = 0;
          if (++round < until) continue;
        }
        row = this.#rowOf(round);
        until = this.#untilOf(row);
        begun.clear();
      }
      runs.push({ times: 1, held });
    }
    return runs;
  }

  /** The kinds that have a print for this round. */
  #rowOf(round: number): number[] {
    return this.#kinds.flatMap(({ count }, index) => (count > round ? [index] : []));
  }

  /** The round from which a kind of the row is used up. */
  #untilOf(row: readonly number[]): number {
    return row.reduce((least, index) => Math.min(least, this.#kinds[index]!.count), Number.POSITIVE_INFINITY);
  }

  /** Adds as many whole rounds as still fit, at most `most`; what fits also fits with less. */
  #addRounds(held: number[], row: readonly number[], most: number): number {
    const add = (rounds: number): void => {
      for (const kind of row) held[kind]! += rounds;
    };
    let added = 0;
    let step = 1;
    while (step > 0) {
      const rounds = Math.min(step, most - added);
      if (rounds === 0) break;
      add(rounds);
      if (this.#hold(held)) {
        added += rounds;
        step *= 2;
      } else {
        add(-rounds);
        step = Math.floor(rounds / 2);
      }
    }
    return added;
  }

  /** Whether shelves on one sheet hold so many of each kind. */
  #hold(held: readonly number[]): boolean {
    const { width, height } = this.#room;
    let used = 0;
    let along = width;
    for (let index = 0; index < held.length; index++) {
      const print = this.#kinds[index]!;
      const more = Math.min(held[index]!, Math.floor((width - along) / print.width));
      along += more * print.width;
      const rest = held[index]! - more;
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
  #blocks(held: readonly number[]): Block[] {
    const blocks: Block[] = [];
    const { width } = this.#room;
    let top = 0;
    let used = 0;
    let along = width;
    held.forEach((count, index) => {
      let rest = count;
      const print = this.#kinds[index]!;
      while (rest > 0) {
        const more = Math.min(rest, Math.floor((width - along) / print.width));
        if (more > 0) blocks.push(this.#block(print, along, top, more));
        along += more * print.width;
        rest -= more;
        if (rest === 0) break;
        top = used;
        used += print.height;
        along = 0;
      }
    });
    return blocks;
  }

  #block({ kind, turned }: Shelved, along: number, top: number, prints: number): Block {
    return this.#across
      ? { kind, x: along, y: top, turned, columns: prints, rows: 1 }
      : { kind, x: top, y: along, turned, columns: 1, rows: prints };
  }
}
