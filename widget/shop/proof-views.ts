import type { PublicCatalog } from '../../src/catalog/index.ts';
import type { Slip } from '../../src/contract/index.ts';
import { pickText } from '../../src/pick-text.ts';
import type { ProofAnswer } from './shop-api.ts';

/** The proof of one view of a line. */
export type Proof = {
  readonly title: string;
  /** the name it shows, where the line has names. */
  readonly name: string | undefined;
  readonly widthMm: number;
  readonly heightMm: number;
  /** null until the shop has drawn it. */
  readonly drawn: ProofAnswer | null;
};

/** A proof to request: of a view of a line. */
export type ProofView = { readonly line: string; readonly view: string; readonly proof: Proof };

/** Every view of a slip's lines that has something printed on it, its proof not drawn yet. */
export function proofViews(slip: Slip, catalog: PublicCatalog, language: string): readonly ProofView[] {
  return slip.lines.flatMap((line) => {
    const blank = catalog.blanks.find((entry) => entry.id === line.blank);
    if (!blank) return [];
    const viewOf = (face: string) => blank.faces.find(({ id }) => id === face)?.onView.view;
    const namesView = line.names && viewOf(line.names.face);
    const printed = new Set([...line.placements.map(({ face }) => viewOf(face)), namesView]);
    return blank.views
      .filter((view) => printed.has(view.id))
      .map((view) => ({
        line: line.id,
        view: view.id,
        proof: {
          title: `${pickText(blank.name, language)} – ${pickText(view.name, language)}`,
          name: namesView === view.id ? line.names?.entries[0]?.text : undefined,
          widthMm: view.widthMm,
          heightMm: view.heightMm,
          drawn: null,
        },
      }));
  });
}
