import type { ArtworkShelf } from './artwork-shelf.ts';
import type { Desk } from './desk.ts';
import type { Draft, DraftPlacement } from './draft.ts';
import type { Lazy } from './lazy.ts';

/** Puts artwork on faces. Where it fits is worked out by code that is fetched with the first of it. */
export class Placing {
  readonly #desk: Desk;
  readonly #shelf: ArtworkShelf;
  readonly #places: Lazy<typeof import('./place-artwork.ts')>;

  constructor(desk: Desk, shelf: ArtworkShelf, places: Lazy<typeof import('./place-artwork.ts')>) {
    this.#desk = desk;
    this.#shelf = shelf;
    this.#places = places;
  }

  takeFiles(
    line: string,
    files: Iterable<File>,
    face: string | null = this.#desk.face,
    at?: { xMm: number; yMm: number },
  ): void {
    for (const file of files) void this.place(line, this.#shelf.add(file), face, at);
  }

  /** @param source the artwork; its id may change from unsent to sent while the code to place it is fetched. */
  async place(
    lineId: string,
    source: { readonly id: string },
    faceId: string | null,
    at?: { xMm: number; yMm: number },
    remedies: DraftPlacement['remedies'] = [],
  ): Promise<void> {
    const { aspectOf, firstPlace, fitInto, tightestArea } = await this.#places.fetch();
    const desk = this.#desk;
    const artwork = source.id;
    const line = desk.draft.lines.find((entry) => entry.id === lineId);
    const blank = desk.catalog?.blanks.find((entry) => entry.id === line?.blank);
    const face = blank?.faces.find((entry) => entry.id === faceId) ?? blank?.faces[0];
    if (!line || !face) return;
    const aspect = aspectOf(this.#shelf.factsOf(artwork, remedies));
    const first = { ...firstPlace(line, face, artwork, aspect), remedies };
    const sizes = line.counts.map((entry) => entry.size);
    const placement: DraftPlacement = at
      ? { ...first, ...fitInto({ ...first, ...at }, aspect, tightestArea(face, sizes)) }
      : first;
    desk.line = lineId;
    desk.face = face.id;
    desk.placement = placement.id;
    desk.changeLine(lineId, (old) => ({ ...old, placements: [...old.placements, placement] }));
  }

  duplicate(lineId: string, placementId: string, faceId: string): void {
    const line = this.#desk.draft.lines.find((entry) => entry.id === lineId);
    const source = line?.placements.find((entry) => entry.id === placementId);
    if (source) void this.place(lineId, { id: source.artwork }, faceId, undefined, source.remedies);
  }

  /** The shop has taken a file: its placements are of the new id, and fitted now that its shape is known. */
  async sent(oldId: string, artwork: string): Promise<void> {
    this.#eachPlacement((placement) => (placement.artwork === oldId ? { ...placement, artwork } : placement));
    const facts = this.#shelf.item(artwork)?.facts;
    const { catalog } = this.#desk;
    if (!facts || !catalog) return;
    const { aspectOf, fitInto, tightestArea } = await this.#places.fetch();
    this.#eachPlacement((placement, line) => {
      const blank = catalog.blanks.find((entry) => entry.id === line.blank);
      const face = blank?.faces.find((entry) => entry.id === placement.face);
      if (placement.artwork !== artwork || !face || placement.angleDeg !== 0) return placement;
      const area = tightestArea(
        face,
        line.counts.map((entry) => entry.size),
      );
      return { ...placement, ...fitInto(placement, aspectOf(facts), area) };
    });
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
