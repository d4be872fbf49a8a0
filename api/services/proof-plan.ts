import type { NamesPlacement } from '../../src/contract/index.ts';
import type { RoutedLine } from '../../src/quote/index.ts';
import { PROOF_SIDE_PX, type ProofPlacement, type ProofRequest } from '../files/index.ts';

/** A proof to draw, and its artworks in the order of its placements. */
export type ProofPlan = {
  readonly request: ProofRequest;
  /** of a list of names: the first, which is shown, and how many pieces have one. */
  readonly name?: { readonly text: string; readonly pieces: number } | undefined;
  readonly artworks: readonly {
    readonly artwork: string;
    readonly remedies: RoutedLine['line']['placements'][number]['remedies'];
  }[];
};

/**
 * Plans the proof of one view of a line: its placements there, each as its method prints it, in working order. Undefined
 * if the blank has no such view.
 */
export function planProof(routed: RoutedLine, view: string): ProofPlan | undefined {
  const { blank, color, line } = routed;
  const drawing = blank.views.find((entry) => entry.id === view);
  if (drawing === undefined) return undefined;
  const prints = routed.placements
    .filter((print) => print.face.onView.view === view)
    .sort((a, b) => a.method.workOrder - b.method.workOrder)
    .flatMap((print) => {
      const placement = line.placements.find(({ id }) => id === print.id);
      const names = line.names?.id === print.id ? line.names : undefined;
      const place = placement ?? names;
      if (place === undefined) return [];
      const position = {
        xMm: print.face.onView.xMm + place.xMm,
        yMm: print.face.onView.yMm + place.yMm,
        angleDeg: place.angleDeg,
        underbase: print.white,
        softAlpha: print.method.limits.softAlpha,
        gloss: print.qualities.gloss,
      };
      return [
        {
          position,
          ink: placement === undefined ? inkOfName(names!) : { widthMm: print.widthMm },
          placement,
          names,
        },
      ];
    });
  const names = prints.find((entry) => entry.names !== undefined)?.names;
  return {
    request: {
      drawing: { widthMm: drawing.widthMm, heightMm: drawing.heightMm, shapes: drawing.shapes },
      clothHex: color.hex,
      longSidePx: PROOF_SIDE_PX.usual,
      placements: prints.map(({ position, ink }) => ({ ...position, ink })),
    },
    name: names && { text: names.entries[0]!.text, pieces: names.entries.length },
    artworks: prints.flatMap(({ placement }) =>
      placement === undefined ? [] : [{ artwork: placement.artwork, remedies: placement.remedies }],
    ),
  };
}

/** Shows the first name of the list. */
function inkOfName({ entries, font, hex, capHeightMm, widthMm }: NamesPlacement): ProofPlacement['ink'] {
  return { name: { text: entries[0]!.text, font, capHeightMm, mostWidthMm: widthMm }, hex };
}
