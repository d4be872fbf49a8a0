import type { MeasuredWidth, PixelBox } from '../../contract/facts.ts';
import type { ColumnDistances } from './column-distances.ts';
import { squaredDistanceAt } from './exact-distance.ts';
import type { InkPlane } from './plane.ts';
import { StrokeTracer } from './stroke-tracer.ts';

/** Most strokes told. */
const TOLD_MOST = 24;
/** Looks that found no stroke use up a cell's patience, wide ones more of it; then it is texture: no more looks there. */
const PATIENCE = 40;
const PATIENCE_PER_PX = 1 / 8;
/** After this many looks in vain in all, a picture is mostly texture, and every cell has less patience. */
const VAIN_MOST = 6000;
const LITTLE_PATIENCE = 4;
/** Texture: more runs than this were checked, and fewer than one in so many was a stroke. */
const CHECKED_MOST = 1_000_000;
const HITS_LEAST_ONE_IN = 5000;
/** Widths this close are one, going down and going up. */
const SAME_WIDTH = 0.97;
const ALIKE_WIDTH = 1.15;
/** Rows looked at on each side of a run to see whether it goes on like this, and how many of all must be alike. */
const ROWS_EACH_SIDE = 3;
const ROWS_ALIKE = 5;
const MOST = 0x7fffffff;
/** Cells are 32 px wide, in small pictures 16. */
const CELL_COARSE_SHIFT = 5;
const CELL_FINE_SHIFT = 4;

/**
 * Gathers the thin strokes (or gaps) of a plane, cell by cell of a coarse grid: each cell keeps its thinnest, so that a
 * long line is measured every few steps and not at every pixel. Cells side by side with like widths are told as one.
 */
export class StrokeCollector {
  readonly #tracer: StrokeTracer;
  readonly #box: PixelBox;
  readonly #mostPx: number;
  readonly #cellShift: number;
  readonly #across: number;
  readonly #down: number;
  readonly #widths: Float32Array;
  readonly #spent: Float32Array;
  /** for each cell, from which bound on the width on a look told nothing thinner than was known. */
  readonly #settled: Float32Array;
  #vain = 0;
  #checked = 0;
  #hits = 0;
  readonly #columns: ColumnDistances;
  readonly #sign: 1 | -1;
  /** left, top, right, bottom of what each cell's thinnest stroke covers, raster pixels, right and bottom within. */
  readonly #extents: Int32Array;

  /**
   * @param columns the column runs of the plane; of the row looked at they must be to the nearer end.
   * @param inverted gather gaps.
   * @param mostPx wider strokes are of no interest.
   */
  constructor(plane: InkPlane, columns: ColumnDistances, inverted: boolean, mostPx: number) {
    this.#columns = columns;
    this.#sign = inverted ? -1 : 1;
    this.#tracer = new StrokeTracer(plane, inverted);
    this.#box = plane.box;
    this.#mostPx = mostPx;
    this.#cellShift =
      Math.max(plane.box.width, plane.box.height) < 1000 ? CELL_FINE_SHIFT : CELL_COARSE_SHIFT;
    const cellPx = 1 << this.#cellShift;
    this.#across = Math.ceil(plane.box.width / cellPx);
    this.#down = Math.ceil(plane.box.height / cellPx);
    this.#widths = new Float32Array(this.#across * this.#down).fill(Number.POSITIVE_INFINITY);
    this.#spent = new Float32Array(this.#across * this.#down);
    this.#settled = new Float32Array(this.#across * this.#down).fill(Number.POSITIVE_INFINITY);
    this.#extents = new Int32Array(4 * this.#across * this.#down);
  }

  /** Whether so much was looked at and so little found that the picture must be texture. */
  get isTexture(): boolean {
    return this.#checked > CHECKED_MOST && this.#hits * HITS_LEAST_ONE_IN < this.#checked;
  }

  /**
   * Looks at a pixel in the middle of a short run.
   *
   * @param x, y inside the plane's box.
   * @param run length of the run, px.
   * @param along whether the run is a column's, not a row's.
   */
  consider(x: number, y: number, run: number, along: boolean): void {
    const cellX = x >> this.#cellShift;
    const cellY = y >> this.#cellShift;
    const cell = cellY * this.#across + cellX;
    const known = this.#widths[cell]!;
    // Any pixel is at least 1 px from the other kind: where the known stroke is that thin, nothing thinner can come.
    if (Math.min(2, run) >= SAME_WIDTH * known - 0.3) {
      if (run <= ALIKE_WIDTH * known + 0.7) this.#extend(cell, x, y, known);
      return;
    }
    if (this.#spent[cell]! >= (this.#vain < VAIN_MOST ? PATIENCE : LITTLE_PATIENCE)) return;
    const radius = Math.sqrt(squaredDistanceAt(this.#columns, x, y));
    if (2 * radius - 1 > this.#mostPx) return;
    // In the middle of a stroke the run is at most sqrt(2) times its width; elsewhere the nearest edge is another one.
    if (2 * radius + 1 < 0.66 * run) return;
    // No stroke through here can be wider than this.
    const widest = Math.min(2 * radius, run);
    if (widest >= Math.min(SAME_WIDTH * known - 0.3, this.#settled[cell]!)) {
      if (widest <= ALIKE_WIDTH * known + 0.7) this.#extend(cell, x, y, known);
      return;
    }
    this.#checked++;
    if (!this.#isContinuous(x, y, run, along)) return;
    if (this.#adopts(cell, cellX, cellY, x, y, widest)) return;
    const stroke = this.#tracer.strokeAt(this.#box.left + x, this.#box.top + y, radius);
    if (stroke === null || stroke.widthPx > this.#mostPx) {
      this.#vain++;
      this.#spent[cell]! += 1 + radius * PATIENCE_PER_PX;
      return;
    }
    this.#hits++;
    // Pixel stairs make the bound smaller than the stroke is: once is enough to know that.
    if (stroke.widthPx > known - 0.3) this.#settled[cell] = Math.min(this.#settled[cell]!, widest);
    this.#record(stroke.widthPx, stroke.path);
  }

  /** Whether the runs beside this one, a few rows (or columns) to either side, are about as long and in line. */
  #isContinuous(x: number, y: number, run: number, along: boolean): boolean {
    const { width, height, stride } = this.#columns;
    const step = Math.max(1, run >> 2);
    const slack = 1 + run / 4;
    let alike = 0;
    let tried = 0;
    for (const side of [step, -step]) {
      let middle = along ? y : x;
      for (let row = 1; row <= ROWS_EACH_SIDE; row++) {
        // Even if all that is left were alike, it would not do.
        if (alike + 2 * ROWS_EACH_SIDE - tried < ROWS_ALIKE) return false;
        tried++;
        const line = (along ? x : y) + row * side;
        if (line < 0 || line >= (along ? width : height)) continue;
        const found = along
          ? this.#runAt(line, stride, height, middle, run + slack)
          : this.#runAt(line * stride, 1, width, middle, run + slack);
        if (Math.abs(found.length - run) > slack) {
          tried += ROWS_EACH_SIDE - row;
          break;
        }
        middle = found.middle;
        alike++;
      }
    }
    return alike >= ROWS_ALIKE;
  }

  /** The run that holds a place of a row or column, or one beside it; length 0 when there is none. */
  #runAt(
    start: number,
    stride: number,
    count: number,
    place: number,
    most: number,
  ): { length: number; middle: number } {
    const { cells } = this.#columns;
    const sign = this.#sign;
    let at = place;
    if (cells[start + at * stride]! * sign < 0) {
      if (at > 0 && cells[start + (at - 1) * stride]! * sign > 0) at--;
      else if (at + 1 < count && cells[start + (at + 1) * stride]! * sign > 0) at++;
      else return { length: 0, middle: place };
    }
    let first = at;
    while (first > 0 && at - first <= most && cells[start + (first - 1) * stride]! * sign > 0) first--;
    let last = at;
    while (last + 1 < count && last - first <= most && cells[start + (last + 1) * stride]! * sign > 0) last++;
    return { length: last - first + 1, middle: (first + last) >> 1 };
  }

  /** Takes over the width of a cell beside, when this can be the same stroke going on or one just like it. */
  #adopts(cell: number, cellX: number, cellY: number, x: number, y: number, widest: number): boolean {
    for (let ny = Math.max(0, cellY - 1); ny <= Math.min(this.#down - 1, cellY + 1); ny++)
      for (let nx = Math.max(0, cellX - 1); nx <= Math.min(this.#across - 1, cellX + 1); nx++) {
        const known = this.#widths[ny * this.#across + nx]!;
        if (
          known >= this.#widths[cell]! ||
          widest < SAME_WIDTH * known - 0.3 ||
          widest > ALIKE_WIDTH * known + 0.7
        )
          continue;
        this.#record(known, [this.#box.left + x, this.#box.top + y]);
        return true;
      }
    return false;
  }

  /** The strokes found, thinnest first. */
  results(): MeasuredWidth[] {
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

  /** Lets a cell's box reach to another place of its stroke. */
  #extend(cell: number, x: number, y: number, px: number): void {
    const half = Math.max(0, px / 2 - 0.5);
    const { left, top, width, height } = this.#box;
    const extents = this.#extents;
    extents[4 * cell] = Math.min(extents[4 * cell]!, left + Math.max(0, Math.ceil(x - half)));
    extents[4 * cell + 1] = Math.min(extents[4 * cell + 1]!, top + Math.max(0, Math.ceil(y - half)));
    extents[4 * cell + 2] = Math.max(
      extents[4 * cell + 2]!,
      left + Math.min(width - 1, Math.floor(x + half)),
    );
    extents[4 * cell + 3] = Math.max(
      extents[4 * cell + 3]!,
      top + Math.min(height - 1, Math.floor(y + half)),
    );
  }

  #record(px: number, path: readonly number[]): void {
    for (let index = 0; index < path.length; index += 2) {
      const px0 = path[index]!;
      const py0 = path[index + 1]!;
      const cellX = (px0 - this.#box.left) >> this.#cellShift;
      const cellY = (py0 - this.#box.top) >> this.#cellShift;
      if (cellX < 0 || cellY < 0 || cellX >= this.#across || cellY >= this.#down) continue;
      const cell = cellY * this.#across + cellX;
      const known = this.#widths[cell]!;
      if (px > known + 0.3) continue;
      if (px < known - 0.3) {
        this.#extents[4 * cell] = this.#extents[4 * cell + 1] = MOST;
        this.#extents[4 * cell + 2] = this.#extents[4 * cell + 3] = -1;
      }
      this.#extend(cell, px0 - this.#box.left, py0 - this.#box.top, px);
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
