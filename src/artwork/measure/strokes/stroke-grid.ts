import type { MeasuredWidth, PixelBox } from '../../../contract/facts.ts';

/** Most strokes in a result. */
const MAX_STROKES = 24;
/** Cells are 32 px wide, in small pictures 16. */
const COARSE_CELL_SHIFT = 5;
const FINE_CELL_SHIFT = 4;
const SMALL_PICTURE_PX = 1000;
/** Widths that differ by less than this, px, are the same. */
const SAME_WIDTH_PX = 0.3;
/** Widths of adjacent cells that are the same stroke: this far apart, px, and this share of the thinner one. */
const JOINED_WIDTH_PX = 0.5;
const JOINED_WIDTH_SHARE = 0.2;
const MAX_INT32 = 0x7fffffff;
/** The half of a cell's neighbors that come after it. */
const LATER_NEIGHBORS = [
  [1, 0],
  [-1, 1],
  [0, 1],
  [1, 1],
] as const;

type Extent = { left: number; top: number; right: number; bottom: number };

/** Whether a stroke of `width` px would be thinner than one of `known` px; widths this close are the same. */
export function isThinner(width: number, known: number): boolean {
  return width < 0.97 * known - 0.3;
}

/** Whether a stroke of `known` px can be up to `width` px wide where it is measured roughly. */
export function canBe(width: number, known: number): boolean {
  return width <= 1.15 * known + 0.7;
}

/**
 * A coarse grid that keeps the thinnest stroke of each cell, so that a long line is measured every few steps and not at
 * every pixel. Adjacent cells with similar widths are one stroke in the result. Cells are numbered row by row.
 */
export class StrokeGrid {
  readonly cellCount: number;
  readonly #box: PixelBox;
  readonly #shift: number;
  readonly #across: number;
  readonly #down: number;
  readonly #widths: Float32Array;
  /** left, top, right, bottom of the thinnest stroke of each cell, raster pixels, right and bottom inclusive. */
  readonly #extents: Int32Array;

  /** @param box of the ink, raster pixels. */
  constructor(box: PixelBox) {
    this.#box = box;
    this.#shift = Math.max(box.width, box.height) < SMALL_PICTURE_PX ? FINE_CELL_SHIFT : COARSE_CELL_SHIFT;
    this.#across = Math.ceil(box.width / (1 << this.#shift));
    this.#down = Math.ceil(box.height / (1 << this.#shift));
    this.cellCount = this.#across * this.#down;
    this.#widths = new Float32Array(this.cellCount).fill(Number.POSITIVE_INFINITY);
    this.#extents = new Int32Array(4 * this.cellCount);
  }

  /** The cell of a pixel of the box. */
  cellAt(x: number, y: number): number {
    return (y >> this.#shift) * this.#across + (x >> this.#shift);
  }

  /** Width of the thinnest stroke of a cell, px; infinite if none was recorded. */
  widthOf(cell: number): number {
    return this.#widths[cell]!;
  }

  /**
   * The width of a stroke of an adjacent cell that may continue into this one; undefined if there is none.
   *
   * @param widest upper bound of the width here, px.
   */
  adjacentWidth(cell: number, widest: number): number | undefined {
    const own = this.#widths[cell]!;
    const cellX = cell % this.#across;
    const cellY = (cell - cellX) / this.#across;
    for (let y = Math.max(0, cellY - 1); y <= Math.min(this.#down - 1, cellY + 1); y++)
      for (let x = Math.max(0, cellX - 1); x <= Math.min(this.#across - 1, cellX + 1); x++) {
        const width = this.#widths[y * this.#across + x]!;
        if (width < own && !isThinner(widest, width) && canBe(widest, width)) return width;
      }
    return undefined;
  }

  /** Extends the box of a cell's stroke to another of its pixels, given in pixels of the box. */
  extend(cell: number, x: number, y: number, widthPx: number): void {
    const half = Math.max(0, widthPx / 2 - 0.5);
    const { left, top, width, height } = this.#box;
    const extents = this.#extents;
    const at = 4 * cell;
    extents[at] = Math.min(extents[at]!, left + Math.max(0, Math.ceil(x - half)));
    extents[at + 1] = Math.min(extents[at + 1]!, top + Math.max(0, Math.ceil(y - half)));
    extents[at + 2] = Math.max(extents[at + 2]!, left + Math.min(width - 1, Math.floor(x + half)));
    extents[at + 3] = Math.max(extents[at + 3]!, top + Math.min(height - 1, Math.floor(y + half)));
  }

  /** Records a stroke in every cell that its path (x, y in raster pixels) crosses and that has no thinner one. */
  record(widthPx: number, path: readonly number[]): void {
    for (let index = 0; index < path.length; index += 2) {
      const x = path[index]! - this.#box.left;
      const y = path[index + 1]! - this.#box.top;
      const cellX = x >> this.#shift;
      const cellY = y >> this.#shift;
      if (cellX < 0 || cellY < 0 || cellX >= this.#across || cellY >= this.#down) continue;
      const cell = cellY * this.#across + cellX;
      const known = this.#widths[cell]!;
      if (widthPx > known + SAME_WIDTH_PX) continue;
      if (widthPx < known - SAME_WIDTH_PX) {
        this.#extents[4 * cell] = this.#extents[4 * cell + 1] = MAX_INT32;
        this.#extents[4 * cell + 2] = this.#extents[4 * cell + 3] = -1;
      }
      this.extend(cell, x, y, widthPx);
      this.#widths[cell] = Math.min(known, widthPx);
    }
  }

  /** The strokes, thinnest first, at most 24. */
  strokes(): MeasuredWidth[] {
    const componentOf = this.#connectedComponents();
    const strokes = new Map<number, { px: number } & Extent>();
    for (let cell = 0; cell < this.cellCount; cell++) {
      const px = this.#widths[cell]!;
      if (px === Number.POSITIVE_INFINITY) continue;
      const left = this.#extents[4 * cell]!;
      const top = this.#extents[4 * cell + 1]!;
      const right = this.#extents[4 * cell + 2]!;
      const bottom = this.#extents[4 * cell + 3]!;
      const component = componentOf(cell);
      const stroke = strokes.get(component);
      if (stroke === undefined) strokes.set(component, { px, left, top, right, bottom });
      else {
        stroke.px = Math.min(stroke.px, px);
        stroke.left = Math.min(stroke.left, left);
        stroke.top = Math.min(stroke.top, top);
        stroke.right = Math.max(stroke.right, right);
        stroke.bottom = Math.max(stroke.bottom, bottom);
      }
    }
    return [...strokes.values()]
      .sort((one, other) => one.px - other.px)
      .slice(0, MAX_STROKES)
      .map(({ px, left, top, right, bottom }) => ({
        px: Math.round(100 * px) / 100,
        box: { left, top, width: right - left + 1, height: bottom - top + 1 },
      }));
  }

  /** Labels connected cells of similar width (union-find); returns the label of a cell. */
  #connectedComponents(): (cell: number) => number {
    const parent = Int32Array.from({ length: this.cellCount }, (_, cell) => cell);
    const rootOf = (cell: number): number => {
      let root = cell;
      while (parent[root] !== root) root = parent[root]!;
      while (parent[cell] !== root) {
        const next = parent[cell]!;
        parent[cell] = root;
        cell = next;
      }
      return root;
    };
    for (let y = 0; y < this.#down; y++)
      for (let x = 0; x < this.#across; x++)
        for (const [dx, dy] of LATER_NEIGHBORS) {
          const otherX = x + dx;
          const otherY = y + dy;
          if (otherX < 0 || otherX >= this.#across || otherY >= this.#down) continue;
          const cell = y * this.#across + x;
          const other = otherY * this.#across + otherX;
          if (this.#areSimilar(cell, other)) parent[rootOf(cell)] = rootOf(other);
        }
    return rootOf;
  }

  #areSimilar(one: number, other: number): boolean {
    const a = this.#widths[one]!;
    const b = this.#widths[other]!;
    if (a === Number.POSITIVE_INFINITY || b === Number.POSITIVE_INFINITY) return false;
    return Math.abs(a - b) <= JOINED_WIDTH_PX + JOINED_WIDTH_SHARE * Math.min(a, b);
  }
}
