import type { InkShares, PictureSource } from './picture-source.ts';
import { decodePicture, inkCanvas, levelFor } from './picture-source.ts';

type Entry = {
  readonly source: PictureSource;
  readonly ink: InkShares;
  readonly decoded: ReturnType<typeof decodePicture>;
  /** level of detail shown or being made; -1 before the first. */
  level: number;
  failed: boolean;
};

/** Decodes each artwork once and makes its ink as sharp as its size on the screen needs. */
export class PictureLoader {
  readonly #entries = new Map<string, Entry>();
  readonly #onReady: (id: string, ink: HTMLCanvasElement) => void;
  readonly #onFail: (id: string) => void;

  /**
   * @param onReady called with each new canvas; the one before it is no longer needed.
   * @param onFail called once per source that cannot be shown.
   */
  constructor(onReady: (id: string, ink: HTMLCanvasElement) => void, onFail: (id: string) => void) {
    this.#onReady = onReady;
    this.#onFail = onFail;
  }

  /** Asks for an artwork's ink at `widthPx` canvas px. True when its source has changed: what was shown is stale. */
  request(id: string, source: PictureSource | null, ink: InkShares, widthPx: number): boolean {
    let entry = this.#entries.get(id);
    const changed = entry !== undefined && (entry.source !== source || !sameShares(entry.ink, ink));
    if (changed) {
      this.#entries.delete(id);
      entry = undefined;
    }
    if (source === null) return changed;
    if (!entry) {
      entry = { source, ink, decoded: decodePicture(source), level: -1, failed: false };
      this.#entries.set(id, entry);
    }
    this.#refine(id, entry, levelFor(widthPx));
    return changed;
  }

  /** Forgets an artwork; what is still being made for it is dropped. */
  forget(id: string): void {
    this.#entries.delete(id);
  }

  dispose(): void {
    this.#entries.clear();
  }

  /** A sharper picture when the artwork is shown larger; a smaller one only when it is two levels too large. */
  #refine(id: string, entry: Entry, level: number): void {
    if (entry.failed || level === entry.level) return;
    if (level < entry.level && level > entry.level - 2) return;
    entry.level = level;
    const isCurrent = () => this.#entries.get(id) === entry && entry.level === level;
    entry.decoded
      .then((decoded) => inkCanvas(decoded, entry.ink, level))
      .then((canvas) => {
        if (isCurrent()) this.#onReady(id, canvas);
      })
      .catch(() => {
        if (entry.failed || this.#entries.get(id) !== entry) return;
        entry.failed = true;
        this.#onFail(id);
      });
  }
}

const sameShares = (a: InkShares, b: InkShares): boolean =>
  a.left === b.left && a.top === b.top && a.width === b.width && a.height === b.height;
