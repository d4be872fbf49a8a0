import type { PublicCatalog } from '../../src/catalog/index.ts';
import {
  type Draft,
  type DraftLine,
  type DraftPlacement,
  emptyDraft,
  emptyLine,
  firstFace,
  freeId,
  withLine,
  withPlacement,
} from './draft.ts';
import { LINES_MAX } from './draft-limits.ts';
import { History } from './history.ts';

/** The editable draft: undo history and current selection. The methods that edit it are bound. */
export class DraftEditor {
  activeLineId = 'line-1';
  activeFace: string | null = null;
  selectedPlacement: string | null = null;
  #catalog: PublicCatalog | null = null;
  readonly #history = new History<Draft>(emptyDraft());
  readonly #changed: (byUser: boolean) => void;

  /** @param changed called after every change of the draft; `byUser` says whether the customer made it. */
  constructor(changed: (byUser: boolean) => void) {
    this.#changed = changed;
  }

  get draft(): Draft {
    return this.#history.present;
  }
  get canUndo(): boolean {
    return this.#history.canUndo;
  }
  get canRedo(): boolean {
    return this.#history.canRedo;
  }
  /** Whether any line has an item yet. */
  get hasItems(): boolean {
    return this.draft.lines.some((line) => line.blank);
  }
  get activeLine(): DraftLine | undefined {
    return this.draft.lines.find((line) => line.id === this.activeLineId);
  }

  get catalog(): PublicCatalog | null {
    return this.#catalog;
  }
  /** Setting a catalog removes the items it does not have. */
  set catalog(catalog: PublicCatalog | null) {
    this.#catalog = catalog;
    this.#applyCatalog();
  }

  /** Replaces the draft by one from the page, storage, a link or a reset, and clears the undo history. */
  load(draft: Draft): void {
    this.#history.reset(draft);
    this.selectedPlacement = null;
    this.#afterChange(false);
  }

  /** An edit by the customer. Consecutive edits with the same group become one step to undo. */
  edit = (change: (draft: Draft) => Draft, group: string | null = null): void => {
    this.#history.push(change(this.draft), group);
    this.#afterChange(true);
  };

  /** Ends the group: the next edit is a step of its own. */
  endGroup(): void {
    this.#history.endGroup();
  }

  /** A change that is not the customer's, such as an id from the shop. It is made in the whole history, so undo keeps it. */
  editSilently(change: (draft: Draft) => Draft): void {
    this.#history.rewrite(change);
    this.#afterChange(false);
  }

  undo = (): void => {
    this.#history.undo();
    this.#afterChange(true);
  };
  redo = (): void => {
    this.#history.redo();
    this.#afterChange(true);
  };

  editLine = (id: string, change: (line: DraftLine) => DraftLine, group?: string): void =>
    this.edit((draft) => withLine(draft, id, change), group);

  editPlacement = (
    line: string,
    id: string,
    change: (placement: DraftPlacement) => DraftPlacement | null,
    group?: string,
  ): void => this.edit((draft) => withPlacement(draft, line, id, change), group);

  addLine = (): void => {
    this.activeLineId = this.#freeLine();
    this.activeFace = this.selectedPlacement = null;
    this.edit((draft) => ({ ...draft, lines: [...draft.lines, emptyLine(this.activeLineId)] }));
  };

  duplicateLine = (id: string): void => {
    const line = this.draft.lines.find((entry) => entry.id === id);
    if (!line || this.draft.lines.length >= LINES_MAX) return;
    const copy = { ...structuredClone(line), id: this.#freeLine() };
    this.activeLineId = copy.id;
    this.edit((draft) => ({
      ...draft,
      lines: draft.lines.flatMap((entry) => (entry.id === id ? [entry, copy] : [entry])),
    }));
  };

  #freeLine(): string {
    return freeId(
      'line',
      this.draft.lines.map((line) => line.id),
    );
  }

  #afterChange(byUser: boolean): void {
    this.#applyCatalog();
    this.#changed(byUser);
  }

  /** Removes items the catalog does not have, and fills in the default delivery, line and face. */
  #applyCatalog(): void {
    const catalog = this.#catalog;
    if (!catalog) return;
    this.#history.rewrite((draft) => ({
      ...draft,
      delivery: catalog.deliveries.some((way) => way.id === draft.delivery)
        ? draft.delivery
        : (catalog.deliveries[0]?.id ?? null),
      lines: draft.lines.map((line) =>
        line.blank && !catalog.blanks.some((blank) => blank.id === line.blank) ? emptyLine(line.id) : line,
      ),
    }));
    if (!this.activeLine) this.activeLineId = this.draft.lines[0]?.id ?? 'line-1';
    const line = this.activeLine;
    const blank = catalog.blanks.find((entry) => entry.id === line?.blank);
    if (blank && !blank.faces.some((face) => face.id === this.activeFace))
      this.activeFace = (line && firstFace(line)) ?? blank.faces[0]?.id ?? null;
  }
}
