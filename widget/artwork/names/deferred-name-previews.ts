import type { Lazy } from '../../lazy.ts';
import type { NamePreviews } from './name-preview.ts';

/** The pictures of names, whose code is loaded when the first is drawn. */
export class DeferredNamePreviews {
  readonly #code: Lazy<typeof NamePreviews>;
  readonly #create: (Code: typeof NamePreviews) => NamePreviews;
  #previews: NamePreviews | null = null;

  constructor(code: Lazy<typeof NamePreviews>, create: (Code: typeof NamePreviews) => NamePreviews) {
    this.#code = code;
    this.#create = create;
  }

  /** Null until the code has arrived and the picture is ready. */
  preview: NamePreviews['preview'] = (names, text) => {
    const Code = this.#code.value;
    if (Code) this.#previews ??= this.#create(Code);
    return this.#previews?.preview(names, text) ?? null;
  };

  applyMove: NamePreviews['applyMove'] = (names, text, position) =>
    this.#previews?.applyMove(names, text, position) ?? names;
}
