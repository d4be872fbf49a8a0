import type { ArtworkFacts } from '../../../src/contract/index.ts';
import { hundredth } from '../../../src/figures.ts';
import type { DraftPlacement } from '../../draft/draft.ts';

/**
 * A placement adjusted for a change of remedies, so that its motif keeps its position and size. A placement's width is
 * that of its ink, which remedies may add or remove. If they change the size of the picture itself (trim, outline), the
 * center of the ink stays.
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
