import type { PublicCatalog } from '../../../src/catalog/index.ts';
import type { ArtworkFacts, SourceInfo } from '../../../src/contract/index.ts';
import { hundredth } from '../../../src/figures.ts';
import type { DraftLine, DraftPlacement } from '../../draft/draft.ts';
import { freeId } from '../../draft/draft.ts';
import { smallestArea } from '../../stage/geometry/smallest-area.ts';

type Face = PublicCatalog['blanks'][number]['faces'][number];

/** A picture with too few pixels even for this width is placed at its usual width, so that the check can be read. */
const LEAST_WIDTH_MM = 20;

/** Ink height over ink width; 1 while they are not known. */
export function aspectOf(facts: ArtworkFacts | null | undefined): number {
  const box = facts?.inkBox;
  return box && box.width > 0 ? box.height / box.width : 1;
}

/**
 * The greatest width of a picture with the resolution that every method of the shop asks for, mm. Infinite for vector
 * files, and for files not read yet.
 */
export function widestMm(
  facts: ArtworkFacts | null | undefined,
  source: SourceInfo | null | undefined,
  methods: PublicCatalog['methods'],
): number {
  const widthPx = facts?.inkBox?.width ?? 0;
  if (widthPx === 0 || source?.kind === 'svg' || source?.kind === 'pdf') return Number.POSITIVE_INFINITY;
  const dpi = Math.max(1, ...methods.map(({ limits }) => limits.leastDpi));
  const most = Math.floor((widthPx * 25.4 * 100) / dpi) / 100;
  return most < LEAST_WIDTH_MM ? Number.POSITIVE_INFINITY : most;
}

/**
 * Where new artwork goes on a face: the first free usual position, at its usual width, made smaller to fit the area of
 * the smallest chosen size and the resolution of the picture.
 */
export function firstPlacement(
  line: DraftLine,
  face: Face,
  artwork: string,
  aspect: number,
  widest: number,
): DraftPlacement {
  const area = smallestArea(
    face,
    line.counts.map((entry) => entry.size),
  );
  const onFace = line.placements.filter((placement) => placement.face === face.id);
  const usual =
    face.usual.find(
      (place) => !onFace.some((other) => Math.hypot(other.xMm - place.xMm, other.yMm - place.yMm) < 5),
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
    ...fitInto({ ...center, widthMm: Math.min(center.widthMm, widest), angleDeg: 0 }, aspect, area),
  };
}

/** A position, moved and shrunk as little as needed to lie inside the area. For artwork that is not turned. */
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
