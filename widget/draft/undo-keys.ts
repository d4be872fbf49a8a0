/** What keys can take back. */
type Undoable = { readonly canUndo: boolean; readonly canRedo: boolean; undo(): void; redo(): void };

const inText = (event: Event): boolean =>
  event
    .composedPath()
    .some(
      (node) =>
        node instanceof HTMLTextAreaElement ||
        (node instanceof HTMLInputElement && /text|mail|tel/.test(node.type) && node.value !== ''),
    );

/** Ctrl or Command with Z, Shift Z or Y. A text field that holds something undoes its own. */
export function undoByKey(event: KeyboardEvent, subject: Undoable): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || inText(event)) return;
  const key = event.key.toLowerCase();
  if (key === 'z' && !event.shiftKey && subject.canUndo) {
    event.preventDefault();
    subject.undo();
  } else if ((key === 'y' || (key === 'z' && event.shiftKey)) && subject.canRedo) {
    event.preventDefault();
    subject.redo();
  }
}
