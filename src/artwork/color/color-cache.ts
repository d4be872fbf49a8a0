/** Number of slots of a `ColorCache`: slots are 0 to this, exclusive. */
export const COLOR_SLOTS = 1 << 16;

/**
 * A direct-mapped cache of something computed from an sRGB color: pictures repeat their colors. The caller keeps the
 * values in arrays of `COLOR_SLOTS` entries; two colors that share a slot evict each other.
 */
export class ColorCache {
  readonly #colors = new Int32Array(COLOR_SLOTS).fill(-1);
  readonly #compute: (slot: number, red: number, green: number, blue: number) => void;

  /** @param compute stores the value of a color at its slot. */
  constructor(compute: (slot: number, red: number, green: number, blue: number) => void) {
    this.#compute = compute;
  }

  /** The slot that holds the value of a color (bytes), computed if it is not there. */
  slotOf(red: number, green: number, blue: number): number {
    const color = (red << 16) | (green << 8) | blue;
    const slot = Math.imul(color, 0x9e3779b1) >>> 16;
    if (this.#colors[slot] !== color) {
      this.#colors[slot] = color;
      this.#compute(slot, red, green, blue);
    }
    return slot;
  }
}
