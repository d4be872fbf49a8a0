import type { MeasuredWidth, PixelBox } from '../../contract/facts.ts';
import type { InkPlane } from './plane.ts';
import { StrokeProbe } from './stroke-probe.ts';

/** Most strokes told. */
const TOLD_MOST = 24;
/** A cell where this many looks found no stroke is texture: no more looks there. */
const FAILS_MOST = 40;
const CELL_COARSE_PX = 32;
const CELL_FINE_PX = 16;

/**
 * Gathers the thin strokes (or gaps) of a plane, cell by cell of a coarse grid: each cell keeps its thinnest, so that a
 * long line is measured every few steps and not at every pixel. Cells side by side with like widths are told as one.
 */
export class StrokeCollector {
  readonly #probe: StrokeProbe;
  readonly #box: PixelBox;
  readonly #mostPx: number;
  readonly #cellPx: number;
  readonly #across: number;
  readonly #down: number;
  readonly #widths: Float32Array;
  readonly #fails: Uint8Array;
  /** left, top, right, bottom of what each cell's thinnest stroke covers, raster pixels, right and bottom within. */
  readonly #extents: Int32Array;

  /** @param mostPx wider strokes are of no interest. */
  constructor(plane: InkPlane, inverted: boolean, mostPx: number) {
    this.#probe = new StrokeProbe(plane, inverted);
    this.#box = plane.box;
    this.#mostPx = mostPx;
    this.#cellPx = Math.max(plane.box.width, plane.box.height) < 1000 ? CELL_FINE_PX : CELL_COARSE_PX;
    this.#across = Math.ceil(plane.box.width / this.#cellPx);
    this.#down = Math.ceil(plane.box.height / this.#cellPx);
    this.#widths = new Float32Array(this.#across * this.#down).fill(Number.POSITIVE_INFINITY);
    this.#fails = new Uint8Array(this.#across * this.#down);
    this.#extents = new Int32Array(4 * this.#across * this.#down);
  }

  /**
   * Looks at a pixel in the middle of a short run.
   *
   * @param x, y inside the plane's box.
   * @param run length of the run, px.
   * @param squared squared distance to the nearest pixel of the other kind.
   */
  consider(x: number, y: number, run: number, squared: number): void {
    const radius = Math.sqrt(squared);
    if (2 * radius - 1 > this.#mostPx) return;
    // In the middle of a stroke the run is at most sqrt(2) times its width; elsewhere the nearest edge is another one.
    if (2 * radius + 1 < 0.66 * run) return;
    const cell = Math.floor(y / this.#cellPx) * this.#across + Math.floor(x / this.#cellPx);
    if (this.#fails[cell]! >= FAILS_MOST) return;
    if (Math.min(2 * radius, run) >= this.#widths[cell]! - 0.3) return;
    const stroke = this.#probe.strokeAt(this.#box.left + x, this.#box.top + y, radius);
    if (stroke === null || stroke.widthPx > this.#mostPx) {
      this.#fails[cell]!++;
      return;
    }
    this.#record(stroke.widthPx, stroke.path);
  }

  /** The strokes found, thinnest first. */
  told(): MeasuredWidth[] {
    const owner = this.#joinCells();
    const strokes = new Map<
      number,
      { px: number; left: number; top: number; right: number; bottom: number }
    >();
    for (let cell = 0; cell < this.#widths.length; cell++) {
      const px = this.#widths[cell]!;
      if (px === Number.POSITIVE_INFINITY) continue;
      const left = this.#extents[4 * cell]!;
      const top = this.#extents[4 * cell + 1]!;
      const right = this.#extents[4 * cell + 2]!;
      const bottom = this.#extents[4 * cell + 3]!;
      const group = owner(cell);
      const told = strokes.get(group);
      if (told === undefined) strokes.set(group, { px, left, top, right, bottom });
      else {
        told.px = Math.min(told.px, px);
        told.left = Math.min(told.left, left);
        told.top = Math.min(told.top, top);
        told.right = Math.max(told.right, right);
        told.bottom = Math.max(told.bottom, bottom);
      }
    }
    return [...strokes.values()]
      .sort((one, other) => one.px - other.px)
      .slice(0, TOLD_MOST)
      .map(({ px, left, top, right, bottom }) => ({
        px: Math.round(100 * px) / 100,
        box: { left, top, width: right - left + 1, height: bottom - top + 1 },
      }));
  }

  #record(px: number, path: readonly number[]): void {
    const half = Math.max(0, px / 2 - 0.5);
    for (let index = 0; index < path.length; index += 2) {
      const px0 = path[index]!;
      const py0 = path[index + 1]!;
      const cellX = Math.floor((px0 - this.#box.left) / this.#cellPx);
      const cellY = Math.floor((py0 - this.#box.top) / this.#cellPx);
      if (cellX < 0 || cellY < 0 || cellX >= this.#across || cellY >= this.#down) continue;
      const cell = cellY * this.#across + cellX;
      const known = this.#widths[cell]!;
      if (px > known + 0.3) continue;
      const left = Math.max(this.#box.left, Math.round(px0 - half));
      const top = Math.max(this.#box.top, Math.round(py0 - half));
      const right = Math.min(this.#box.left + this.#box.width - 1, Math.round(px0 + half));
      const bottom = Math.min(this.#box.top + this.#box.height - 1, Math.round(py0 + half));
      const extents = this.#extents;
      if (px < known - 0.3) {
        extents[4 * cell] = left;
        extents[4 * cell + 1] = top;
        extents[4 * cell + 2] = right;
        extents[4 * cell + 3] = bottom;
      } else {
        extents[4 * cell] = Math.min(extents[4 * cell]!, left);
        extents[4 * cell + 1] = Math.min(extents[4 * cell + 1]!, top);
        extents[4 * cell + 2] = Math.max(extents[4 * cell + 2]!, right);
        extents[4 * cell + 3] = Math.max(extents[4 * cell + 3]!, bottom);
      }
      this.#widths[cell] = Math.min(known, px);
    }
  }

  #joinCells(): (cell: number) => number {
    const parent = Int32Array.from({ length: this.#widths.length }, (_, cell) => cell);
    const owner = (cell: number): number => {
      let root = cell;
      while (parent[root] !== root) root = parent[root]!;
      while (parent[cell] !== root) {
        const next = parent[cell]!;
        parent[cell] = root;
        cell = next;
      }
      return root;
    };
    const like = (one: number, other: number): boolean => {
      const a = this.#widths[one]!;
      const b = this.#widths[other]!;
      if (a === Number.POSITIVE_INFINITY || b === Number.POSITIVE_INFINITY) return false;
      return Math.abs(a - b) <= 0.5 + 0.2 * Math.min(a, b);
    };
    for (let y = 0; y < this.#down; y++)
      for (let x = 0; x < this.#across; x++) {
        const cell = y * this.#across + x;
        for (const [dx, dy] of [
          [1, 0],
          [-1, 1],
          [0, 1],
          [1, 1],
        ] as const) {
          const nx = x + dx;
          const ny = y + dy;
          if (nx < 0 || nx >= this.#across || ny >= this.#down) continue;
          const other = ny * this.#across + nx;
          if (like(cell, other)) parent[owner(cell)] = owner(other);
        }
      }
    return owner;
  }
}
