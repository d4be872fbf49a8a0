import type { NamesPlacement } from '../../src/contract/index.ts';
import { hundredth } from '../../src/figures.ts';
import type { Lazy } from '../lazy.ts';
import type { NamePicture } from './name-picture.ts';

type Drawing = typeof import('./name-picture.ts');
type Position = { xMm: number; yMm: number; widthMm: number; angleDeg: number };

/** Pictures kept for the next time they are shown. */
const KEPT = 12;
const RETRY_MS = 3_000;

/** Pictures of names for the drawing, made by code and faces of type that are fetched with the first of them. */
export class ShownNames {
  readonly #code: Lazy<Drawing>;
  readonly #changed: () => void;
  readonly #widths = new Map<string, number | null>();
  readonly #pictures = new Map<string, NamePicture | null>();

  /** @param changed called when a picture that was asked for is there. */
  constructor(code: Lazy<Drawing>, changed: () => void) {
    this.#code = code;
    this.#changed = changed;
  }

  /** A name where and as large as it is set; null until it is known. The picture of another size stands in for its own. */
  show(names: NamesPlacement, text: string): (Position & { readonly picture: NamePicture }) | null {
    const ratio = this.#ratio(names, text);
    if (!ratio) return null;
    const squeeze = this.#squeeze(names, ratio);
    const key = `${names.font}\n${text}\n${names.hex}\n`;
    const exact = `${key}${squeeze.toFixed(2)}`;
    const known = this.#ask(this.#pictures, exact, (code) =>
      code.drawName(names.font, names.hex, text, squeeze),
    );
    const alike =
      known ?? [...this.#pictures].findLast(([other, found]) => found && other.startsWith(key))?.[1];
    while (this.#pictures.size > KEPT) {
      const [oldest, picture] = this.#pictures.entries().next().value!;
      this.#pictures.delete(oldest);
      if (picture) URL.revokeObjectURL(picture.address);
    }
    const { xMm, yMm, angleDeg } = names;
    return alike
      ? { xMm, yMm, angleDeg, widthMm: hundredth(ratio * squeeze * names.capHeightMm), picture: alike }
      : null;
  }

  /** The names after the one that is shown was moved, scaled or turned on the drawing. */
  moved(names: NamesPlacement, text: string, { xMm, yMm, angleDeg, widthMm }: Position): NamesPlacement {
    const ratio = this.#ratio(names, text);
    if (!ratio) return { ...names, xMm, yMm, angleDeg };
    const squeeze = this.#squeeze(names, ratio);
    const factor = widthMm / (ratio * squeeze * names.capHeightMm);
    // a move alone leaves the height as it was typed
    if (Math.abs(factor - 1) < 0.001) return { ...names, xMm, yMm, angleDeg };
    const capHeightMm = hundredth(Math.min(400, Math.max(3, names.capHeightMm * factor)));
    const widest = squeeze < 1 ? Math.max(5, hundredth(widthMm)) : names.widthMm;
    return { ...names, xMm, yMm, angleDeg, capHeightMm, widthMm: widest };
  }

  #ratio({ font }: NamesPlacement, text: string): number | null {
    return this.#ask(this.#widths, `${font}\n${text}`, (code) => code.measureName(font, text));
  }

  #squeeze({ capHeightMm, widthMm }: NamesPlacement, ratio: number): number {
    return Math.min(1, widthMm / (ratio * capHeightMm));
  }

  /** What is known; asked for once. What did not arrive is asked for again a while later. */
  #ask<T>(known: Map<string, T | null>, key: string, work: (code: Drawing) => Promise<T | null>): T | null {
    if (known.has(key)) return known.get(key) ?? null;
    known.set(key, null);
    this.#code
      .fetch()
      .then(work)
      .then(
        (found) => known.set(key, found),
        () => setTimeout(() => known.delete(key), RETRY_MS),
      )
      .finally(this.#changed);
    return null;
  }
}
