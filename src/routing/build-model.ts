import type { CompiledCatalog } from '../catalog/compile.ts';
import type { ChoiceModel, Option, Pool, SetUp, Share, Slot } from './choice/model.ts';
import type { PrintCandidates } from './fit/candidates.ts';
import type { ResolvedLine } from './fit/resolve-slip.ts';
import { type NamedShare, type OptionParts, optionParts } from './option-costs.ts';

/** A line with the candidates of its prints. */
export type LineCandidates = { readonly line: ResolvedLine; readonly prints: readonly PrintCandidates[] };

/**
 * The choice of methods of a slip as numbers. Costs are those of the bill of cost, with one estimate: the sheets a method
 * needs are the fractions that its prints take when laid in rows, added up and rounded up; the bill nests the prints
 * instead. Every print must have a method that fits.
 */
export function buildModel(catalog: CompiledCatalog, lines: readonly LineCandidates[]): ChoiceModel {
  return new ModelBuilder(catalog, lines).model();
}

class ModelBuilder {
  readonly #catalog: CompiledCatalog;
  readonly #lines: readonly LineCandidates[];
  readonly #setUps: SetUp[] = [];
  readonly #setUpIndex = new Map<string, number>();
  readonly #pools: Pool[] = [];
  readonly #poolIndex = new Map<string, number>();

  constructor(catalog: CompiledCatalog, lines: readonly LineCandidates[]) {
    this.#catalog = catalog;
    this.#lines = lines;
  }

  model(): ChoiceModel {
    const slots: Slot[] = [];
    this.#lines.forEach(({ line, prints }, index) => {
      for (const { fit, byMethod } of prints) {
        const options = fit.map((method) =>
          this.#option(optionParts(this.#catalog, line, byMethod[method]!.routed!), method),
        );
        slots.push({ line: index, options });
      }
    });
    return {
      stations: this.#catalog.catalog.stations.map(({ id }) => id),
      slots,
      setUps: this.#setUps,
      pools: this.#pools,
      incompatible: this.#catalog.incompatible,
    };
  }

  #option({ cost, loads, setUps, shares }: OptionParts, method: number): Option {
    const indexes: number[] = [];
    for (const [name, part] of setUps) {
      let index = this.#setUpIndex.get(name);
      if (index === undefined) {
        index = this.#setUps.length;
        this.#setUpIndex.set(name, index);
        this.#setUps.push({ cost: part.cost, loads: part.loads, shares: this.#shares(part.shares) });
      }
      indexes.push(index);
    }
    return { method, cost, loads, setUps: indexes, shares: this.#shares(shares) };
  }

  #shares(named: readonly NamedShare[]): Share[] {
    return named.map(({ name, pool, amount }) => {
      let index = this.#poolIndex.get(name);
      if (index === undefined) {
        index = this.#pools.length;
        this.#poolIndex.set(name, index);
        this.#pools.push(pool);
      }
      return { pool: index, amount };
    });
  }
}
