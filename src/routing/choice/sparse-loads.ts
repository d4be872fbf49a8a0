import { memoByKey } from '../../memo-by-key.ts';
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

/** Models of one slip share the loads of their options, so these are compressed once for all of them. */
const sparseLoads = memoByKey((dense: readonly number[]): SparseLoads => {
  const stations: number[] = [];
  const loads: number[] = [];
  for (let s = 0; s < dense.length; s++) {
    if (dense[s] === 0) continue;
    stations.push(s);
    loads.push(dense[s]!);
  }
  return { stations, loads };
});

/** The loads of a model without their zeros. */
export const sparseModel = memoByKey(
  (model: ChoiceModel): SparseModel => ({
    options: model.slots.map(({ options }) => options.map(({ loads }) => sparseLoads(loads))),
    setUps: model.setUps.map(({ loads }) => sparseLoads(loads)),
    pools: model.pools.map(({ loads }) => sparseLoads(loads)),
  }),
);
