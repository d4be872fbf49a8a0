import type { Bin, Block, Item } from './types.ts';

/** With more prints on a sheet than this, pinwheels are not tried: their number grows with its square. */
const MAX_PINWHEEL_ITEMS = 64;

/** Prints of one size on a sheet: how many, and where. */
export type BlockLayout = { readonly count: number; readonly blocks: readonly Block[] };

/**
 * Fills a sheet with prints of one size. Tries all upright, all turned, two blocks (one of each) side by side or one
 * above the other, and pinwheels of four blocks; returns the layout that holds most, the first among equals.
 *
 * @see the four-block heuristic for pallet loading: G. Smith, A. De Cani, An algorithm to optimize the layout of boxes in
 *   pallets, Journal of the Operational Research Society 31(7), 573-578, 1980 (cited from memory)
 */
export function packOneSize(bin: Bin, item: Item, index: number, mayTurn: boolean): BlockLayout {
  const { width, height } = item;
  const best = new BestLayout(bin, item, index);
  best.offer([{ left: 0, top: 0, right: bin.width, bottom: bin.height, turned: false }]);
  if (!mayTurn || width === height) return best.layout;
  best.offer([{ left: 0, top: 0, right: bin.width, bottom: bin.height, turned: true }]);
  const across = Math.floor(bin.width / width);
  for (let columns = 1; columns <= across; columns++) {
    const cut = columns * width;
    best.offer([
      { left: 0, top: 0, right: cut, bottom: bin.height, turned: false },
      { left: cut, top: 0, right: bin.width, bottom: bin.height, turned: true },
    ]);
  }
  const down = Math.floor(bin.height / height);
  for (let rows = 1; rows <= down; rows++) {
    const cut = rows * height;
    best.offer([
      { left: 0, top: 0, right: bin.width, bottom: cut, turned: false },
      { left: 0, top: cut, right: bin.width, bottom: bin.height, turned: true },
    ]);
  }
  if (best.count <= MAX_PINWHEEL_ITEMS) offerPinwheels(best, bin, item);
  return best.layout;
}

/**
 * Four blocks around a hole. Block 1 is upright at the upper left (a columns, b rows), 2 turned at the upper right
 * (c rows), 3 upright at the lower right (d columns), 4 turned at the lower left.
 */
function offerPinwheels(best: BestLayout, bin: Bin, { width, height }: Item): void {
  const across = Math.floor(bin.width / width);
  const down = Math.floor(bin.height / height);
  const turnedDown = Math.floor(bin.height / width);
  for (let a = 1; a <= across; a++) {
    const right1 = a * width;
    const turnedAcross = Math.floor((bin.width - right1) / height);
    for (let d = 1; d <= across; d++) {
      const left3 = bin.width - d * width;
      const left4 = Math.floor(left3 / height);
      for (let b = 1; b <= down; b++) {
        const bottom1 = b * height;
        const below1 = Math.floor((bin.height - bottom1) / width);
        for (let c = 1; c <= turnedDown; c++) {
          const bottom2 = c * width;
          if (right1 > left3 && bottom1 > bottom2) continue;
          if (left3 > right1 && bottom2 > bottom1) continue;
          const below2 = Math.floor((bin.height - bottom2) / height);
          const count = a * b + turnedAcross * c + d * below2 + left4 * below1;
          if (count <= best.count) continue;
          best.offer([
            { left: 0, top: 0, right: right1, bottom: bottom1, turned: false },
            { left: right1, top: 0, right: bin.width, bottom: bottom2, turned: true },
            { left: left3, top: bottom2, right: bin.width, bottom: bin.height, turned: false },
            { left: 0, top: bottom1, right: left3, bottom: bin.height, turned: true },
          ]);
        }
      }
    }
  }
}

type Area = {
  readonly left: number;
  readonly top: number;
  readonly right: number;
  readonly bottom: number;
  readonly turned: boolean;
};

class BestLayout {
  readonly #bin: Bin;
  readonly #item: Item;
  readonly #index: number;
  #count = 0;
  #areas: readonly Area[] = [];

  constructor(bin: Bin, item: Item, index: number) {
    this.#bin = bin;
    this.#item = item;
    this.#index = index;
  }

  offer(areas: readonly Area[]): void {
    let count = 0;
    for (const area of areas) count += this.#columns(area) * this.#rows(area);
    if (count > this.#count) {
      this.#count = count;
      this.#areas = areas;
    }
  }

  get count(): number {
    return this.#count;
  }

  get layout(): BlockLayout {
    const blocks = this.#areas.flatMap((area): Block[] => {
      const columns = this.#columns(area);
      const rows = this.#rows(area);
      if (columns * rows === 0) return [];
      return [{ item: this.#index, x: area.left, y: area.top, turned: area.turned, columns, rows }];
    });
    return { count: this.#count, blocks };
  }

  #columns({ left, right, turned }: Area): number {
    const length = Math.min(right, this.#bin.width) - left;
    return Math.max(0, Math.floor(length / (turned ? this.#item.height : this.#item.width)));
  }

  #rows({ top, bottom, turned }: Area): number {
    const length = Math.min(bottom, this.#bin.height) - top;
    return Math.max(0, Math.floor(length / (turned ? this.#item.width : this.#item.height)));
  }
}
