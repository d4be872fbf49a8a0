import { bedOf, workedSurface } from '../../catalog/compile.ts';
import type { Consumable, Station, Step } from '../../catalog/index.ts';
import { tenth } from '../../figures.ts';
import { EDGE_TOLERANCE_MM } from '../../geometry.ts';
import type { Sizes } from './face-limits.ts';
import type { Print } from './print.ts';
import { type UnfitReason, unfit } from './unfit.ts';

/** The stations of every step of a recipe for one print, or why there is none. */
export type StationChoice =
  | { readonly stations: ReadonlyMap<string, Station>; readonly reasons?: undefined }
  | { readonly reasons: readonly UnfitReason[]; readonly stations?: undefined };

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
  const reasons: UnfitReason[] = [];
  for (const step of steps) {
    if (step.stations.length === 0) continue;
    const found = stationFor(print, step, sizes, stations);
    if ('station' in found) chosen.set(step.id, found.station);
    else if (found.largest === undefined) reasons.push(unfit('no-station', { step: step.id }, print.at));
    else
      reasons.push(
        unfit(
          'too-large-for-bed',
          {
            widthMm: tenth(print.boxWidthMm),
            heightMm: tenth(print.boxHeightMm),
            bedWidthMm: found.largest.widthMm,
            bedHeightMm: found.largest.heightMm,
            station: found.largest.station,
          },
          print.at,
        ),
      );
  }
  return reasons.length > 0 ? { reasons: oncePerStation(reasons) } : { stations: chosen };
}

type Size = { readonly widthMm: number; readonly heightMm: number };

/** The first station that fits, or the largest bed among those that take the surface. */
function stationFor(
  print: Print,
  step: Step,
  sizes: Sizes,
  stations: ReadonlyMap<string, Station>,
): { readonly station: Station } | { readonly largest: (Size & { readonly station: string }) | undefined } {
  const surface = workedSurface(step.per, print.face.surface);
  let largest: (Size & { readonly station: string }) | undefined;
  for (const id of step.stations) {
    const station = stations.get(id);
    if (station === undefined || !station.surfaces.includes(surface)) continue;
    if (!step.onBed || step.per === 'sheet') return { station };
    const bed = smallestBed(station, sizes);
    if (fitsIn(bed, print)) return { station };
    if (largest === undefined || bed.widthMm * bed.heightMm > largest.widthMm * largest.heightMm)
      largest = { ...bed, station: id };
  }
  return { largest };
}

/** The smallest width and height of a station's bed over the sizes. */
function smallestBed(station: Station, sizes: Sizes): Size {
  let widthMm = station.bedWidthMm;
  let heightMm = station.bedHeightMm;
  for (const size of sizes) {
    const bed = bedOf(station, size);
    widthMm = Math.min(widthMm, bed.widthMm);
    heightMm = Math.min(heightMm, bed.heightMm);
  }
  return { widthMm, heightMm };
}

function fitsIn({ widthMm, heightMm }: Size, print: Print): boolean {
  return print.boxWidthMm <= widthMm + EDGE_TOLERANCE_MM && print.boxHeightMm <= heightMm + EDGE_TOLERANCE_MM;
}

/** Three steps on the same press give the same reason: once is enough. */
function oncePerStation(reasons: readonly UnfitReason[]): UnfitReason[] {
  const seen = new Set<string>();
  return reasons.filter(({ code, params }) => {
    const key = `${code} ${String(params['station'] ?? params['step'])}`;
    if (seen.has(key)) return false;
    seen.add(key);
    return true;
  });
}

/** The rotated print must fit the sheets it is printed on, which may be turned by a quarter. */
export function sheetLimit(print: Print, consumables: readonly Consumable[]): UnfitReason | undefined {
  for (const { driver } of consumables) {
    if (driver.kind !== 'per-sheet') continue;
    const widthMm = driver.sheetWidthMm - 2 * driver.marginMm;
    const heightMm = driver.sheetHeightMm - 2 * driver.marginMm;
    if (fitsIn({ widthMm, heightMm }, print) || fitsIn({ widthMm: heightMm, heightMm: widthMm }, print))
      continue;
    return unfit(
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
