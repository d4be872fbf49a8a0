import type { NamesPlacement, Remedy } from '../../src/contract/index.ts';
import type { Draft, DraftLine, DraftPlacement } from './draft.ts';

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
const nonEmpty = (value: unknown): string | null =>
  typeof value === 'string' && value !== '' ? value : null;
const list = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);
const finite = (value: unknown): value is number => typeof value === 'number' && Number.isFinite(value);

function readPlacement(value: unknown): DraftPlacement[] {
  if (!isRecord(value)) return [];
  const { id, face, artwork, xMm, yMm, widthMm, angleDeg, remedies } = value;
  if (
    !nonEmpty(id) ||
    !nonEmpty(face) ||
    !nonEmpty(artwork) ||
    !finite(xMm) ||
    !finite(yMm) ||
    !finite(widthMm)
  )
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
    isRecord(entry) && nonEmpty(entry.size) && nonEmpty(entry.text)
      ? [{ size: entry.size as string, text: entry.text as string }]
      : [],
  );
  if (![id, face, font, hex].every(nonEmpty) || ![xMm, yMm, capHeightMm, widthMm].every(finite)) return null;
  if (entries.length === 0) return null;
  return { ...value, angleDeg: finite(angleDeg) ? angleDeg : 0, entries } as unknown as NamesPlacement;
}

function readLine(value: unknown): DraftLine[] {
  if (!isRecord(value) || !nonEmpty(value.id)) return [];
  return [
    {
      id: value.id as string,
      blank: nonEmpty(value.blank),
      color: nonEmpty(value.color),
      counts: list(value.counts).flatMap((entry) =>
        isRecord(entry) &&
        nonEmpty(entry.size) &&
        Number.isInteger(entry.count) &&
        (entry.count as number) > 0
          ? [{ size: entry.size as string, count: entry.count as number }]
          : [],
      ),
      placements: list(value.placements).flatMap(readPlacement),
      names: readNames(value.names),
      finish: nonEmpty(value.finish),
      method: nonEmpty(value.method),
    },
  ];
}

/**
 * Reads a draft or a slip from storage, a link, a form or a host page. Anything it does not understand is left out; null
 * when the value is no slip at all. The API checks the values.
 */
export function readDraft(value: unknown): Draft | null {
  if (!isRecord(value) || value.format !== 1) return null;
  const lines = list(value.lines).flatMap(readLine);
  if (lines.length === 0) return null;
  return {
    format: 1,
    lines,
    neededBy: nonEmpty(value.neededBy),
    delivery: nonEmpty(value.delivery),
    rush: value.rush === true,
  };
}
