import type { Channels } from '../../artwork/index.ts';
import type { Cloth } from '../../catalog/compile.ts';
import type { Face } from '../../catalog/index.ts';
import type {
  ArtworkFacts,
  ArtworkPlacement,
  NamesPlacement,
  Remedy,
  SourceInfo,
} from '../../contract/index.ts';
import { rotatedHalfSize } from '../../geometry.ts';
import { inkSumsOn, inksOfHex } from './ink.ts';

/** Size and ink of one name, as the lettering code measures it. */
export type LetteredName = {
  readonly widthMm: number;
  readonly heightMm: number;
  /** share of that box that the letters cover, 0 to 1. */
  readonly inkShare: number;
  /** thinnest stroke of its letters. */
  readonly strokeMm: number;
};

/** The fonts that names are set in. */
export type Lettering = {
  /** ids of the fonts there are; absent: any is accepted. */
  readonly fonts?: readonly string[];
  /** letters of a text that a font lacks, each once; absent: none. */
  readonly missing?: (text: string, font: string) => readonly string[];
  /** measures a text in a known font, `capHeightMm` high and never wider than `mostWidthMm`. */
  readonly measure: (name: {
    readonly text: string;
    readonly font: string;
    readonly capHeightMm: number;
    readonly mostWidthMm: number;
  }) => LetteredName;
};

/**
 * The lettering used where none is passed in: every character is 0.62 of the capitals' height wide, letters cover half of
 * their box, strokes are a seventh of that height. Assumed, after a bold condensed sans serif; for estimates, not for
 * drawing.
 */
export const plainLettering: Lettering = {
  measure({ text, capHeightMm, mostWidthMm }) {
    const natural = Math.max([...text].length, 1) * capHeightMm * 0.62;
    const squeeze = Math.min(1, mostWidthMm / natural);
    return {
      widthMm: natural * squeeze,
      heightMm: capHeightMm,
      inkShare: 0.5,
      strokeMm: (capHeightMm / 7) * squeeze,
    };
  },
};

/** What a quote needs of an artwork: its facts after its remedies, and what reading its file showed. */
export type KnownArtwork = { readonly facts: ArtworkFacts; readonly source?: SourceInfo | undefined };

/** What is to be printed at one place of a line, measured. It does not depend on the method. */
export type Print = {
  readonly id: string;
  /** path into the slip, such as `lines.0.placements.1` or `lines.0.names`. */
  readonly at: string;
  readonly face: Face;
  readonly xMm: number;
  readonly yMm: number;
  readonly angleDeg: number;
  /** printed ink box before rotation, mm; for names, the widest and highest of them. */
  readonly widthMm: number;
  readonly heightMm: number;
  readonly boxWidthMm: number;
  readonly boxHeightMm: number;
  /** equal for prints of the same artwork, remedies and size: one design. */
  readonly key: string;
  readonly distinct: number;
  /** absent for names. */
  readonly artwork: KnownArtwork | undefined;
  /** thinnest stroke of names, mm; absent for artwork, which has it in its facts. */
  readonly strokeMm?: number;
  /** size of a pixel of the artwork on the print, mm; 0 for names. */
  readonly mmPerPx: number;
  /** whether there is no ink at all. */
  readonly empty: boolean;
  /** ink in cm² at full coverage on a cloth; white as if it were printed everywhere. */
  readonly inkOn: (cloth: Cloth) => Channels;
};

/** A placement of an artwork, measured. */
export function printOfArtwork(
  placement: ArtworkPlacement,
  face: Face,
  artwork: KnownArtwork,
  at: string,
): Print {
  const { facts } = artwork;
  const box = facts.inkBox;
  const empty = box === null || box.width === 0 || box.height === 0;
  const mmPerPx = empty ? 0 : placement.widthMm / box.width;
  const heightMm = empty ? 0 : box.height * mmPerPx;
  const cm2PerPx = (mmPerPx * mmPerPx) / 100;
  return {
    ...placed(placement, face, at, placement.widthMm, heightMm),
    key: `${placement.artwork}${remediesKey(placement.remedies)} ${rounded(placement.widthMm)}`,
    distinct: 1,
    artwork,
    mmPerPx,
    empty,
    inkOn: (cloth) => scaled(inkSumsOn(facts, cloth), cm2PerPx),
  };
}

/** A list of names, measured: as large as the largest, with the mean ink of all. */
export function printOfNames(names: NamesPlacement, face: Face, lettering: Lettering, at: string): Print {
  const texts = new Set(names.entries.map(({ text }) => text));
  let widthMm = 0;
  let heightMm = 0;
  let inkCm2 = 0;
  let strokeMm = Number.POSITIVE_INFINITY;
  const measured = new Map<string, LetteredName>();
  for (const { text } of names.entries) {
    let name = measured.get(text);
    if (name === undefined) {
      name = lettering.measure({
        text,
        font: names.font,
        capHeightMm: names.capHeightMm,
        mostWidthMm: names.widthMm,
      });
      measured.set(text, name);
    }
    widthMm = Math.max(widthMm, name.widthMm);
    heightMm = Math.max(heightMm, name.heightMm);
    strokeMm = Math.min(strokeMm, name.strokeMm);
    inkCm2 += (name.widthMm * name.heightMm * name.inkShare) / 100;
  }
  const meanCm2 = inkCm2 / names.entries.length;
  const inks = inksOfHex(names.hex);
  return {
    ...placed(names, face, at, widthMm, heightMm),
    key: `names ${at} ${names.font} ${names.hex} ${rounded(names.capHeightMm)}`,
    distinct: texts.size,
    artwork: undefined,
    strokeMm,
    mmPerPx: 0,
    empty: false,
    inkOn: () => scaled(inks, meanCm2),
  };
}

function placed(
  position: { readonly id: string; readonly xMm: number; readonly yMm: number; readonly angleDeg: number },
  face: Face,
  at: string,
  widthMm: number,
  heightMm: number,
) {
  const [halfWidth, halfHeight] = rotatedHalfSize(widthMm, heightMm, position.angleDeg);
  return {
    id: position.id,
    at,
    face,
    xMm: position.xMm,
    yMm: position.yMm,
    angleDeg: position.angleDeg,
    widthMm,
    heightMm,
    boxWidthMm: 2 * halfWidth,
    boxHeightMm: 2 * halfHeight,
  };
}

function remediesKey(remedies: readonly Remedy[]): string {
  return remedies.length === 0 ? '' : ` ${JSON.stringify(remedies)}`;
}

/** Widths that differ by less than a thousandth of a mm are one design. */
function rounded(mm: number): number {
  return Math.round(mm * 1000) / 1000;
}

function scaled(sums: Channels, factor: number): Channels {
  return {
    c: sums.c * factor,
    m: sums.m * factor,
    y: sums.y * factor,
    k: sums.k * factor,
    w: sums.w * factor,
  };
}
