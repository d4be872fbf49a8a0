import type { MeasuredWidth } from '../../../contract/facts.ts';
import type { ColumnDistances } from '../column-distances.ts';
import { squaredDistanceAt } from '../exact-distance.ts';
import type { InkPlane } from '../plane.ts';
import { isContinuous } from './run-continuity.ts';
import { canBe, isThinner, StrokeGrid } from './stroke-grid.ts';
import { StrokeTracer } from './stroke-tracer.ts';

/** A cell's budget of traces without a stroke, wide ones costing more; beyond it the cell is texture and is skipped. */
const CELL_BUDGET = 40;
const COST_PER_PX = 1 / 8;
/** After this many traces without a stroke the picture is mostly texture, and every cell has the smaller budget. */
const MAX_MISSES = 6000;
const SMALL_CELL_BUDGET = 4;
/** Texture: more runs than this were checked, and fewer than one in so many was a stroke. */
const TEXTURE_CHECKS = 1_000_000;
const TEXTURE_CHECKS_PER_HIT = 5000;

/** Collects the thin strokes (or gaps) of a plane from the middles of its short runs. */
export class StrokeCollector {
  readonly #columns: ColumnDistances;
  readonly #sign: 1 | -1;
  readonly #maxPx: number;
  readonly #tracer: StrokeTracer;
  readonly #plane: InkPlane;
  readonly #grid: StrokeGrid;
  /** of each cell's budget. */
  readonly #spent: Float32Array;
  /** for each cell, the bound on the width from which a trace found nothing thinner than was known. */
  readonly #settled: Float32Array;
  #misses = 0;
  #checks = 0;
  #hits = 0;

  /**
   * @param columns of the plane; up to and including the row considered, the distances must be to the nearer end.
   * @param inverted collect gaps.
   * @param maxPx wider strokes are ignored.
   */
  constructor(plane: InkPlane, columns: ColumnDistances, inverted: boolean, maxPx: number) {
    this.#columns = columns;
    this.#sign = inverted ? -1 : 1;
    this.#maxPx = maxPx;
    this.#tracer = new StrokeTracer(plane, inverted);
    this.#plane = plane;
    this.#grid = new StrokeGrid(plane.box);
    this.#spent = new Float32Array(this.#grid.cellCount);
    this.#settled = new Float32Array(this.#grid.cellCount).fill(Number.POSITIVE_INFINITY);
  }

  /** Whether so much was checked and so little found that the picture must be texture. */
  get isTexture(): boolean {
    return this.#checks > TEXTURE_CHECKS && this.#hits * TEXTURE_CHECKS_PER_HIT < this.#checks;
  }

  /**
   * Considers the middle of a short run.
   *
   * @param x, y pixel of the plane's box.
   * @param run length of the run, px.
   * @param vertical whether it is a run of a column, not of a row.
   */
  consider(x: number, y: number, run: number, vertical: boolean): void {
    const grid = this.#grid;
    const cell = grid.cellAt(x, y);
    const known = grid.widthOf(cell);
    // Every pixel is at least 1 px from the other kind: if the known stroke is that thin, nothing thinner can come.
    if (!isThinner(Math.min(2, run), known)) {
      if (canBe(run, known)) grid.extend(cell, x, y, known);
      return;
    }
    if (this.#spent[cell]! >= (this.#misses < MAX_MISSES ? CELL_BUDGET : SMALL_CELL_BUDGET)) return;
    const radius = Math.sqrt(squaredDistanceAt(this.#columns, x, y));
    if (2 * radius - 1 > this.#maxPx) return;
    // In the middle of a stroke the run is at most sqrt(2) times its width; elsewhere the nearest edge is another one.
    if (2 * radius + 1 < 0.66 * run) return;
    // No stroke through here can be wider than this.
    const widest = Math.min(2 * radius, run);
    if (!isThinner(widest, known) || widest >= this.#settled[cell]!) {
      if (canBe(widest, known)) grid.extend(cell, x, y, known);
      return;
    }
    this.#checks++;
    if (!isContinuous(this.#columns, this.#sign, x, y, run, vertical)) return;
    const { left, top } = this.#plane.box;
    const adjacent = grid.adjacentWidth(cell, widest);
    if (adjacent !== undefined) {
      grid.record(adjacent, [left + x, top + y]);
      return;
    }
    const stroke = this.#tracer.strokeAt(left + x, top + y, radius);
    if (stroke === undefined || stroke.widthPx > this.#maxPx) {
      this.#misses++;
      this.#spent[cell]! += 1 + radius * COST_PER_PX;
      return;
    }
    this.#hits++;
    // On pixel stairs the bound is smaller than the stroke: trace such a place only once.
    if (stroke.widthPx > known - 0.3) this.#settled[cell] = Math.min(this.#settled[cell]!, widest);
    grid.record(stroke.widthPx, stroke.path);
  }

  /** The strokes found, thinnest first, at most 24. */
  results(): MeasuredWidth[] {
    return this.#grid.strokes();
  }
}
