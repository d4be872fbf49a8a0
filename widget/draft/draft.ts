import type { ArtworkPlacement, NamesPlacement, Remedy, Slip } from '../../src/contract/index.ts';

/** Prefix of the id of an artwork that the shop does not have yet. */
export const UNSENT = 'unsent-';

/**
 * A placement while the customer is at it: like the slip's, but the artwork may still be on its way (`unsent-…`).
 */
export type DraftPlacement = Omit<ArtworkPlacement, 'remedies'> & { remedies: Remedy[] };

/** A line while the customer is at it: anything may still be missing. Counts of 0 are left out. */
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

/** What the customer has put on the slip so far. Plain data: it is saved, linked, undone and restored as JSON. */
export type Draft = {
  format: 1;
  lines: DraftLine[];
  neededBy: string | null;
  delivery: string | null;
  rush: boolean;
};

/** What a line still lacks before it can be quoted, in the order it is asked for. */
export type Lack = 'item' | 'color' | 'sizes' | 'artwork' | 'upload' | 'finish' | 'names';

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

/** Smallest id `prefix-n` not taken, so that the same steps give the same slip. */
export function freeId(prefix: string, taken: readonly string[]): string {
  const used = new Set(taken);
  for (let n = 1; ; n++) if (!used.has(`${prefix}-${n}`)) return `${prefix}-${n}`;
}

export function piecesIn(line: DraftLine): number {
  return line.counts.reduce((sum, entry) => sum + entry.count, 0);
}

/** Sizes that have another number of names than of pieces; none when there is no list. */
export function namesOff(line: DraftLine): { size: string; names: number; pieces: number }[] {
  if (!line.names) return [];
  const sizes = new Map(line.counts.map(({ size, count }) => [size, { size, names: 0, pieces: count }]));
  for (const { size } of line.names.entries) {
    const entry = sizes.get(size) ?? { size, names: 0, pieces: 0 };
    entry.names++;
    sizes.set(size, entry);
  }
  return [...sizes.values()].filter(({ names, pieces }) => names !== pieces);
}

/** Place in a list of names of the one that is on the drawing. @param asked what was asked for last, counted on from 0 */
export function nameShown(asked: string | undefined, names: NamesPlacement): number {
  return Number(asked || 0) % names.entries.length;
}

/** The first thing the line still needs, or null when it can be quoted. */
export function firstMissing(line: DraftLine): Lack | null {
  if (!line.blank) return 'item';
  if (!line.color) return 'color';
  if (piecesIn(line) === 0) return 'sizes';
  if (line.placements.length === 0 && !line.names) return 'artwork';
  if (line.placements.some((placement) => placement.artwork.startsWith(UNSENT))) return 'upload';
  if (!line.finish) return 'finish';
  if (namesOff(line).length > 0) return 'names';
  return null;
}

/** The slip of every finished line; null when no line is finished or no delivery is chosen. */
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

/** Where the first of what is printed on a line lies. */
export const firstFace = ({ placements, names }: DraftLine): string | undefined =>
  placements[0]?.face ?? names?.face;

/** A copy with one line replaced by what `change` makes of it. */
export function withLine(draft: Draft, id: string, change: (line: DraftLine) => DraftLine): Draft {
  return { ...draft, lines: draft.lines.map((line) => (line.id === id ? change(line) : line)) };
}

/** A copy with one placement replaced by what `change` makes of it, or dropped when it returns null. */
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

/** Sets how many of a size; 0 takes the size off. Sizes keep the order of the blank's list. */
export function withCount(line: DraftLine, size: string, count: number, order: readonly string[]): DraftLine {
  const counts = line.counts.filter((entry) => entry.size !== size);
  if (count > 0) counts.push({ size, count });
  counts.sort((a, b) => order.indexOf(a.size) - order.indexOf(b.size));
  return { ...line, counts };
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const text = (value: unknown): string | null => (typeof value === 'string' && value !== '' ? value : null);
const list = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);
const finite = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);

function readPlacement(value: unknown): DraftPlacement[] {
  if (!isRecord(value)) return [];
  const { id, face, artwork, xMm, yMm, widthMm, angleDeg, remedies } = value;
  if (!text(id) || !text(face) || !text(artwork) || !finite(xMm) || !finite(yMm) || !finite(widthMm))
    return [];
  return [
    {
      id: id as string,
      face: face as string,
      artwork: artwork as string,
      remedies: list(remedies).filter(isRecord) as unknown as Remedy[],
      xMm,
      yMm,
      widthMm,
      angleDeg: finite(angleDeg) ? angleDeg : 0,
    },
  ];
}

function readNames(value: unknown): NamesPlacement | null {
  if (!isRecord(value)) return null;
  const { id, face, font, hex, xMm, yMm, capHeightMm, widthMm, angleDeg } = value;
  const entries = list(value.entries).flatMap((entry) =>
    isRecord(entry) && text(entry.size) && text(entry.text)
      ? [{ size: entry.size as string, text: entry.text as string }]
      : [],
  );
  if (![id, face, font, hex].every(text) || ![xMm, yMm, capHeightMm, widthMm].every(finite)) return null;
  if (entries.length === 0) return null;
  return { ...value, angleDeg: finite(angleDeg) ? angleDeg : 0, entries } as unknown as NamesPlacement;
}

function readLine(value: unknown): DraftLine[] {
  if (!isRecord(value) || !text(value.id)) return [];
  return [
    {
      id: value.id as string,
      blank: text(value.blank),
      color: text(value.color),
      counts: list(value.counts).flatMap((entry) =>
        isRecord(entry) && text(entry.size) && Number.isInteger(entry.count) && (entry.count as number) > 0
          ? [{ size: entry.size as string, count: entry.count as number }]
          : [],
      ),
      placements: list(value.placements).flatMap(readPlacement),
      names: readNames(value.names),
      finish: text(value.finish),
      method: text(value.method),
    },
  ];
}

/**
 * Reads a draft or a slip that came from storage, a link, a form or a host page. Anything that is not understood
 * is left out rather than refused; null when it is no slip at all. The API judges the values.
 */
export function readDraft(value: unknown): Draft | null {
  if (!isRecord(value) || value.format !== 1) return null;
  const lines = list(value.lines).flatMap(readLine);
  if (lines.length === 0) return null;
  return {
    format: 1,
    lines,
    neededBy: text(value.neededBy),
    delivery: text(value.delivery),
    rush: value.rush === true,
  };
}

/** A file that never reached the shop is gone after a reload: its placements go too. */
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
