import type { PublicCatalog } from '../../src/catalog/index.ts';
import type { Alternative, QuotedLine } from '../../src/contract/index.ts';
import type { ArtworkLibrary } from '../artwork/artwork-library.ts';
import type { NamePreviews } from '../artwork/names/name-preview.ts';
import type { ExpandedMessages } from '../controllers/expanded-messages.ts';
import type { Draft, DraftLine } from '../draft/draft.ts';
import type { DraftEditor } from '../draft/draft-editor.ts';
import type { Units } from '../format/index.ts';
import type { MessageFormat } from '../locales/index.ts';
import type { Words } from '../locales/words.ts';
import type { QuoteController, QuoteView } from '../shop/quote-controller.ts';
import type { DeferredParts } from './deferred-parts.ts';

export type PublicBlank = PublicCatalog['blanks'][number];

/** What every part of the slip may read and do. Parts are functions; the element holds the state. */
export type SlipContext = {
  readonly catalog: PublicCatalog;
  readonly words: Words;
  readonly format: MessageFormat;
  readonly units: Units;
  /** the language asked for, a BCP 47 tag. */
  readonly language: string;
  readonly draft: Draft;
  readonly quote: QuoteView;
  readonly library: ArtworkLibrary;
  readonly deferred: DeferredParts;
  readonly expanded: ExpandedMessages;
  readonly activeLine: string;
  readonly activeFace: string | null;
  readonly selected: string | null;
  readonly disabled: boolean;
  /** the customer is ordering: the slip is read-only. */
  readonly ordering: boolean;

  /** a text of the catalog in the customer's language. */
  text(text: unknown): string;
  blankOf(line: DraftLine): PublicBlank | undefined;
  quotedLine(id: string): QuotedLine | undefined;
  alternatives(line: string): readonly Alternative[];
  /** a name as it is drawn; null until its picture is ready. */
  readonly previewName: NamePreviews['preview'];
  readonly quoteBriefly: QuoteController['quoteBriefly'];

  readonly edit: DraftEditor['edit'];
  readonly editLine: DraftEditor['editLine'];
  readonly editPlacement: DraftEditor['editPlacement'];
  readonly duplicateLine: DraftEditor['duplicateLine'];
  activate(line: string, face?: string | null, placement?: string | null): void;
  /** names of the files added to a line that are not placed on it yet. */
  pendingFiles(line: string): readonly string[];
  addFiles(line: string, files: Iterable<File>): void;
  /** places an artwork of the library on a line. */
  placeAgain(line: string, artwork: string): void;
  /** @param toLine default: the same line */
  duplicate(line: string, placement: string, face: string, toLine?: string): void;
  moveToFace(line: string, placement: string, face: string): void;
  setUnits(units: Units): void;
  isOpen(key: string): boolean;
  toggle(key: string, open?: boolean): void;
  /** the last message shown in one place of the slip, such as the rows of a pasted list that were not read. */
  notice(key: string): string;
  setNotice(key: string, text: string): void;
  /** index of the name of a line that the drawing shows; counts on past the last name. */
  shownName(line: string): number;
  showName(line: string, index: number): void;
};
