import type { Draft, DraftPlacement } from '../../draft/draft.ts';
import type { DraftEditor } from '../../draft/draft-editor.ts';
import { smallestArea } from '../../stage/geometry/smallest-area.ts';
import type { ArtworkLibrary } from '../artwork-library.ts';
import { aspectOf, firstPlacement, fitInto, widestMm } from './place-artwork.ts';

/** Places artworks on faces. */
export class ArtworkPlacer {
  readonly #editor: DraftEditor;
  readonly #library: ArtworkLibrary;
  /** placements made before their artwork's proportions were known, by artwork. */
  readonly #guessed = new Map<string, Set<string>>();

  constructor(editor: DraftEditor, library: ArtworkLibrary) {
    this.#editor = editor;
    this.#library = library;
  }

  /**
   * @param source the artwork; its id may change while this code is loading, when its upload is done
   * @param at a position; default: the first free usual position
   */
  place(
    lineId: string,
    source: { readonly id: string },
    faceId: string | null,
    at?: { xMm: number; yMm: number; widthMm?: number; angleDeg?: number },
    remedies: DraftPlacement['remedies'] = [],
  ): void {
    const editor = this.#editor;
    const artwork = source.id;
    const line = editor.draft.lines.find((entry) => entry.id === lineId);
    const blank = editor.catalog?.blanks.find((entry) => entry.id === line?.blank);
    const face = blank?.faces.find((entry) => entry.id === faceId) ?? blank?.faces[0];
    if (!line || !face) return;
    const facts = this.#library.factsOf(artwork, remedies);
    const aspect = aspectOf(facts);
    const widest = widestMm(facts, this.#library.item(artwork)?.source, editor.catalog?.methods ?? []);
    const first = { ...firstPlacement(line, face, artwork, aspect, widest), remedies };
    const sizes = line.counts.map((entry) => entry.size);
    const placement: DraftPlacement = at
      ? { ...first, ...fitInto({ ...first, ...positionOf(at) }, aspect, smallestArea(face, sizes)) }
      : first;
    if (!facts)
      this.#guessed.set(artwork, (this.#guessed.get(artwork) ?? new Set()).add(`${lineId} ${placement.id}`));
    editor.activeLineId = lineId;
    editor.activeFace = face.id;
    editor.selectedPlacement = placement.id;
    editor.editLine(lineId, (old) => ({ ...old, placements: [...old.placements, placement] }));
  }

  /** Places the same artwork with the same remedies on another face or line; at the same position if the face is the same. */
  duplicate(lineId: string, placementId: string, faceId: string, toLine = lineId): void {
    const source = this.#editor.draft.lines
      .find((entry) => entry.id === lineId)
      ?.placements.find((entry) => entry.id === placementId);
    if (!source) return;
    const sameFace = toLine !== lineId && faceId === source.face;
    this.place(toLine, { id: source.artwork }, faceId, sameFace ? source : undefined, source.remedies);
  }

  /** Moves a placement to another face: to the same position and size, as far as that face has room. */
  moveToFace(lineId: string, placementId: string, faceId: string): void {
    const editor = this.#editor;
    const line = editor.draft.lines.find((entry) => entry.id === lineId);
    const face = editor.catalog?.blanks
      .find((entry) => entry.id === line?.blank)
      ?.faces.find((entry) => entry.id === faceId);
    if (!line || !face) return;
    const area = smallestArea(
      face,
      line.counts.map((entry) => entry.size),
    );
    editor.activeFace = faceId;
    editor.selectedPlacement = placementId;
    editor.editPlacement(lineId, placementId, (old) => ({
      ...old,
      ...fitInto(old, aspectOf(this.#library.factsOf(old.artwork, old.remedies)), area),
      face: faceId,
    }));
  }

  /** Gives the placements of an uploaded file its new id, and fits those made before its proportions were known. */
  uploaded(oldId: string, artwork: string): void {
    this.#changePlacements((placement) =>
      placement.artwork === oldId ? { ...placement, artwork } : placement,
    );
    const guessed = this.#guessed.get(oldId);
    const { facts, source } = this.#library.item(artwork) ?? {};
    const { catalog } = this.#editor;
    if (!guessed || !facts || !catalog) return;
    this.#guessed.delete(oldId);
    const widest = widestMm(facts, source, catalog.methods);
    this.#changePlacements((placement, line) => {
      const blank = catalog.blanks.find((entry) => entry.id === line.blank);
      const face = blank?.faces.find((entry) => entry.id === placement.face);
      if (!guessed.has(`${line.id} ${placement.id}`) || placement.artwork !== artwork) return placement;
      if (!face || placement.angleDeg !== 0) return placement;
      const area = smallestArea(
        face,
        line.counts.map((entry) => entry.size),
      );
      const fitted = { ...placement, widthMm: Math.min(placement.widthMm, widest) };
      return { ...placement, ...fitInto(fitted, aspectOf(facts), area) };
    });
  }

  /** Removes all placements of an artwork. */
  removeArtwork(artwork: string): void {
    this.#editor.editSilently((draft) => ({
      ...draft,
      lines: draft.lines.map((line) => ({
        ...line,
        placements: line.placements.filter((placement) => placement.artwork !== artwork),
      })),
    }));
  }

  #changePlacements(
    change: (placement: DraftPlacement, line: Draft['lines'][number]) => DraftPlacement,
  ): void {
    this.#editor.editSilently((draft) => ({
      ...draft,
      lines: draft.lines.map((line) => ({
        ...line,
        placements: line.placements.map((placement) => change(placement, line)),
      })),
    }));
  }
}

/** Only the position of what may be a whole placement. */
function positionOf(at: { xMm: number; yMm: number; widthMm?: number; angleDeg?: number }) {
  const { xMm, yMm, widthMm, angleDeg } = at;
  return { xMm, yMm, ...(widthMm ? { widthMm } : {}), ...(angleDeg ? { angleDeg } : {}) };
}
