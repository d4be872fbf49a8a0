/**
 * Fills connected areas span by span: every pixel that can be reached from where it was started, going left, right, up
 * and down over open pixels.
 */
export class FloodFill {
  readonly #reached: Uint8Array;
  readonly #width: number;
  readonly #height: number;
  readonly #isOpen: (at: number) => boolean;
  /** left, right and row of spans whose neighbors are still to be looked at. */
  readonly #spans: number[] = [];
  #count = 0;

  /**
   * @param reached one byte a pixel, row-major, 0 where nothing was reached yet; 1 is written where it was.
   * @param isOpen whether a pixel, by its place in `reached`, lets the flood in.
   */
  constructor(reached: Uint8Array, width: number, height: number, isOpen: (at: number) => boolean) {
    this.#reached = reached;
    this.#width = width;
    this.#height = height;
    this.#isOpen = isOpen;
  }

  /** Starts from all four edges. */
  seedEdges(): void {
    for (let x = 0; x < this.#width; x++) {
      this.seedAt(x, 0);
      this.seedAt(x, this.#height - 1);
    }
    for (let y = 0; y < this.#height; y++) {
      this.seedAt(0, y);
      this.seedAt(this.#width - 1, y);
    }
  }

  /** Starts from a pixel, if it is open. */
  seedAt(x: number, y: number): void {
    this.#fillRow(x, x, y);
  }

  /** Spreads until nothing more can be reached; gives the number of pixels reached since the beginning. */
  run(): number {
    const spans = this.#spans;
    while (spans.length > 0) {
      const y = spans.pop()!;
      const right = spans.pop()!;
      const left = spans.pop()!;
      if (y > 0) this.#fillRow(left, right, y - 1);
      if (y < this.#height - 1) this.#fillRow(left, right, y + 1);
    }
    return this.#count;
  }

  /** Fills every span of open pixels of a row that has one between two places. */
  #fillRow(from: number, to: number, y: number): void {
    const reached = this.#reached;
    const isOpen = this.#isOpen;
    const row = y * this.#width;
    const end = row + this.#width;
    const last = row + to;
    for (let at = row + from; at <= last; at++) {
      if (reached[at] === 1 || !isOpen(at)) continue;
      let left = at;
      while (left > row && reached[left - 1] === 0 && isOpen(left - 1)) left--;
      let right = at + 1;
      while (right < end && reached[right] === 0 && isOpen(right)) right++;
      reached.fill(1, left, right);
      this.#count += right - left;
      this.#spans.push(left - row, right - 1 - row, y);
      // What ended the span is not open, or was reached.
      at = right;
    }
  }
}
