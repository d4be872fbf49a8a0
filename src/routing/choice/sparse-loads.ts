import type { ChoiceModel } from './model.ts';

/** Loads that are not 0: most options use few of a shop's stations. */
export type SparseLoads = { readonly stations: readonly number[]; readonly loads: readonly number[] };

/** A model's loads without their zeros. */
export type SparseModel = {
  /** by slot, by option. */
  readonly options: readonly (readonly SparseLoads[])[];
  readonly setUps: readonly SparseLoads[];
  readonly pools: readonly SparseLoads[];
};

/** The loads of a model without their zeros. */
export function sparseModel({ slots, setUps, pools }: ChoiceModel): SparseModel {
  return {
    options: slots.map(({ options }) => options.map(sparseLoads)),
    setUps: setUps.map(sparseLoads),
    pools: pools.map(sparseLoads),
  };
}

function sparseLoads({ loads: dense }: { readonly loads: readonly number[] }): SparseLoads {
  const stations: number[] = [];
  const loads: number[] = [];
  for (let s = 0; s < dense.length; s++) {
    if (dense[s] === 0) continue;
    stations.push(s);
    loads.push(dense[s]!);
  }
  return { stations, loads };
}
