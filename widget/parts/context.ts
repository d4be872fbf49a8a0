import { html, nothing, type TemplateResult } from 'lit';
import type { PublicCatalog } from '../../src/catalog/index.ts';
import type { Alternative, QuotedLine } from '../../src/contract/index.ts';
import type { ArtworkLibrary } from '../artwork/artwork-library.ts';
import type { ShownNames } from '../artwork/name-preview.ts';
import type { Unfolding } from '../controllers/expanded-messages.ts';
import type { Draft, DraftLine, DraftPlacement } from '../draft/draft.ts';
import type { Units } from '../format/index.ts';
import type { MessageFormat } from '../locales/index.ts';
import type { Words } from '../locales/words.ts';
import type { QuoteController, QuoteView } from '../shop/quote-controller.ts';
import type { LaterParts } from './deferred.ts';

export type PublicBlank = PublicCatalog['blanks'][number];

/** What every part of the slip may read, and what it may ask for. Parts are functions; the element holds the state. */
export type SlipContext = {
  readonly catalog: PublicCatalog;
  readonly words: Words;
  readonly say: MessageFormat;
  readonly units: Units;
  readonly draft: Draft;
  readonly quote: QuoteView;
  readonly shelf: ArtworkLibrary;
  readonly activeLine: string;
  readonly activeFace: string | null;
  readonly selected: string | null;
  readonly disabled: boolean;
  /** the customer is at the order: the slip is only looked at. */
  readonly ordering: boolean;
  readonly language: string;
  readonly later: LaterParts;
  /** a name as it is drawn; null until it is known. */
  readonly shownName: ShownNames['show'];

  text(text: unknown): string;
  blankOf(line: DraftLine): PublicBlank | undefined;
  quotedLine(id: string): QuotedLine | undefined;
  alternatives(line: string): readonly Alternative[];
  readonly askBeside: QuoteController['beside'];
  /** changes the draft; changes with the same group become one undo step. */
  change(change: (draft: Draft) => Draft, group?: string): void;
  changeLine(id: string, change: (line: DraftLine) => DraftLine, group?: string): void;
  changePlacement(
    line: string,
    id: string,
    change: (placement: DraftPlacement) => DraftPlacement | null,
    group?: string,
  ): void;
  activate(line: string, face?: string | null, placement?: string | null): void;
  /** names of files taken for a line, of which no placement is on it yet. */
  arriving(line: string): readonly string[];
  takeFiles(line: string, files: Iterable<File>): void;
  placeKnown(line: string, artwork: string): void;
  /** @param toLine another line; absent: the same */
  duplicate(line: string, placement: string, face: string, toLine?: string): void;
  moveTo(line: string, placement: string, face: string): void;
  duplicateLine(line: string): void;
  useUnits(units: Units): void;
  /** what came unasked, and which of it is unfolded. */
  readonly unfolding: Unfolding;
  isOpen(key: string): boolean;
  toggle(key: string, open?: boolean): void;
  /** what was last said in one place of the slip (what of a pasted list was not taken, say); empty: nothing. */
  memo(key: string): string;
  setMemo(key: string, text: string): void;
};

/** What was last said there, a sentence to a line; spoken as it changes. */
export function memoPart(ctx: SlipContext, key: string): TemplateResult {
  const text = ctx.memo(key);
  return html`<div class="memo ${text ? 'alert quiet' : ''}" role="status">${
    text ? text.split('\n').map((sentence) => html`<div>${sentence}</div>`) : nothing
  }</div>`;
}
