/**
 * The plane the packing works on: whole micrometers, so that sums are exact. The gap between prints is taken into
 * them: every print is one gap wider and higher, and so is the room for them, which leaves no gap at the far edges.
 */
export type Room = { readonly width: number; readonly height: number };

/** Like prints in rows and columns; `x` and `y` of the upper left corner. */
export type Block = {
  /** index of the kind. */
  readonly kind: number;
  readonly x: number;
  readonly y: number;
  readonly turned: boolean;
  readonly columns: number;
  readonly rows: number;
};

/** Prints of one size. */
export type Kind = { readonly width: number; readonly height: number; readonly count: number };

/** Over this many prints to a sheet the pinwheel is not tried: its search grows with the square of them. */
const PINWHEEL_MOST = 64;

/** The most prints of one size that a block layout puts on a sheet, and where. */
export type LikeLayout = { readonly count: number; readonly blocks: readonly Block[] };

/**
 * Fills a sheet with prints of one size: all upright, all turned, a block of each side by side or one above the other,
 * or four blocks round like the arms of a pinwheel; whichever holds most, of equals the first.
 *
 * @see the four-block heuristic for pallet loading: G. Smith, A. De Cani, An algorithm to optimize the layout of boxes in
 *   pallets, Journal of the Operational Research Society 31(7), 573-578, 1980 (cited from memory)
 */
export function fillAlike(room: Room, kind: Kind, index: number, mayTurn: boolean): LikeLayout {
  const { width, height } = kind;
  const best = new BestLayout(room, kind, index);
  best.offer([{ left: 0, top: 0, right: room.width, bottom: room.height, turned: false }]);
  if (!mayTurn || width === height) return best.layout;
  best.offer([{ left: 0, top: 0, right: room.width, bottom: room.height, turned: true }]);
  const across = Math.floor(room.width / width);
  for (let columns = 1; columns <= across; columns++) {
    const cut = columns * width;
    best.offer([
      { left: 0, top: 0, right: cut, bottom: room.height, turned: false },
      { left: cut, top: 0, right: room.width, bottom: room.height, turned: true },
    ]);
  }
  const down = Math.floor(room.height / height);
  for (let rows = 1; rows <= down; rows++) {
    const cut = rows * height;
    best.offer([
      { left: 0, top: 0, right: room.width, bottom: cut, turned: false },
      { left: 0, top: cut, right: room.width, bottom: room.height, turned: true },
    ]);
  }
  if (best.count <= PINWHEEL_MOST) pinwheels(best, room, kind);
  return best.layout;
}

/** Block 1 upright at the upper left, 2 turned at the upper right, 3 upright at the lower right, 4 turned at the lower left. */
function pinwheels(best: BestLayout, room: Room, { width, height }: Kind): void {
  const across = Math.floor(room.width / width);
  const down = Math.floor(room.height / height);
  const turnedDown = Math.floor(room.height / width);
  for (let a = 1; a <= across; a++) {
    const right1 = a * width;
    const turnedAcross = Math.floor((room.width - right1) / height);
    for (let d = 1; d <= across; d++) {
      const left3 = room.width - d * width;
      const left4 = Math.floor(left3 / height);
      for (let b = 1; b <= down; b++) {
        const bottom1 = b * height;
        const below1 = Math.floor((room.height - bottom1) / width);
        for (let c = 1; c <= turnedDown; c++) {
          const bottom2 = c * width;
          if (right1 > left3 && bottom1 > bottom2) continue;
          if (left3 > right1 && bottom2 > bottom1) continue;
          const below2 = Math.floor((room.height - bottom2) / height);
          const count = a * b + turnedAcross * c + d * below2 + left4 * below1;
          if (count <= best.count) continue;
          best.offer([
            { left: 0, top: 0, right: right1, bottom: bottom1, turned: false },
            { left: right1, top: 0, right: room.width, bottom: bottom2, turned: true },
            { left: left3, top: bottom2, right: room.width, bottom: room.height, turned: false },
            { left: 0, top: bottom1, right: left3, bottom: room.height, turned: true },
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
  readonly #room: Room;
  readonly #kind: Kind;
  readonly #index: number;
  #count = 0;
  #areas: readonly Area[] = [];

  constructor(room: Room, kind: Kind, index: number) {
    this.#room = room;
    this.#kind = kind;
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

  get layout(): LikeLayout {
    const blocks = this.#areas.flatMap((area): Block[] => {
      const columns = this.#columns(area);
      const rows = this.#rows(area);
      if (columns * rows === 0) return [];
      return [{ kind: this.#index, x: area.left, y: area.top, turned: area.turned, columns, rows }];
    });
    return { count: this.#count, blocks };
  }

  #columns({ left, right, turned }: Area): number {
    const room = Math.min(right, this.#room.width) - left;
    return Math.max(0, Math.floor(room / (turned ? this.#kind.height : this.#kind.width)));
  }

  #rows({ top, bottom, turned }: Area): number {
    const room = Math.min(bottom, this.#room.height) - top;
    return Math.max(0, Math.floor(room / (turned ? this.#kind.width : this.#kind.height)));
  }
}
