import type { Slip } from '../../src/contract/index.ts';
import type { CompiledCatalog, RoutedPlacement, RoutedSlip } from '../../src/quote/index.ts';

/**
 * A routed slip as it is kept with its order: what was chosen and measured. What the catalog's version and the slip say
 * is left out, and found there again.
 */
export type RouteRecord = readonly (readonly PlacementRecord[])[];

type PlacementRecord = Omit<RoutedPlacement, 'face' | 'method' | 'treatments' | 'stations'> & {
  readonly face: string;
  readonly method: string;
  readonly treatments: readonly string[];
  /** id of the station by id of the step. */
  readonly stations: readonly (readonly [step: string, station: string])[];
};

/** Folds a route for keeping, one list of placements for each line. */
export function serializeRoute(routed: RoutedSlip): RouteRecord {
  return routed.lines.map(({ placements }) =>
    placements.map((placement) => ({
      ...placement,
      face: placement.face.id,
      method: placement.method.id,
      treatments: placement.treatments.map(({ id }) => id),
      stations: [...placement.stations].map(([step, station]) => [step, station.id] as const),
    })),
  );
}

/**
 * Unfolds a route.
 * @param catalog the version the order was made from
 * @throws Error when catalog, slip and route do not belong together
 */
export function deserializeRoute(catalog: CompiledCatalog, slip: Slip, folded: RouteRecord): RoutedSlip {
  return {
    slip,
    lines: slip.lines.map((line, index) => {
      const blank = requireFound(catalog.blanks.get(line.blank), `blank "${line.blank}"`);
      return {
        line,
        blank: blank.blank,
        color: requireFound(blank.cloths.get(line.color), `color "${line.color}"`).color,
        finish: requireFound(catalog.finishes.get(line.finish), `finish "${line.finish}"`).finish,
        pieces: line.counts.reduce((sum, { count }) => sum + count, 0),
        placements: requireFound(folded[index], `line ${index}`).map((placement) => {
          const method = requireFound(
            catalog.methods[catalog.methodIndex.get(placement.method) ?? -1],
            `method "${placement.method}"`,
          );
          return {
            ...placement,
            face: requireFound(blank.faces.get(placement.face), `face "${placement.face}"`),
            method,
            treatments: placement.treatments.map((id) =>
              requireFound(
                method.treatments.find((treatment) => treatment.id === id),
                `treatment "${id}"`,
              ),
            ),
            stations: new Map(
              placement.stations.map(([step, station]) => [
                step,
                requireFound(catalog.stations.get(station), `station "${station}"`),
              ]),
            ),
          };
        }),
      };
    }),
  };
}

function requireFound<T>(value: T | undefined, what: string): T {
  if (value === undefined) throw new Error(`the ${what} of an order is not in the catalog it was made from`);
  return value;
}
