/**
 * Fills connected areas span by span: every pixel that can be reached from where it was started, going left, right, up
 * and down over open pixels.
 */
export class Flood {
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
  startAtEdges(): void {
    for (let x = 0; x < this.#width; x++) {
      this.startAt(x, 0);
      this.startAt(x, this.#height - 1);
    }
    for (let y = 0; y < this.#height; y++) {
      this.startAt(0, y);
      this.startAt(this.#width - 1, y);
    }
  }

  /** Starts from a pixel, if it is open. */
  startAt(x: number, y: number): void {
    const reached = this.#reached;
    const isOpen = this.#isOpen;
    const row = y * this.#width;
    if (reached[row + x] === 1 || !isOpen(row + x)) return;
    let left = x;
    while (left > 0 && reached[row + left - 1] === 0 && isOpen(row + left - 1)) left--;
    let right = x;
    while (right < this.#width - 1 && reached[row + right + 1] === 0 && isOpen(row + right + 1)) right++;
    reached.fill(1, row + left, row + right + 1);
    this.#count += right - left + 1;
    this.#spans.push(left, right, y);
  }

  /** Spreads until nothing more can be reached; gives the number of pixels reached since the beginning. */
  spread(): number {
    const spans = this.#spans;
    while (spans.length > 0) {
      const y = spans.pop()!;
      const right = spans.pop()!;
      const left = spans.pop()!;
      for (let x = left; x <= right; x++) {
        if (y > 0) this.startAt(x, y - 1);
        if (y < this.#height - 1) this.startAt(x, y + 1);
      }
    }
    return this.#count;
  }
}
