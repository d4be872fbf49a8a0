import type { Draft, DraftPlacement } from '../draft/draft.ts';
import type { DraftEditor } from '../draft/draft-editor.ts';
import type { ArtworkLibrary } from './artwork-library.ts';
import { aspectOf, firstPlace, fitInto, smallestArea, widestMm } from './place-artwork.ts';

/** Puts artwork on faces. Fetched with the first of it. */
export class Placing {
  readonly #desk: DraftEditor;
  readonly #shelf: ArtworkLibrary;
  /** placements put down before their artwork's shape was known, by artwork. */
  readonly #guessed = new Map<string, Set<string>>();

  constructor(desk: DraftEditor, shelf: ArtworkLibrary) {
    this.#desk = desk;
    this.#shelf = shelf;
  }

  /** @param source the artwork; its id may change from unsent to sent while the code to place it is fetched. */
  place(
    lineId: string,
    source: { readonly id: string },
    faceId: string | null,
    at?: { xMm: number; yMm: number; widthMm?: number; angleDeg?: number },
    remedies: DraftPlacement['remedies'] = [],
  ): void {
    const desk = this.#desk;
    const artwork = source.id;
    const line = desk.draft.lines.find((entry) => entry.id === lineId);
    const blank = desk.catalog?.blanks.find((entry) => entry.id === line?.blank);
    const face = blank?.faces.find((entry) => entry.id === faceId) ?? blank?.faces[0];
    if (!line || !face) return;
    const facts = this.#shelf.factsOf(artwork, remedies);
    const aspect = aspectOf(facts);
    const widest = widestMm(facts, this.#shelf.item(artwork)?.source, desk.catalog?.methods ?? []);
    const first = { ...firstPlace(line, face, artwork, aspect, widest), remedies };
    const sizes = line.counts.map((entry) => entry.size);
    const placement: DraftPlacement = at
      ? { ...first, ...fitInto({ ...first, ...where(at) }, aspect, smallestArea(face, sizes)) }
      : first;
    if (!facts)
      this.#guessed.set(artwork, (this.#guessed.get(artwork) ?? new Set()).add(`${lineId} ${placement.id}`));
    desk.line = lineId;
    desk.face = face.id;
    desk.placement = placement.id;
    desk.changeLine(lineId, (old) => ({ ...old, placements: [...old.placements, placement] }));
  }

  /** Puts the same artwork, mended the same way, on another face or line: at the same spot where the face is alike. */
  duplicate(lineId: string, placementId: string, faceId: string, toLine = lineId): void {
    const source = this.#desk.draft.lines
      .find((entry) => entry.id === lineId)
      ?.placements.find((entry) => entry.id === placementId);
    if (!source) return;
    const alike = toLine !== lineId && faceId === source.face;
    this.place(toLine, { id: source.artwork }, faceId, alike ? source : undefined, source.remedies);
  }

  /** Moves a placement to another face: to the same spot, as large, as far as that face has room. */
  moveTo(lineId: string, placementId: string, faceId: string): void {
    const desk = this.#desk;
    const line = desk.draft.lines.find((entry) => entry.id === lineId);
    const face = desk.catalog?.blanks
      .find((entry) => entry.id === line?.blank)
      ?.faces.find((entry) => entry.id === faceId);
    if (!line || !face) return;
    const area = smallestArea(
      face,
      line.counts.map((entry) => entry.size),
    );
    desk.face = faceId;
    desk.placement = placementId;
    desk.changePlacement(lineId, placementId, (old) => ({
      ...old,
      ...fitInto(old, aspectOf(this.#shelf.factsOf(old.artwork, old.remedies)), area),
      face: faceId,
    }));
  }

  /** The shop has taken a file: its placements are of the new id, and those placed before its shape was known are fitted. */
  sent(oldId: string, artwork: string): void {
    this.#eachPlacement((placement) => (placement.artwork === oldId ? { ...placement, artwork } : placement));
    const guessed = this.#guessed.get(oldId);
    const { facts, source } = this.#shelf.item(artwork) ?? {};
    const { catalog } = this.#desk;
    if (!guessed || !facts || !catalog) return;
    this.#guessed.delete(oldId);
    const widest = widestMm(facts, source, catalog.methods);
    this.#eachPlacement((placement, line) => {
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

  /** A file that is nowhere to be had any more: nothing can be printed from it. */
  lost(artwork: string): void {
    this.#desk.amend((draft) => ({
      ...draft,
      lines: draft.lines.map((line) => ({
        ...line,
        placements: line.placements.filter((placement) => placement.artwork !== artwork),
      })),
    }));
  }

  #eachPlacement(make: (placement: DraftPlacement, line: Draft['lines'][number]) => DraftPlacement): void {
    this.#desk.amend((draft) => ({
      ...draft,
      lines: draft.lines.map((line) => ({
        ...line,
        placements: line.placements.map((placement) => make(placement, line)),
      })),
    }));
  }
}

/** The position alone of something that may be a whole placement. */
function where(at: { xMm: number; yMm: number; widthMm?: number; angleDeg?: number }) {
  const { xMm, yMm, widthMm, angleDeg } = at;
  return { xMm, yMm, ...(widthMm ? { widthMm } : {}), ...(angleDeg ? { angleDeg } : {}) };
}
