import type { Remedy } from '../../../src/contract/index.ts';
import { keepInPlace } from '../../artwork/placing/keep-in-place.ts';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import type { SlipContext } from '../context.ts';

/** Gives a placement other remedies, and keeps its motif in place. */
export function setRemedies(
  ctx: SlipContext,
  line: DraftLine,
  placement: DraftPlacement,
  remedies: Remedy[],
): void {
  const before = ctx.library.exactFacts(placement.artwork, placement.remedies);
  const after = ctx.library.exactFacts(placement.artwork, remedies);
  ctx.editPlacement(line.id, placement.id, (old) => ({
    ...(before && after ? keepInPlace(old, before, after) : old),
    remedies,
  }));
}
