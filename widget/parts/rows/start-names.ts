import type { NamesPlacement } from '../../../src/contract/index.ts';
import { type DraftLine, piecesIn } from '../../draft/draft.ts';
import { assignSizes, countNamesBySize } from '../../draft/tables/read-names.ts';
import type { SlipContext } from '../context.ts';

/** Starts a names list with the numbers 1, 2, 3 … on the back, or on the first face where there is no back. */
export function startNames(ctx: SlipContext, line: DraftLine): void {
  const blank = ctx.blankOf(line);
  const font = ctx.catalog.fonts[0];
  const face = blank?.faces.find((entry) => entry.id === 'back') ?? blank?.faces[0];
  if (!blank || !face || !font) return;
  const first = blank.sizes[0]!.id;
  const count = Math.max(1, piecesIn(line));
  const entries = assignSizes(
    Array.from({ length: count }, (_, index) => ({ text: String(index + 1), size: null })),
    line.counts,
    first,
  );
  const capHeightMm = Math.max(3, Math.min(50, Math.round(face.heightMm / 4)));
  const names: NamesPlacement = {
    id: 'names',
    face: face.id,
    font: font.id,
    hex: isDark(blank.colors.find((color) => color.id === line.color)?.hex ?? '#ffffff')
      ? '#ffffff'
      : '#1b1b1d',
    xMm: 0,
    yMm: Math.min(60, Math.round(face.heightMm / 2)),
    angleDeg: 0,
    capHeightMm,
    widthMm: Math.max(5, Math.min(260, Math.round(face.widthMm * 0.8))),
    entries,
  };
  ctx.editLine(line.id, (old) => ({
    ...old,
    names,
    counts: old.counts.length > 0 ? old.counts : countNamesBySize(entries, [first]),
  }));
  ctx.activate(line.id, face.id, names.id);
}

/** Whether white letters stand out better than black ones. */
function isDark(hex: string): boolean {
  const [red = 0, green = 0, blue = 0] = [1, 3, 5].map((at) => Number.parseInt(hex.slice(at, at + 2), 16));
  return red * 0.3 + green * 0.59 + blue * 0.11 < 128;
}
