import { ciede2000, type Lab, labOfHex, SAME_AS_CLOTH_DELTA_E } from '../artwork/index.ts';
import type { Blank, BlankColor, Face, Surface } from './blank.ts';
import type { Catalog } from './catalog.ts';
import type { Method } from './method.ts';
import type { Delivery, Finish, Station } from './shop.ts';
import { bestVariant, type Variant } from './treatments.ts';

/** A cloth color with what limits and ink need. */
export type Cloth = {
  readonly color: BlankColor;
  readonly lab: Lab;
  /** so close to white that no white is printed on it. */
  readonly white: boolean;
};

/** A blank with its parts by id. */
export type CompiledBlank = {
  readonly blank: Blank;
  readonly cloths: ReadonlyMap<string, Cloth>;
  readonly faces: ReadonlyMap<string, Face>;
  /** index of each size in the blank's list. */
  readonly sizes: ReadonlyMap<string, number>;
  /** for each method, by index: the share of the fibers it accepts, 1 if it accepts any. */
  readonly fiberShares: readonly number[];
};

/** A finish and how each method, by index, meets it. */
export type CompiledFinish = { readonly finish: Finish; readonly variants: readonly Variant[] };

/**
 * A catalog with everything that can be computed once for each version: indexes by id, the colors of the cloth, and how
 * every method meets every finish. Built by `compileCatalog` from a catalog that `checkCatalog` accepted.
 */
export type CompiledCatalog = {
  readonly catalog: Catalog;
  readonly version: number;
  readonly blanks: ReadonlyMap<string, CompiledBlank>;
  readonly finishes: ReadonlyMap<string, CompiledFinish>;
  readonly methods: readonly Method[];
  readonly methodIndex: ReadonlyMap<string, number>;
  readonly stations: ReadonlyMap<string, Station>;
  readonly deliveries: ReadonlyMap<string, Delivery>;
  /** `incompatible[i][j]`: methods i and j may not be on the same piece, according to either of them. */
  readonly incompatible: readonly (readonly boolean[])[];
};

/**
 * Compiles a valid catalog.
 *
 * @param version number of this version of the catalog, from 1; part of every quote.
 */
export function compileCatalog(catalog: Catalog, version: number): CompiledCatalog {
  const { methods } = catalog;
  const stations = new Map(catalog.stations.map((station) => [station.id, station]));
  return Object.freeze({
    catalog,
    version,
    blanks: new Map(catalog.blanks.map((blank) => [blank.id, compileBlank(blank, methods)])),
    finishes: new Map(
      catalog.finishes.map((finish) => [
        finish.id,
        Object.freeze({ finish, variants: methods.map((method) => bestVariant(method, finish)) }),
      ]),
    ),
    methods,
    methodIndex: new Map(methods.map(({ id }, index) => [id, index])),
    stations,
    deliveries: new Map(catalog.deliveries.map((delivery) => [delivery.id, delivery])),
    incompatible: methods.map((one) =>
      methods.map((other) => one.notWith.includes(other.id) || other.notWith.includes(one.id)),
    ),
  });
}

function compileBlank(blank: Blank, methods: readonly Method[]): CompiledBlank {
  return Object.freeze({
    blank,
    cloths: new Map(blank.colors.map((color) => [color.id, clothOf(color)])),
    faces: new Map(blank.faces.map((face) => [face.id, face])),
    sizes: new Map(blank.sizes.map(({ id }, index) => [id, index])),
    fiberShares: methods.map(({ limits }) => {
      const accepted = limits.fibers?.anyOf;
      if (accepted === undefined) return 1;
      const share = blank.fibers.reduce(
        (sum, { fiber, share }) => (accepted.includes(fiber) ? sum + Number(share) : sum),
        0,
      );
      // Shares have at most six digits; rounding removes the error of sums such as 0.1 + 0.2.
      return Math.round(share * 1e6) / 1e6;
    }),
  });
}

function clothOf(color: BlankColor): Cloth {
  const lab = labOfHex(color.hex);
  return Object.freeze({ color, lab, white: ciede2000(lab, [100, 0, 0]) < SAME_AS_CLOTH_DELTA_E });
}

/** The printable area of a face in one size of the blank, mm. */
export function areaOf(face: Face, size: string): { readonly widthMm: number; readonly heightMm: number } {
  return face.areaBySize[size] ?? face;
}

/** The bed of a station for one size of the blank, mm. */
export function bedOf(
  station: Station,
  size: string,
): { readonly widthMm: number; readonly heightMm: number } {
  return station.bedBySize[size] ?? { widthMm: station.bedWidthMm, heightMm: station.bedHeightMm };
}

/** The surface a step works on: that of the face, or flat if it handles sheets. */
export function workedSurface(per: 'print' | 'piece' | 'sheet', face: Surface): Surface {
  return per === 'sheet' ? 'flat' : face;
}
