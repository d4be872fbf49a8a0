import type { ArtworkFacts } from '../../src/contract/index.ts';
import { hundredth } from '../../src/figures.ts';
import type { DraftPlacement } from '../draft/draft.ts';

/**
 * A placement whose artwork is about to be mended (or a mend taken back), so that the motif stays where it is and as
 * large as it is: a placement's width is the width of its ink, and a mend may take ink away or add some.
 * Where the mend changed the picture's own size (trim, outline) its ink keeps its center.
 */
export function keepInPlace(
  placement: DraftPlacement,
  before: ArtworkFacts,
  after: ArtworkFacts,
): DraftPlacement {
  const from = before.inkBox;
  const to = after.inkBox;
  if (!from || !to || from.width === 0 || to.width === 0) return placement;
  const mmPerPx = placement.widthMm / from.width;
  const same = before.widthPx === after.widthPx && before.heightPx === after.heightPx;
  const dx = same ? (to.left + to.width / 2 - from.left - from.width / 2) * mmPerPx : 0;
  const dy = same ? (to.top + to.height / 2 - from.top - from.height / 2) * mmPerPx : 0;
  const turn = (placement.angleDeg * Math.PI) / 180;
  return {
    ...placement,
    widthMm: Math.max(1, hundredth(to.width * mmPerPx)),
    xMm: hundredth(placement.xMm + dx * Math.cos(turn) - dy * Math.sin(turn)),
    yMm: hundredth(placement.yMm + dx * Math.sin(turn) + dy * Math.cos(turn)),
  };
}
