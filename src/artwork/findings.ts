import type { ArtworkFacts, Finding, PixelBox, Remedy, Severity, SourceInfo } from '../contract/facts.ts';
import { ciede2000 } from './color/ciede2000.ts';
import { labOfHex } from './color/lab.ts';
import { VANISHING_DELTA_E, vanishingEdgeShare, vanishingShare } from './coverage.ts';
import type { ArtworkLimits } from './limits.ts';
import { sourceFindings } from './source-findings.ts';

/** Share of the ink that may be deep soft before it is worth a word. */
const SOFT_SHARE = 0.05;
/** Share of the ink that vanishes: worth a note, worth a warning. */
const VANISHES_NOTE = 0.1;
const VANISHES_WARNING = 0.5;
/** Share of the ink out of gamut: worth a note, worth a warning. Less is the noise of JPEG. */
const GAMUT_NOTE = 0.005;
const GAMUT_WARNING = 0.02;
/** An ink box under this share of the canvas leaves it mostly empty. */
const EMPTY_SHARE = 0.05;
/** Sides further apart than this are an extreme shape. */
const ASPECT_MOST = 20;
/** Outline offered where ink vanishes, mm. */
const OUTLINE_MM = 1;
/** Cell of the screens offered, mm: about 32 dots an inch, coarse enough for cloth. */
const SCREEN_CELL_MM = 0.8;
/** Ink that stays of a screened solid. */
const SCREEN_TINT = 0.7;
const MM_PER_INCH = 25.4;

export type FindingInput = {
  readonly facts: ArtworkFacts;
  /** what reading the file showed; left out when there is nothing to say of it. */
  readonly source?: SourceInfo | undefined;
  /** color of the cloth (or of whatever is printed on), `#rrggbb`. */
  readonly clothHex: string;
  /** printed width of the ink box, mm; over 0. */
  readonly placedWidthMm: number;
  /** the methods to judge for. */
  readonly methods: readonly ArtworkLimits[];
  /** whether what is printed on should breathe; default true. Mugs and plates need not. */
  readonly breathes?: boolean | undefined;
};

/**
 * What the artwork check notices about an artwork at a printed size on a cloth, worst first, with the mends that answer
 * it. Pure in its input; limits come from the methods alone.
 *
 * @throws RangeError when `placedWidthMm` is not over 0 or a color is not written `#rrggbb`.
 */
export function findFindings(input: FindingInput): Finding[] {
  const { facts, methods, placedWidthMm } = input;
  if (!(placedWidthMm > 0)) throw new RangeError(`placedWidthMm is ${placedWidthMm}; it must be over 0`);
  const notes = sourceFindings(input.source, methods);
  if (facts.inkBox === null)
    return [finding('nothing-to-print', forAll(methods, 'stops'), null, {}, []), ...notes];
  const mmPerPx = placedWidthMm / facts.inkBox.width;
  const seen: Seen = { ...input, inkBox: facts.inkBox, mmPerPx };
  const found = [
    tooFewPixels(seen),
    thinLines(seen),
    thinGaps(seen),
    softAlpha(seen),
    backgroundBox(seen),
    vanishes(seen),
    lightRim(seen),
    outOfGamut(seen),
    largeSolid(seen),
    mostlyEmpty(seen),
    extremeShape(seen),
    ...notes,
  ].filter((one) => one !== null);
  return found.sort((one, other) => RANK[other.worst] - RANK[one.worst]);
}

type Seen = FindingInput & { readonly inkBox: PixelBox; readonly mmPerPx: number };
type Judged = Record<string, Severity>;

const RANK: Record<Severity, number> = { note: 0, warning: 1, stops: 2 };

function finding(
  code: Finding['code'],
  severity: Judged,
  box: PixelBox | null,
  params: Finding['params'],
  remedies: Remedy[],
): Finding {
  let worst: Severity = 'note';
  for (const one of Object.values(severity)) if (RANK[one] > RANK[worst]) worst = one;
  return { code, severity, worst, box, params, remedies };
}

function forAll(methods: readonly ArtworkLimits[], severity: Severity): Judged {
  return Object.fromEntries(methods.map((method) => [method.id, severity]));
}

function tooFewPixels({ source, methods, inkBox, mmPerPx, placedWidthMm }: Seen): Finding | null {
  if (source !== undefined && isDrawing(source)) return null;
  const dpi = MM_PER_INCH / mmPerPx;
  const severity: Judged = {};
  let goodDpi = 0;
  let leastDpi = 0;
  for (const method of methods) {
    // Judged on the figure that is shown, so that half a dot more or less is no ground.
    if (Math.round(dpi) < method.leastDpi) severity[method.id] = 'stops';
    else if (Math.round(dpi) < method.goodDpi) severity[method.id] = 'warning';
    else continue;
    goodDpi = Math.max(goodDpi, method.goodDpi);
    leastDpi = Math.max(leastDpi, method.leastDpi);
  }
  if (goodDpi === 0) return null;
  return finding(
    'too-few-pixels',
    severity,
    inkBox,
    {
      dpi: Math.round(dpi),
      leastDpi,
      goodDpi,
      widthMm: tenth(placedWidthMm),
      goodWidthMm: Math.floor((10 * inkBox.width * MM_PER_INCH) / goodDpi) / 10,
      widthPx: inkBox.width,
      neededWidthPx: Math.ceil((placedWidthMm * goodDpi) / MM_PER_INCH),
    },
    [],
  );
}

function isDrawing(source: SourceInfo): boolean {
  return source.kind === 'svg' || source.kind === 'pdf';
}

function thinLines({ facts, methods, mmPerPx, placedWidthMm }: Seen): Finding | null {
  const thinnest = facts.thinLines[0];
  if (thinnest === undefined) return null;
  const lineMm = thinnest.px * mmPerPx;
  const severity: Judged = {};
  let leastMm = 0;
  for (const method of methods) {
    if (lineMm >= method.thinnestLineMm) continue;
    severity[method.id] = 'stops';
    leastMm = Math.max(leastMm, method.thinnestLineMm);
  }
  if (leastMm === 0) return null;
  const concerned = facts.thinLines.filter((line) => line.px * mmPerPx < leastMm);
  const toPx = Math.ceil((10 * leastMm) / mmPerPx) / 10;
  return finding(
    'thin-lines',
    severity,
    thinnest.box,
    {
      lineMm: hundredth(lineMm),
      leastMm,
      places: concerned.length,
      goodWidthMm: Math.ceil((10 * placedWidthMm * leastMm) / lineMm) / 10,
    },
    toPx >= 1 && toPx <= 200 ? [{ kind: 'thicken', toPx }] : [],
  );
}

function thinGaps({ facts, methods, mmPerPx, placedWidthMm }: Seen): Finding | null {
  const thinnest = facts.thinGaps[0];
  if (thinnest === undefined) return null;
  const gapMm = thinnest.px * mmPerPx;
  const severity: Judged = {};
  let leastMm = 0;
  for (const method of methods) {
    if (gapMm >= method.thinnestGapMm) continue;
    severity[method.id] = 'stops';
    leastMm = Math.max(leastMm, method.thinnestGapMm);
  }
  if (leastMm === 0) return null;
  return finding(
    'thin-gaps',
    severity,
    thinnest.box,
    {
      gapMm: hundredth(gapMm),
      leastMm,
      places: facts.thinGaps.filter((gap) => gap.px * mmPerPx < leastMm).length,
      goodWidthMm: Math.ceil((10 * placedWidthMm * leastMm) / gapMm) / 10,
    },
    [],
  );
}

function softAlpha({ facts, methods, mmPerPx }: Seen): Finding | null {
  const share = facts.deepSoftShare;
  const severity: Judged = {};
  for (const method of methods) {
    if (method.softAlpha === 'prints') continue;
    if (method.softShareMost !== undefined && share > method.softShareMost) severity[method.id] = 'stops';
    else if (share > SOFT_SHARE) severity[method.id] = 'warning';
  }
  if (Object.keys(severity).length === 0) return null;
  return finding('soft-alpha', severity, facts.deepSoftBox, { share: thousandth(share) }, [
    { kind: 'screen-soft', cellPx: cellPx(mmPerPx), angleDeg: 45 },
    { kind: 'firm-up', threshold: 128 },
  ]);
}

function backgroundBox({ facts, methods, clothHex, inkBox }: Seen): Finding | null {
  const { background } = facts;
  if (background === null) return null;
  const seen = ciede2000(labOfHex(background.hex), labOfHex(clothHex)) >= VANISHING_DELTA_E;
  return finding(
    'background-box',
    forAll(methods, seen ? 'warning' : 'note'),
    inkBox,
    { hex: background.hex, share: thousandth(background.share), clothHex },
    [{ kind: 'remove-background', hex: background.hex, tolerance: 8, enclosed: false }],
  );
}

function vanishes({ facts, methods, clothHex, inkBox, mmPerPx }: Seen): Finding | null {
  const share = vanishingShare(facts, clothHex);
  if (share < VANISHES_NOTE) return null;
  // Whose edge shows is seen by its edge: an outline answers the finding, all but for a note.
  const edgeShare = facts.background === null ? vanishingEdgeShare(facts, clothHex) : 1;
  const hidden = share >= VANISHES_WARNING && edgeShare >= VANISHES_WARNING;
  const contrast = labOfHex(clothHex)[0] < 60 ? '#FFFFFF' : '#000000';
  const remedies: Remedy[] = [
    { kind: 'outline', widthPx: held(OUTLINE_MM / mmPerPx, 1, 200), hex: contrast },
  ];
  if (facts.inkColorCount === 1 && facts.background === null)
    remedies.unshift({ kind: 'recolor', hex: contrast });
  return finding(
    'vanishes',
    forAll(methods, hidden ? 'warning' : 'note'),
    inkBox,
    { share: thousandth(share), edgeShare: thousandth(edgeShare), clothHex },
    edgeShare >= VANISHES_NOTE ? remedies : [],
  );
}

function lightRim({ facts, methods, clothHex }: Seen): Finding | null {
  const rim = facts.lightRim;
  if (rim === null) return null;
  // On a cloth of its own color the rim is not seen.
  if (ciede2000(labOfHex(rim.hex), labOfHex(clothHex)) < VANISHING_DELTA_E) return null;
  return finding(
    'light-rim',
    forAll(methods, 'warning'),
    rim.box,
    { share: thousandth(rim.share), hex: rim.hex },
    [{ kind: 'remove-background', hex: '#FFFFFF', tolerance: 16, enclosed: false }],
  );
}

function outOfGamut({ facts, methods }: Seen): Finding | null {
  const { share, colors, box } = facts.outOfGamut;
  if (share < GAMUT_NOTE || colors.length === 0) return null;
  return finding(
    'out-of-gamut',
    forAll(methods, share >= GAMUT_WARNING ? 'warning' : 'note'),
    box,
    {
      share: thousandth(share),
      colors: colors.map((color) => color.hex),
      prints: colors.map((color) => color.prints),
    },
    [],
  );
}

function largeSolid({ facts, methods, clothHex, mmPerPx, breathes = true }: Seen): Finding | null {
  if (!breathes) return null;
  const { background } = facts;
  // A box of the cloth's own color is not printed; what stands on it is.
  const unprinted =
    background !== null && ciede2000(labOfHex(background.hex), labOfHex(clothHex)) < VANISHING_DELTA_E;
  const solid = unprinted ? background.motifSolid : facts.largestSolid;
  if (solid === null) return null;
  const diameterMm = solid.diameterPx * mmPerPx;
  const severity: Judged = {};
  let mostMm = Number.POSITIVE_INFINITY;
  for (const method of methods) {
    if (method.largestSolidMm === undefined || diameterMm <= method.largestSolidMm) continue;
    severity[method.id] = 'warning';
    mostMm = Math.min(mostMm, method.largestSolidMm);
  }
  if (mostMm === Number.POSITIVE_INFINITY) return null;
  return finding(
    'large-solid',
    severity,
    {
      left: Math.max(0, Math.floor(solid.xPx - solid.diameterPx / 2)),
      top: Math.max(0, Math.floor(solid.yPx - solid.diameterPx / 2)),
      width: Math.ceil(solid.diameterPx),
      height: Math.ceil(solid.diameterPx),
    },
    { diameterMm: tenth(diameterMm), mostMm },
    [
      {
        kind: 'screen-solids',
        cellPx: cellPx(mmPerPx),
        tint: SCREEN_TINT,
        minDiameterPx: held(mostMm / mmPerPx, 1, 100_000),
        angleDeg: 45,
      },
    ],
  );
}

function mostlyEmpty({ facts, methods, inkBox }: Seen): Finding | null {
  const share = (inkBox.width * inkBox.height) / (facts.widthPx * facts.heightPx);
  if (share >= EMPTY_SHARE) return null;
  return finding('mostly-empty', forAll(methods, 'note'), inkBox, { share: Number(share.toPrecision(3)) }, [
    { kind: 'trim' },
  ]);
}

function extremeShape({ methods, inkBox }: Seen): Finding | null {
  const ratio = Math.max(inkBox.width / inkBox.height, inkBox.height / inkBox.width);
  if (ratio <= ASPECT_MOST) return null;
  return finding('extreme-shape', forAll(methods, 'note'), inkBox, { ratio: tenth(ratio) }, []);
}

function cellPx(mmPerPx: number): number {
  return held(SCREEN_CELL_MM / mmPerPx, 2, 200);
}

function held(value: number, least: number, most: number): number {
  return Math.min(most, Math.max(least, tenth(value)));
}

function tenth(value: number): number {
  return Math.round(10 * value) / 10;
}

function hundredth(value: number): number {
  return Math.round(100 * value) / 100;
}

function thousandth(value: number): number {
  return Math.round(1000 * value) / 1000;
}
