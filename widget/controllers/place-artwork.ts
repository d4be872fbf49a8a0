import type { PublicCatalog } from '../../src/catalog/index.ts';
import type { ArtworkFacts } from '../../src/contract/index.ts';
import type { DraftLine, DraftPlacement } from './draft.ts';
import { freeId } from './draft.ts';
import { tightestArea } from './placement-math.ts';

export { tightestArea };

type Face = PublicCatalog['blanks'][number]['faces'][number];

const hundredth = (value: number): number => Math.round(value * 100) / 100;

/** Ink height over ink width; 1 while nothing is known. */
export function aspectOf(facts: ArtworkFacts | null | undefined): number {
  const box = facts?.inkBox;
  return box && box.width > 0 ? box.height / box.width : 1;
}

/**
 * Where new artwork goes on a face: the first usual position that no placement holds yet, at its usual width, made
 * smaller where the area of the smallest chosen size asks for it.
 */
export function firstPlace(line: DraftLine, face: Face, artwork: string, aspect: number): DraftPlacement {
  const area = tightestArea(
    face,
    line.counts.map((entry) => entry.size),
  );
  const here = line.placements.filter((placement) => placement.face === face.id);
  const usual =
    face.usual.find(
      (place) => !here.some((other) => Math.hypot(other.xMm - place.xMm, other.yMm - place.yMm) < 5),
    ) ?? face.usual[0];
  const center = usual ?? { xMm: 0, yMm: area.heightMm / 2, widthMm: area.widthMm * 0.8 };
  return {
    id: freeId(
      'art',
      line.placements.map((placement) => placement.id),
    ),
    face: face.id,
    artwork,
    remedies: [],
    ...fitInto({ ...center, angleDeg: 0 }, aspect, area),
  };
}

/** The same spot, moved and shrunk as little as it takes to lie inside the area. For upright artwork. */
export function fitInto(
  place: { xMm: number; yMm: number; widthMm: number; angleDeg: number },
  aspect: number,
  area: { widthMm: number; heightMm: number },
): { xMm: number; yMm: number; widthMm: number; angleDeg: number } {
  const widthMm = Math.max(1, Math.min(place.widthMm, area.widthMm, area.heightMm / aspect));
  const halfWidth = widthMm / 2;
  const halfHeight = (widthMm * aspect) / 2;
  return {
    xMm: hundredth(Math.min(Math.max(place.xMm, halfWidth - area.widthMm / 2), area.widthMm / 2 - halfWidth)),
    yMm: hundredth(Math.min(Math.max(place.yMm, halfHeight), area.heightMm - halfHeight)),
    widthMm: Math.floor(widthMm * 100) / 100,
    angleDeg: place.angleDeg,
  };
}
