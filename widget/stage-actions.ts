import { type DraftLine, nameAt } from './draft/draft.ts';
import type { SlipSession } from './slip-session.ts';
import type { StageActs } from './stage/stage-host.ts';

/** What the slip does on events of the stage. */
export function stageActions(
  { editor, view, previews, intake, openFileChooser }: SlipSession,
  isDisabled: () => boolean,
  changed: () => void,
): StageActs {
  const shownName = ({ id, names }: DraftLine): string => (names ? nameAt(names, view.shownName(id)) : '');

  const move: StageActs['input'] = (placement, position) => {
    const line = editor.activeLineId;
    const group = `move ${line} ${placement}`;
    if (editor.activeLine?.names?.id === placement)
      editor.editLine(
        line,
        (old) => ({ ...old, names: old.names && previews.applyMove(old.names, shownName(old), position) }),
        group,
      );
    else editor.editPlacement(line, placement, (old) => ({ ...old, ...position }), group);
  };

  return {
    input: move,
    change: (placement, position) => {
      move(placement, position);
      // a drag is one step to undo
      editor.endGroup();
    },
    select: (placement) => {
      editor.selectedPlacement = placement;
      changed();
    },
    remove: (placement) => {
      const line = editor.activeLineId;
      editor.selectedPlacement = null;
      if (editor.activeLine?.names?.id === placement)
        editor.editLine(line, (old) => ({ ...old, names: null }));
      else editor.editPlacement(line, placement, () => null);
    },
    drop: (files, face, at) => {
      if (!isDisabled()) intake.addFiles(editor.activeLineId, files, face, at);
    },
    add: (face) => {
      editor.activeFace = face;
      openFileChooser(editor.activeLineId);
    },
  };
}
