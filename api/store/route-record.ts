import type { Slip } from '../../src/contract/index.ts';
import type { CompiledCatalog, RoutedPlacement, RoutedSlip } from '../../src/quote/index.ts';

/**
 * A routed slip as stored with its order: what was chosen and measured, with ids for everything that is in the slip or the
 * catalog's version.
 */
export type RouteRecord = readonly (readonly PlacementRecord[])[];

type PlacementRecord = Omit<RoutedPlacement, 'face' | 'method' | 'treatments' | 'stations'> & {
  readonly face: string;
  readonly method: string;
  readonly treatments: readonly string[];
  /** id of the station by id of the step. */
  readonly stations: readonly (readonly [step: string, station: string])[];
};

/** Turns a route into a record: one list of placements per line. */
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
 * Turns a record back into a route.
 * @param catalog the version the order was quoted from
 * @throws Error if catalog, slip and record do not belong together
 */
export function deserializeRoute(catalog: CompiledCatalog, slip: Slip, record: RouteRecord): RoutedSlip {
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
        placements: requireFound(record[index], `line ${index}`).map((placement) => {
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
