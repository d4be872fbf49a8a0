type Undoable = { readonly canUndo: boolean; readonly canRedo: boolean; undo(): void; redo(): void };

const isInFilledTextField = (event: Event): boolean =>
  event
    .composedPath()
    .some(
      (node) =>
        node instanceof HTMLTextAreaElement ||
        (node instanceof HTMLInputElement && /text|mail|tel/.test(node.type) && node.value !== ''),
    );

/** Undo and redo by Ctrl or Command with Z, Shift+Z or Y; left to the browser in a text field that is not empty. */
export function handleUndoKeys(event: KeyboardEvent, subject: Undoable): void {
  if (!(event.ctrlKey || event.metaKey) || event.altKey || isInFilledTextField(event)) return;
  const key = event.key.toLowerCase();
  if (key === 'z' && !event.shiftKey && subject.canUndo) {
    event.preventDefault();
    subject.undo();
  } else if ((key === 'y' || (key === 'z' && event.shiftKey)) && subject.canRedo) {
    event.preventDefault();
    subject.redo();
  }
}
