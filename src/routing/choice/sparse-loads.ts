import type { ChoiceModel } from './model.ts';

/** Loads that are not 0: most options touch few of a shop's stations. */
export type SparseLoads = { readonly stations: readonly number[]; readonly loads: readonly number[] };

/** A model's loads without their zeros. */
export type SparseModel = {
  /** by slot, by option. */
  readonly options: readonly (readonly SparseLoads[])[];
  readonly setUps: readonly SparseLoads[];
  readonly pools: readonly SparseLoads[];
};

const known = new WeakMap<ChoiceModel, SparseModel>();

/** The loads of a model without their zeros, worked out once. */
export function sparseModel(model: ChoiceModel): SparseModel {
  let sparse = known.get(model);
  if (sparse === undefined) {
    sparse = {
      options: model.slots.map(({ options }) => options.map(({ loads }) => sparseLoads(loads))),
      setUps: model.setUps.map(({ loads }) => sparseLoads(loads)),
      pools: model.pools.map(({ loads }) => sparseLoads(loads)),
    };
    known.set(model, sparse);
  }
  return sparse;
}

const knownLoads = new WeakMap<readonly number[], SparseLoads>();

function sparseLoads(dense: readonly number[]): SparseLoads {
  const sparse = knownLoads.get(dense);
  if (sparse !== undefined) return sparse;
  const stations: number[] = [];
  const loads: number[] = [];
  for (let s = 0; s < dense.length; s++) {
    if (dense[s] === 0) continue;
    stations.push(s);
    loads.push(dense[s]!);
  }
  const found = { stations, loads };
  knownLoads.set(dense, found);
  return found;
}
