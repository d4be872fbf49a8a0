import type { NamesPlacement } from '../../../src/contract/index.ts';
import { hundredth } from '../../../src/figures.ts';
import type { NamePicture, nameDrawing } from '../name-picture.ts';

type Drawing = ReturnType<typeof nameDrawing>;
type Position = { xMm: number; yMm: number; widthMm: number; angleDeg: number };

/** Most pictures kept in the cache. */
const CACHE_MAX = 12;
const RETRY_MS = 3_000;

/** Pictures of names for the drawing. The code and fonts that make them are loaded with the first. */
export class NamePreviews {
  readonly #code: () => Promise<Drawing>;
  readonly #changed: () => void;
  readonly #widths = new Map<string, number | null>();
  readonly #pictures = new Map<string, NamePicture | null>();

  /**
   * @param code loads what draws names
   * @param changed called when a picture is ready
   */
  constructor(code: () => Promise<Drawing>, changed: () => void) {
    this.#code = code;
    this.#changed = changed;
  }

  /** A name at its position and size, mm; null until it is known. A picture of another size stands in until its own is ready. */
  preview(names: NamesPlacement, text: string): (Position & { readonly picture: NamePicture }) | null {
    const ratio = this.#widthRatio(names, text);
    if (!ratio) return null;
    const squeeze = this.#squeeze(names, ratio);
    const key = `${names.font}\n${text}\n${names.hex}\n`;
    const exact = `${key}${squeeze.toFixed(2)}`;
    const picture = this.#load(this.#pictures, exact, (code) =>
      code.drawName(names.font, names.hex, text, squeeze),
    );
    const shown =
      picture ?? [...this.#pictures].findLast(([other, found]) => found && other.startsWith(key))?.[1];
    while (this.#pictures.size > CACHE_MAX) {
      const [oldest, old] = this.#pictures.entries().next().value!;
      this.#pictures.delete(oldest);
      if (old) URL.revokeObjectURL(old.address);
    }
    const { xMm, yMm, angleDeg } = names;
    return shown
      ? { xMm, yMm, angleDeg, widthMm: hundredth(ratio * squeeze * names.capHeightMm), picture: shown }
      : null;
  }

  /** The names after the shown one was moved, scaled or turned on the drawing. */
  applyMove(names: NamesPlacement, text: string, { xMm, yMm, angleDeg, widthMm }: Position): NamesPlacement {
    const ratio = this.#widthRatio(names, text);
    if (!ratio) return { ...names, xMm, yMm, angleDeg };
    const squeeze = this.#squeeze(names, ratio);
    const factor = widthMm / (ratio * squeeze * names.capHeightMm);
    // a move without scaling keeps the height as it was typed
    if (Math.abs(factor - 1) < 0.001) return { ...names, xMm, yMm, angleDeg };
    const capHeightMm = hundredth(Math.min(400, Math.max(3, names.capHeightMm * factor)));
    const widest = squeeze < 1 ? Math.max(5, hundredth(widthMm)) : names.widthMm;
    return { ...names, xMm, yMm, angleDeg, capHeightMm, widthMm: widest };
  }

  #widthRatio({ font }: NamesPlacement, text: string): number | null {
    return this.#load(this.#widths, `${font}\n${text}`, (code) => code.measureName(font, text));
  }

  #squeeze({ capHeightMm, widthMm }: NamesPlacement, ratio: number): number {
    return Math.min(1, widthMm / (ratio * capHeightMm));
  }

  /** The cached value; null while it is loading. What does not arrive is loaded again after a while. */
  #load<T>(cache: Map<string, T | null>, key: string, work: (code: Drawing) => Promise<T | null>): T | null {
    if (cache.has(key)) return cache.get(key) ?? null;
    cache.set(key, null);
    this.#code()
      .then(work)
      .then(
        (found) => cache.set(key, found),
        () => setTimeout(() => cache.delete(key), RETRY_MS),
      )
      .finally(this.#changed);
    return null;
  }
}
