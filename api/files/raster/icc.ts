/** What a note to the customer needs to know of an ICC profile. */
export type ProfileSummary = {
  /** its description, at most 100 characters; null if it cannot be read. */
  readonly name: string | null;
  /** `RGB `, `CMYK`, `GRAY`, … as in the header. */
  readonly space: string;
  /** an RGB profile with the primaries of sRGB, or named sRGB. */
  readonly likeSrgb: boolean;
};

/**
 * Colorants of sRGB as profiles store them (rXYZ, gXYZ, bXYZ): IEC 61966-2-1 primaries, adapted to D50 by Bradford as
 * ICC.1 requires; the figures of common sRGB profiles, from memory, rounded to 4 decimals.
 */
const SRGB_COLORANTS = [
  [0.436, 0.2225, 0.0139],
  [0.3851, 0.7169, 0.0971],
  [0.1431, 0.0606, 0.7141],
] as const;

/** Colorants closer than this look the same; writers round differently. */
const SAME_COLORANT = 0.01;

/** Reads the header and three kinds of tag of a profile (ICC.1:2022, 7.2, 7.3, 10.15, 10.31); never throws. */
export function summarizeProfile(icc: Uint8Array): ProfileSummary {
  try {
    const view = new DataView(icc.buffer, icc.byteOffset, icc.length);
    const space = ascii(icc, 16, 4);
    const tags = tagTable(icc, view);
    const name = description(icc, view, tags.get('desc'));
    const colorants = ['rXYZ', 'gXYZ', 'bXYZ'].map((tag) => xyz(view, tags.get(tag)));
    const sameColorants = colorants.every((color, index) =>
      color?.every((value, axis) => Math.abs(value - SRGB_COLORANTS[index]![axis]!) < SAME_COLORANT),
    );
    const calledSrgb = colorants.includes(null) && name !== null && /srgb/i.test(name);
    return { name, space, likeSrgb: space === 'RGB ' && (sameColorants || calledSrgb) };
  } catch {
    return { name: null, space: '', likeSrgb: false };
  }
}

type Span = { readonly offset: number; readonly size: number };

function tagTable(icc: Uint8Array, view: DataView): ReadonlyMap<string, Span> {
  const count = Math.min(view.getUint32(128), 200);
  const tags = new Map<string, Span>();
  for (let index = 0; index < count; index++) {
    const at = 132 + 12 * index;
    tags.set(ascii(icc, at, 4), { offset: view.getUint32(at + 4), size: view.getUint32(at + 8) });
  }
  return tags;
}

function description(icc: Uint8Array, view: DataView, span: Span | undefined): string | null {
  if (span === undefined) return null;
  const type = ascii(icc, span.offset, 4);
  let text: string;
  if (type === 'desc') {
    text = ascii(icc, span.offset + 12, Math.min(view.getUint32(span.offset + 8), 200));
  } else if (type === 'mluc') {
    const length = Math.min(view.getUint32(span.offset + 20), 400);
    const from = span.offset + view.getUint32(span.offset + 24);
    text = new TextDecoder('utf-16be').decode(icc.subarray(from, from + length));
  } else return null;
  // biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is removed
  const clean = text.replace(/[\u0000-\u001f\u007f]/g, '').trim();
  return clean === '' ? null : clean.slice(0, 100);
}

function xyz(view: DataView, span: Span | undefined): readonly number[] | null {
  if (span === undefined) return null;
  return [8, 12, 16].map((at) => view.getInt32(span.offset + at) / 65536);
}

function ascii(bytes: Uint8Array, at: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(at, at + length));
}
