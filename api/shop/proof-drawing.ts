import type { RoutedLine } from '../../src/quote.ts';
import { PROOF_SIDE_PX, type ProofPlacement, type ProofRequest } from '../files/index.ts';

/** A proof to be drawn, and the artworks on it in the order of its placements. */
export type ProofPlan = {
  readonly request: ProofRequest;
  readonly artworks: readonly {
    readonly artwork: string;
    readonly remedies: RoutedLine['line']['placements'][number]['remedies'];
  }[];
};

/**
 * What the floor will make of one view of a line: its placements there, each as its method prints it, in the order in
 * which the methods are worked. Undefined when the blank has no such view.
 */
export function proofPlanOf(routed: RoutedLine, view: string): ProofPlan | undefined {
  const { blank, color, line } = routed;
  const drawing = blank.views.find((entry) => entry.id === view);
  if (drawing === undefined) return undefined;
  const byId = new Map(line.placements.map((placement) => [placement.id, placement]));
  const shown = routed.placements
    .flatMap((print) => {
      const placement = byId.get(print.id);
      return placement && print.face.onView.view === view ? [{ print, placement }] : [];
    })
    .sort((a, b) => a.print.method.workOrder - b.print.method.workOrder);
  return {
    request: {
      drawing: { widthMm: drawing.widthMm, heightMm: drawing.heightMm, shapes: drawing.shapes },
      clothHex: color.hex,
      longSidePx: PROOF_SIDE_PX.usual,
      placements: shown.map(
        ({ print, placement }): ProofPlacement => ({
          xMm: print.face.onView.xMm + placement.xMm,
          yMm: print.face.onView.yMm + placement.yMm,
          widthMm: print.widthMm,
          angleDeg: placement.angleDeg,
          underbase: print.white,
          softAlpha: print.method.limits.softAlpha,
          gloss: print.qualities.gloss,
        }),
      ),
    },
    artworks: shown.map(({ placement }) => ({ artwork: placement.artwork, remedies: placement.remedies })),
  };
}
