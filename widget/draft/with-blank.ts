import type { PublicCatalog } from '../../src/catalog/index.ts';
import { type DraftLine, piecesIn } from './draft.ts';

/**
 * A line for another blank. What the blanks have in common is kept: color, sizes and faces of the same id. A blank of
 * one size takes all pieces.
 *
 * @param finish for a line that has none yet
 */
export function withBlank(
  line: DraftLine,
  blank: PublicCatalog['blanks'][number],
  finish: string | null,
): DraftLine {
  const sizes = new Set(blank.sizes.map((size) => size.id));
  const faces = new Set(blank.faces.map((face) => face.id));
  const counts = line.counts.filter((entry) => sizes.has(entry.size));
  const onlySize = blank.sizes.length === 1 ? blank.sizes[0] : undefined;
  if (counts.length === 0 && onlySize) counts.push({ size: onlySize.id, count: Math.max(1, piecesIn(line)) });
  return {
    ...line,
    blank: blank.id,
    color: blank.colors.some((color) => color.id === line.color) ? line.color : (blank.colors[0]?.id ?? null),
    counts,
    placements: line.placements.filter((placement) => faces.has(placement.face)),
    names: line.names && faces.has(line.names.face) ? line.names : null,
    finish: line.finish ?? finish,
  };
}
