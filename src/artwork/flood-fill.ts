/** Scanline flood fill of four-connected areas. */
export class FloodFill {
  readonly #filled: Uint8Array;
  readonly #width: number;
  readonly #height: number;
  readonly #isOpen: (at: number) => boolean;
  /** left, right and row of the spans whose neighbors are still to be filled. */
  readonly #spans: number[] = [];
  #count = 0;

  /**
   * @param filled one byte a pixel, row-major; pixels that are 0 may be filled, and become 1.
   * @param isOpen whether a pixel, by its index in `filled`, may be filled.
   */
  constructor(filled: Uint8Array, width: number, height: number, isOpen: (at: number) => boolean) {
    this.#filled = filled;
    this.#width = width;
    this.#height = height;
    this.#isOpen = isOpen;
  }

  /** Seeds the fill with the open pixels of all four edges. */
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

  /** Seeds the fill with a pixel, if it is open. */
  seedAt(x: number, y: number): void {
    this.#fillRow(x, x, y);
  }

  /** Fills everything connected to the seeds; returns the number of pixels filled so far. */
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

  /** Fills every span of open pixels of a row that has a pixel from `from` to `to`. */
  #fillRow(from: number, to: number, y: number): void {
    const filled = this.#filled;
    const isOpen = this.#isOpen;
    const row = y * this.#width;
    const end = row + this.#width;
    const last = row + to;
    for (let at = row + from; at <= last; at++) {
      if (filled[at] === 1 || !isOpen(at)) continue;
      let left = at;
      while (left > row && filled[left - 1] === 0 && isOpen(left - 1)) left--;
      let right = at + 1;
      while (right < end && filled[right] === 0 && isOpen(right)) right++;
      filled.fill(1, left, right);
      this.#count += right - left;
      this.#spans.push(left - row, right - 1 - row, y);
      // The pixel that ended the span is closed or already filled.
      at = right;
    }
  }
}
