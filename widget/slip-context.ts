import type { PublicCatalog } from '../src/catalog/index.ts';
import { pickText } from '../src/pick-text.ts';
import type { Units } from './format/index.ts';
import type { LoadedWords } from './locales/load-words.ts';
import type { SlipContext } from './parts/context.ts';
import type { SlipSession } from './slip-session.ts';

/** What the element adds to its session. */
export type SlipView = {
  readonly disabled: boolean;
  readonly setUnits: (units: Units) => void;
  readonly changed: () => void;
};

/** A text of the catalog in a language. */
export const textIn =
  (language: string) =>
  (text: unknown): string =>
    pickText(text as Parameters<typeof pickText>[0], language);

/** What the parts of the slip may read and do. */
export function slipContext(
  session: SlipSession,
  catalog: PublicCatalog,
  loaded: LoadedWords,
  { disabled, setUnits, changed }: SlipView,
): SlipContext {
  const { editor, quote, intake, view, languageTag } = session;
  const { answer } = quote.view;
  return {
    catalog,
    words: loaded.words,
    format: loaded.format,
    units: session.units,
    language: languageTag,
    draft: editor.draft,
    quote: quote.view,
    library: session.library,
    deferred: session.deferred,
    expanded: session.expanded,
    activeLine: editor.activeLineId,
    activeFace: editor.activeFace,
    selected: editor.selectedPlacement,
    disabled,
    ordering: session.order.isOpen,

    text: textIn(languageTag),
    blankOf: (line) => catalog.blanks.find((blank) => blank.id === line.blank),
    quotedLine: (id) => (answer?.kind === 'quote' ? answer.lines.find((line) => line.id === id) : undefined),
    alternatives: (id) =>
      answer?.instead.filter((entry) => 'line' in entry.change && entry.change.line === id) ?? [],
    previewName: session.previews.preview,
    quoteBriefly: (...args) => quote.quoteBriefly(...args),

    edit: editor.edit,
    editLine: editor.editLine,
    editPlacement: editor.editPlacement,
    duplicateLine: editor.duplicateLine,
    activate: (line, face, placement) => {
      const wasActive = line === editor.activeLineId;
      editor.activeLineId = line;
      if (face !== undefined) editor.activeFace = face;
      if (placement !== undefined) editor.selectedPlacement = placement;
      changed();
      // other lines collapse, so the title of this one moves
      if (!wasActive) session.focusPart('[aria-expanded="true"]');
    },
    pendingFiles: (line) => intake.pendingFiles(line),
    addFiles: (line, files) => {
      if (!disabled) intake.addFiles(line, files);
    },
    placeAgain: (line, id) => intake.withPlacer((placer) => placer.place(line, { id }, editor.activeFace)),
    duplicate: (...args) => intake.withPlacer((placer) => placer.duplicate(...args)),
    moveToFace: (...args) => intake.withPlacer((placer) => placer.moveToFace(...args)),
    setUnits,
    isOpen: view.isOpen,
    toggle: view.toggle,
    notice: view.notice,
    setNotice: view.setNotice,
    shownName: view.shownName,
    showName: view.showName,
  };
}
