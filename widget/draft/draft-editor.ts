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

/**
 * The slip being filled in: every state it went through, and where on it the customer's hand is. What a customer does to
 * it may be handed on as it is.
 */
export class DraftEditor {
  /** the line, face and placement the customer is at. */
  line = 'line-1';
  face: string | null = null;
  placement: string | null = null;
  #catalog: PublicCatalog | null = null;
  readonly #history = new History<Draft>(emptyDraft());
  readonly #changed: (byUser: boolean) => void;

  /** @param changed called after every change of the draft, with whether the customer's own hand made it. */
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
  /** anything on it yet? */
  get begun(): boolean {
    return this.draft.lines.some((line) => line.blank);
  }
  get lineNow(): DraftLine | undefined {
    return this.draft.lines.find((line) => line.id === this.line);
  }

  get catalog(): PublicCatalog | null {
    return this.#catalog;
  }
  /** Drops what the shop no longer has. */
  set catalog(catalog: PublicCatalog | null) {
    this.#catalog = catalog;
    this.#settle();
  }

  /** Starts over with another slip: from the page, storage, a link or a reset. Nothing to undo. */
  load(draft: Draft): void {
    this.#history.reset(draft);
    this.placement = null;
    this.#done(false);
  }

  /** What the customer did; changes with the same group become one step to undo. */
  change = (make: (draft: Draft) => Draft, group: string | null = null): void => {
    this.#history.push(make(this.draft), group);
    this.#done(true);
  };

  /** Ends the running group: the next change is a step of its own. */
  seal(): void {
    this.#history.seal();
  }

  /** What the shop answered, not what the customer did: no step, and undoing does not bring the old back. */
  amend(make: (draft: Draft) => Draft): void {
    this.#history.amend(make);
    this.#done(false);
  }

  undo = (): void => {
    this.#history.undo();
    this.#done(true);
  };
  redo = (): void => {
    this.#history.redo();
    this.#done(true);
  };

  changeLine = (id: string, make: (line: DraftLine) => DraftLine, group?: string): void =>
    this.change((draft) => withLine(draft, id, make), group);

  changePlacement = (
    line: string,
    id: string,
    make: (placement: DraftPlacement) => DraftPlacement | null,
    group?: string,
  ): void => this.change((draft) => withPlacement(draft, line, id, make), group);

  addLine = (): void => {
    this.line = this.#freeLine();
    this.face = this.placement = null;
    this.change((draft) => ({ ...draft, lines: [...draft.lines, emptyLine(this.line)] }));
  };

  duplicateLine = (id: string): void => {
    const line = this.draft.lines.find((entry) => entry.id === id);
    if (!line || this.draft.lines.length >= LINES_MAX) return;
    const copy = { ...structuredClone(line), id: this.#freeLine() };
    this.line = copy.id;
    this.change((draft) => ({
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

  #done(byUser: boolean): void {
    this.#settle();
    this.#changed(byUser);
  }

  /** Fills in what only the catalog knows: a delivery, the active line and face. */
  #settle(): void {
    const catalog = this.#catalog;
    if (!catalog) return;
    this.#history.amend((draft) => ({
      ...draft,
      delivery: catalog.deliveries.some((way) => way.id === draft.delivery)
        ? draft.delivery
        : (catalog.deliveries[0]?.id ?? null),
      lines: draft.lines.map((line) =>
        line.blank && !catalog.blanks.some((blank) => blank.id === line.blank) ? emptyLine(line.id) : line,
      ),
    }));
    if (!this.lineNow) this.line = this.draft.lines[0]?.id ?? 'line-1';
    const line = this.lineNow;
    const blank = catalog.blanks.find((entry) => entry.id === line?.blank);
    if (blank && !blank.faces.some((face) => face.id === this.face))
      this.face = (line && firstFace(line)) ?? blank.faces[0]?.id ?? null;
  }
}
