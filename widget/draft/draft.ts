import type { ArtworkPlacement, NamesPlacement, Remedy, Slip } from '../../src/contract/index.ts';

/** Prefix of the id of an artwork the shop does not have yet. */
export const UNSENT = 'unsent-';

/** A placement of a draft: like a slip's, but its artwork may still be uploading (`unsent-…`). */
export type DraftPlacement = Omit<ArtworkPlacement, 'remedies'> & { remedies: Remedy[] };

/** A line of a draft: anything may still be missing. Counts of 0 are left out. */
export type DraftLine = {
  id: string;
  blank: string | null;
  color: string | null;
  counts: { size: string; count: number }[];
  placements: DraftPlacement[];
  names: NamesPlacement | null;
  finish: string | null;
  method: string | null;
};

/** The slip as far as the customer has filled it in. Plain JSON data: it is saved, linked, undone and restored. */
export type Draft = {
  format: 1;
  lines: DraftLine[];
  neededBy: string | null;
  delivery: string | null;
  rush: boolean;
};

/** What a line may still need before it can be quoted, in the order the slip asks for it. */
export type MissingPart = 'item' | 'color' | 'sizes' | 'artwork' | 'upload' | 'finish' | 'names';

export function emptyLine(id: string): DraftLine {
  return {
    id,
    blank: null,
    color: null,
    counts: [],
    placements: [],
    names: null,
    finish: null,
    method: null,
  };
}

export function emptyDraft(): Draft {
  return { format: 1, lines: [emptyLine('line-1')], neededBy: null, delivery: null, rush: false };
}

/** The smallest id `prefix-n` that is not taken, so that the same steps give the same slip. */
export function freeId(prefix: string, taken: readonly string[]): string {
  const used = new Set(taken);
  for (let n = 1; ; n++) if (!used.has(`${prefix}-${n}`)) return `${prefix}-${n}`;
}

export function piecesIn(line: DraftLine): number {
  return line.counts.reduce((sum, entry) => sum + entry.count, 0);
}

/** Sizes with more or fewer names than pieces; none when the line has no names. */
export function sizesWithWrongNames(line: DraftLine): { size: string; names: number; pieces: number }[] {
  if (!line.names) return [];
  const sizes = new Map(line.counts.map(({ size, count }) => [size, { size, names: 0, pieces: count }]));
  for (const { size } of line.names.entries) {
    const entry = sizes.get(size) ?? { size, names: 0, pieces: 0 };
    entry.names++;
    sizes.set(size, entry);
  }
  return [...sizes.values()].filter(({ names, pieces }) => names !== pieces);
}

/** The name at an index that may be past the end, where the list begins again. */
export function nameAt(names: NamesPlacement, index: number): string {
  return names.entries[index % names.entries.length]?.text ?? '';
}

/** The first thing the line still needs, or null when it can be quoted. */
export function firstMissing(line: DraftLine): MissingPart | null {
  if (!line.blank) return 'item';
  if (!line.color) return 'color';
  if (piecesIn(line) === 0) return 'sizes';
  if (line.placements.length === 0 && !line.names) return 'artwork';
  if (line.placements.some((placement) => placement.artwork.startsWith(UNSENT))) return 'upload';
  if (!line.finish) return 'finish';
  if (sizesWithWrongNames(line).length > 0) return 'names';
  return null;
}

/** The slip of all finished lines; null when no line is finished or no delivery is chosen. */
export function toSlip(draft: Draft): Slip | null {
  const ready = draft.lines.filter((line) => firstMissing(line) === null);
  if (ready.length === 0 || !draft.delivery) return null;
  return {
    format: 1,
    lines: ready.map((line) => ({
      id: line.id,
      blank: line.blank as string,
      color: line.color as string,
      counts: line.counts.map(({ size, count }) => ({ size, count })),
      placements: line.placements.map((placement) => ({ ...placement })),
      ...(line.names ? { names: line.names } : {}),
      finish: line.finish as string,
      ...(line.method ? { method: line.method } : {}),
    })),
    ...(draft.neededBy ? { neededBy: draft.neededBy } : {}),
    delivery: draft.delivery,
    rush: draft.rush,
  };
}

/** The face of the first artwork or names on a line. */
export const firstFace = ({ placements, names }: DraftLine): string | undefined =>
  placements[0]?.face ?? names?.face;

/** A copy of the draft with one line changed. */
export function withLine(draft: Draft, id: string, change: (line: DraftLine) => DraftLine): Draft {
  return { ...draft, lines: draft.lines.map((line) => (line.id === id ? change(line) : line)) };
}

/** A copy of the draft with one placement changed, or removed when `change` returns null. */
export function withPlacement(
  draft: Draft,
  lineId: string,
  placementId: string,
  change: (placement: DraftPlacement) => DraftPlacement | null,
): Draft {
  return withLine(draft, lineId, (line) => ({
    ...line,
    placements: line.placements.flatMap((placement) => {
      if (placement.id !== placementId) return [placement];
      const changed = change(placement);
      return changed ? [changed] : [];
    }),
  }));
}

/** A copy of the line with another count of a size; 0 removes the size. @param order the blank's sizes, which the counts follow */
export function withCount(line: DraftLine, size: string, count: number, order: readonly string[]): DraftLine {
  const counts = line.counts.filter((entry) => entry.size !== size);
  if (count > 0) counts.push({ size, count });
  counts.sort((a, b) => order.indexOf(a.size) - order.indexOf(b.size));
  return { ...line, counts };
}

/** A draft without the placements of files the shop does not have. */
export function withoutUnsent(draft: Draft | null): Draft | null {
  if (!draft) return null;
  return {
    ...draft,
    lines: draft.lines.map((line) => ({
      ...line,
      placements: line.placements.filter((placement) => !placement.artwork.startsWith(UNSENT)),
    })),
  };
}
