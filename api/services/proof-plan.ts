import type { NamesPlacement } from '../../src/contract/index.ts';
import type { RoutedLine } from '../../src/quote/index.ts';
import { PROOF_SIDE_PX, type ProofPlacement, type ProofRequest } from '../files/index.ts';

/** A proof to be drawn, and the artworks on it in the order of its placements. */
export type ProofPlan = {
  readonly request: ProofRequest;
  /** of a list of names the one that is shown, the first piece's, and how many pieces carry one. */
  readonly name?: { readonly text: string; readonly pieces: number } | undefined;
  readonly artworks: readonly {
    readonly artwork: string;
    readonly remedies: RoutedLine['line']['placements'][number]['remedies'];
  }[];
};

/**
 * What the floor will make of one view of a line: its placements there, each as its method prints it, in the order in
 * which the methods are worked. Undefined when the blank has no such view.
 */
export function planProof(routed: RoutedLine, view: string): ProofPlan | undefined {
  const { blank, color, line } = routed;
  const drawing = blank.views.find((entry) => entry.id === view);
  if (drawing === undefined) return undefined;
  const shown = routed.placements
    .filter((print) => print.face.onView.view === view)
    .sort((a, b) => a.method.workOrder - b.method.workOrder)
    .flatMap((print) => {
      const placement = line.placements.find(({ id }) => id === print.id);
      const names = line.names?.id === print.id ? line.names : undefined;
      const place = placement ?? names;
      if (place === undefined) return [];
      const laid = {
        xMm: print.face.onView.xMm + place.xMm,
        yMm: print.face.onView.yMm + place.yMm,
        angleDeg: place.angleDeg,
        underbase: print.white,
        softAlpha: print.method.limits.softAlpha,
        gloss: print.qualities.gloss,
      };
      return [
        {
          laid,
          ink: placement === undefined ? inkOfName(names!) : { widthMm: print.widthMm },
          placement,
          names,
        },
      ];
    });
  const names = shown.find((entry) => entry.names !== undefined)?.names;
  return {
    request: {
      drawing: { widthMm: drawing.widthMm, heightMm: drawing.heightMm, shapes: drawing.shapes },
      clothHex: color.hex,
      longSidePx: PROOF_SIDE_PX.usual,
      placements: shown.map(({ laid, ink }) => ({ ...laid, ink })),
    },
    name: names && { text: names.entries[0]!.text, pieces: names.entries.length },
    artworks: shown.flatMap(({ placement }) =>
      placement === undefined ? [] : [{ artwork: placement.artwork, remedies: placement.remedies }],
    ),
  };
}

/** Every piece has a name of its own; the first one stands for them. */
function inkOfName({ entries, font, hex, capHeightMm, widthMm }: NamesPlacement): ProofPlacement['ink'] {
  return { name: { text: entries[0]!.text, font, capHeightMm, mostWidthMm: widthMm }, hex };
}
