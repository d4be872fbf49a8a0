import type { ReactiveControllerHost } from 'lit';
import type { DraftEditor } from '../../draft/draft-editor.ts';
import type { Lazy } from '../../lazy.ts';
import type { ArtworkLibrary } from '../artwork-library.ts';
import type { ArtworkPlacer } from './artwork-placer.ts';

/** How long after code did not arrive it is loaded again. */
const RETRY_MS = 3_000;

/** Takes files into the library and has them placed. The code that places them is loaded with the first. */
export class ArtworkIntake {
  readonly #host: ReactiveControllerHost & { readonly isConnected: boolean };
  readonly #code: Lazy<typeof ArtworkPlacer>;
  readonly #editor: DraftEditor;
  readonly #library: ArtworkLibrary;
  #placer: ArtworkPlacer | null = null;
  /** files added but not placed yet. */
  readonly #pending = new Set<{ readonly line: string; readonly name: string }>();

  constructor(
    host: ReactiveControllerHost & { readonly isConnected: boolean },
    code: Lazy<typeof ArtworkPlacer>,
    editor: DraftEditor,
    library: ArtworkLibrary,
  ) {
    this.#host = host;
    this.#code = code;
    this.#editor = editor;
    this.#library = library;
    library.onUploaded = (oldId, item) => this.withPlacer((placer) => placer.uploaded(oldId, item.id));
    library.onLost = (id) => this.withPlacer((placer) => placer.removeArtwork(id));
  }

  /** Names of the files added to a line that are not placed yet. */
  pendingFiles(line: string): readonly string[] {
    return [...this.#pending].filter((file) => file.line === line).map(({ name }) => name);
  }

  /** @param at where on the face, mm; default: the first free usual position */
  addFiles(
    line: string,
    files: Iterable<File>,
    face: string | null = this.#editor.activeFace,
    at?: { xMm: number; yMm: number },
  ): void {
    for (const file of files) {
      const item = this.#library.add(file);
      const pending = { line, name: file.name };
      this.#pending.add(pending);
      this.withPlacer((placer) => {
        this.#pending.delete(pending);
        placer.place(line, item, face, at);
      });
    }
  }

  /** Calls `act` once the code is there, which is loaded again where the connection is lost. */
  withPlacer(act: (placer: ArtworkPlacer) => void): void {
    this.#code.fetch().then(
      (Placer) => {
        this.#placer ??= new Placer(this.#editor, this.#library);
        act(this.#placer);
      },
      () => setTimeout(() => this.#host.isConnected && this.withPlacer(act), RETRY_MS),
    );
  }
}
