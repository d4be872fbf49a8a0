import { areaOf, bedOf, type Cloth, type CompiledBlank, workedSurface } from '../../catalog/compile.ts';
import type { Consumable, Method, Station, Step } from '../../catalog/index.ts';
import { type Reason, reason } from '../../contract/index.ts';
import { hundredth, tenth } from '../../figures.ts';
import { overlapsBox } from '../../geometry.ts';
import type { Print } from './print.ts';

/** Sizes of a line that have pieces, as ids. */
export type Sizes = readonly string[];

/** Rounding of positions may carry a print over an edge by this, mm. */
const EDGE_MM = 0.05;

/** The surface of the face must be one the method takes. */
export function surfaceLimit(print: Print, method: Method): Reason | undefined {
  const { surfaces } = method.limits;
  if (surfaces.includes(print.face.surface)) return undefined;
  return reason('surface-unfit', { surface: print.face.surface, allowed: [...surfaces] }, print.at);
}

/** The turned print must lie within the printable area of every size that has pieces; the tightest is named. */
export function faceLimit(print: Print, sizes: Sizes): Reason | undefined {
  let worst: Reason | undefined;
  let worstOver = EDGE_MM;
  for (const size of sizes) {
    const area = areaOf(print.face, size);
    const over = overEdge(print, area.widthMm, area.heightMm);
    if (over <= worstOver) continue;
    worstOver = over;
    worst = reason(
      'off-the-face',
      {
        widthMm: tenth(print.boxWidthMm),
        heightMm: tenth(print.boxHeightMm),
        areaWidthMm: area.widthMm,
        areaHeightMm: area.heightMm,
        size,
      },
      print.at,
    );
  }
  return worst;
}

/** How far the turned print reaches over the edge of an area, mm; 0 or less when it lies within. */
export function overEdge(print: Print, areaWidthMm: number, areaHeightMm: number): number {
  const halfWidth = print.boxWidthMm / 2;
  const halfHeight = print.boxHeightMm / 2;
  return Math.max(
    Math.abs(print.xMm) + halfWidth - areaWidthMm / 2,
    halfHeight - print.yMm,
    print.yMm + halfHeight - areaHeightMm,
  );
}

/** Nothing may be printed on seams, rims and the like: the turned rectangle itself counts, not the box round it. */
export function keepOutLimits(print: Print): Reason[] {
  const reasons: Reason[] = [];
  for (const box of print.face.keepOuts) {
    const { xMm: leftMm, yMm: topMm, widthMm, heightMm } = box;
    const meets = overlapsBox(
      [print.xMm, print.yMm],
      print.widthMm,
      print.heightMm,
      print.angleDeg,
      { leftMm, topMm, widthMm, heightMm },
      EDGE_MM,
    );
    if (meets) reasons.push(reason('in-keep-out', { keepOut: box.id }, print.at));
  }
  return reasons;
}

/** The stations of every step of a recipe for one print, or why there is none. */
export type StationChoice =
  | { readonly stations: ReadonlyMap<string, Station>; readonly reasons?: undefined }
  | { readonly reasons: readonly Reason[]; readonly stations?: undefined };

/**
 * Chooses for every step the first of its stations that takes the surface and, where the print lies on the bed, whose
 * bed holds it in every size that has pieces. Garments are not turned on a bed.
 */
export function stationChoice(
  print: Print,
  steps: readonly Step[],
  sizes: Sizes,
  stations: ReadonlyMap<string, Station>,
): StationChoice {
  const chosen = new Map<string, Station>();
  const reasons: Reason[] = [];
  for (const step of steps) {
    if (step.stations.length === 0) continue;
    const surface = workedSurface(step.per, print.face.surface);
    let station: Station | undefined;
    let largest: { station: Station; bed: Bed } | undefined;
    for (const id of step.stations) {
      const candidate = stations.get(id);
      if (candidate === undefined || !candidate.surfaces.includes(surface)) continue;
      if (!step.onBed || step.per === 'sheet') {
        station = candidate;
        break;
      }
      const bed = tightestBed(candidate, sizes);
      if (holds(bed, print)) {
        station = candidate;
        break;
      }
      if (largest === undefined || bed.widthMm * bed.heightMm > largest.bed.widthMm * largest.bed.heightMm)
        largest = { station: candidate, bed };
    }
    if (station !== undefined) chosen.set(step.id, station);
    else if (largest === undefined) reasons.push(reason('no-station', { step: step.id }, print.at));
    else
      reasons.push(
        reason(
          'too-large-for-bed',
          {
            widthMm: tenth(print.boxWidthMm),
            heightMm: tenth(print.boxHeightMm),
            bedWidthMm: largest.bed.widthMm,
            bedHeightMm: largest.bed.heightMm,
            station: largest.station.id,
          },
          print.at,
        ),
      );
  }
  return reasons.length > 0 ? { reasons: distinctBeds(reasons) } : { stations: chosen };
}

type Bed = { readonly widthMm: number; readonly heightMm: number };

/** The smallest width and height of bed over the sizes. */
function tightestBed(station: Station, sizes: Sizes): Bed {
  let widthMm = station.bedWidthMm;
  let heightMm = station.bedHeightMm;
  for (const size of sizes) {
    const bed = bedOf(station, size);
    widthMm = Math.min(widthMm, bed.widthMm);
    heightMm = Math.min(heightMm, bed.heightMm);
  }
  return { widthMm, heightMm };
}

function holds(bed: Bed, print: Print): boolean {
  return print.boxWidthMm <= bed.widthMm + EDGE_MM && print.boxHeightMm <= bed.heightMm + EDGE_MM;
}

/** One reason per station: three steps on the same press say the same thing once. */
function distinctBeds(reasons: readonly Reason[]): Reason[] {
  const seen = new Set<string>();
  return reasons.filter(({ code, params }) => {
    const key = `${code} ${String(params.station ?? params.step)}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** The turned print must fit the sheets it is printed on, which may be laid either way. */
export function sheetLimit(print: Print, consumables: readonly Consumable[]): Reason | undefined {
  for (const { driver } of consumables) {
    if (driver.kind !== 'per-sheet') continue;
    const widthMm = driver.sheetWidthMm - 2 * driver.marginMm;
    const heightMm = driver.sheetHeightMm - 2 * driver.marginMm;
    const fits =
      (print.boxWidthMm <= widthMm + EDGE_MM && print.boxHeightMm <= heightMm + EDGE_MM) ||
      (print.boxWidthMm <= heightMm + EDGE_MM && print.boxHeightMm <= widthMm + EDGE_MM);
    if (!fits)
      return reason(
        'too-large-for-sheet',
        {
          widthMm: tenth(print.boxWidthMm),
          heightMm: tenth(print.boxHeightMm),
          sheetWidthMm: widthMm,
          sheetHeightMm: heightMm,
        },
        print.at,
      );
  }
  return undefined;
}

/** The cloth must hold enough of the fibers the method needs. */
export function fiberLimit(
  print: Print,
  method: Method,
  methodIndex: number,
  blank: CompiledBlank,
): Reason | undefined {
  const { fibers } = method.limits;
  if (fibers === undefined) return undefined;
  const share = blank.fiberShares[methodIndex]!;
  const leastShare = Number(fibers.leastShare);
  if (share >= leastShare) return undefined;
  return reason('fiber-unfit', { fibers: [...fibers.anyOf], share, leastShare }, print.at);
}

/** The cloth must be neither too light nor too dark for the method. */
export function clothLimit(print: Print, method: Method, cloth: Cloth): Reason | undefined {
  const bounds = method.limits.clothLightness;
  if (bounds === undefined) return undefined;
  const lightness = cloth.lab[0];
  if (lightness >= bounds.least && lightness <= bounds.most) return undefined;
  const { least, most } = bounds;
  const code = lightness < least ? 'cloth-too-dark' : 'cloth-too-light';
  return reason(code, { lightness: tenth(lightness), least, most }, print.at);
}

/** Strokes and gaps must not be thinner on the print than the method keeps open. */
export function lineLimits(print: Print, method: Method): Reason[] {
  const { artwork, mmPerPx, strokeMm, at } = print;
  const facts = artwork?.facts;
  const reasons: Reason[] = [];
  const lineMm = strokeMm ?? thinnestMm(facts?.thinLines ?? [], mmPerPx);
  if (lineMm < method.limits.thinnestLineMm)
    reasons.push(
      reason('line-too-thin', { lineMm: hundredth(lineMm), leastMm: method.limits.thinnestLineMm }, at),
    );
  const gapMm = thinnestMm(facts?.thinGaps ?? [], mmPerPx);
  if (gapMm < method.limits.thinnestGapMm)
    reasons.push(
      reason('gap-too-thin', { gapMm: hundredth(gapMm), leastMm: method.limits.thinnestGapMm }, at),
    );
  return reasons;
}

function thinnestMm(widths: readonly { readonly px: number }[], mmPerPx: number): number {
  const thinnest = widths[0];
  return thinnest === undefined ? Number.POSITIVE_INFINITY : thinnest.px * mmPerPx;
}

/** Dots per inch at printed size, from the ink's own pixels. */
export function effectiveDpi(print: Print): number {
  return print.mmPerPx > 0 ? 25.4 / print.mmPerPx : Number.POSITIVE_INFINITY;
}

/** There must be enough pixels for the printed size. */
export function dpiLimit(print: Print, method: Method): Reason | undefined {
  const { artwork } = print;
  // Drawings are drawn anew at the printed size; they have no pixels of their own.
  if (artwork === undefined || artwork.source?.kind === 'svg' || artwork.source?.kind === 'pdf')
    return undefined;
  const dpi = effectiveDpi(print);
  // A half pixel more or less is no ground for refusing.
  if (Math.round(dpi) >= method.limits.leastDpi) return undefined;
  return reason('too-few-pixels', { dpi: Math.round(dpi), leastDpi: method.limits.leastDpi }, print.at);
}

/** Where soft alpha is lost, no more of the ink may be shadow and fade than the method's limit says. */
export function softAlphaLimit(print: Print, method: Method): Reason | undefined {
  const { softAlpha, softShareMost } = method.limits;
  const { artwork } = print;
  if (artwork === undefined || softAlpha === 'prints' || softShareMost === undefined) return undefined;
  const share = artwork.facts.deepSoftShare;
  if (share <= softShareMost) return undefined;
  return reason('soft-alpha-lost', { share: hundredth(share), most: softShareMost }, print.at);
}

/** A method may have a least and a largest count of pieces. */
export function countLimit(print: Print, method: Method, pieces: number): Reason | undefined {
  const bounds = method.limits.pieces;
  if (bounds === undefined) return undefined;
  if (pieces < bounds.least) return reason('too-few-pieces', { pieces, least: bounds.least }, print.at);
  if (bounds.most !== null && pieces > bounds.most)
    return reason('too-many-pieces', { pieces, most: bounds.most }, print.at);
  return undefined;
}
