import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Station, Step } from '../catalog/index.ts';
import { stepsOf } from '../catalog/treatments.ts';
import { memoByKey } from '../memo-by-key.ts';
import type { Pool } from './choice/model.ts';
import { driverQuantity } from './driver-quantity.ts';
import type { RoutedPlacement } from './routed.ts';
import { recipeCosts, secondCosts } from './unit-costs.ts';
import { spoilageFactor, stationsKeyOf, workedCm2 } from './work.ts';

/** A share of a pool. Equal names share one pool. */
export type NamedShare = { readonly name: string; readonly pool: Pool; readonly amount: number };

/** Cost in millionths, loads in ms by station in the catalog's order. */
type Part = {
  readonly cost: number;
  readonly loads: readonly number[];
  readonly shares: readonly NamedShare[];
};

/** What a method for a print adds to a choice: its own part, and set-ups by name, each paid once however many share it. */
export type OptionParts = Part & {
  readonly setUps: ReadonlyMap<string, Part>;
  /** most the print can cost, millionths: what it costs when it shares nothing. Infinity when there is no such bound. */
  readonly aloneCost: number;
};

/** The line a placement belongs to. */
export type LineOfPlacement = { readonly index: number; readonly pieces: number };

/** By the pieces of the line: the price ladder asks for the same placement at other counts. */
const partsByPieces = memoByKey((_: RoutedPlacement) => new Map<number, OptionParts>());

/**
 * What a routed placement adds to the choice of methods. It depends on its line and the catalog alone, so the many slips
 * that differ in another line share it.
 */
export function optionParts(
  catalog: CompiledCatalog,
  line: LineOfPlacement,
  placement: RoutedPlacement,
): OptionParts {
  const known = partsByPieces(placement);
  let parts = known.get(line.pieces);
  if (parts === undefined) {
    const made = new PartsBuilder(catalog, line, placement).parts;
    parts = { ...made, aloneCost: aloneCost(made, placement) };
    known.set(line.pieces, parts);
  }
  return parts;
}

/** How many prints of one size go on a sheet in rows, all turned the same way; at least 1. */
export function perSheet(
  sheet: { readonly widthMm: number; readonly heightMm: number; readonly gapMm: number },
  widthMm: number,
  heightMm: number,
): number {
  const inRows = (width: number, height: number): number =>
    Math.floor((sheet.widthMm + sheet.gapMm + 0.05) / (width + sheet.gapMm)) *
    Math.floor((sheet.heightMm + sheet.gapMm + 0.05) / (height + sheet.gapMm));
  return Math.max(1, inRows(widthMm, heightMm), inRows(heightMm, widthMm));
}

function aloneCost(parts: Omit<OptionParts, 'aloneCost'>, { method, treatments }: RoutedPlacement): number {
  const steps = stepsOf(method, treatments);
  const head = steps.findIndex(({ per }) => per !== 'sheet');
  // Later steps on sheets divide the sheets among groups of pieces and round up for each, so one print's own are no bound.
  if (steps.some(({ per }, place) => per === 'sheet' && place > head)) return Number.POSITIVE_INFINITY;
  const whole = (shares: readonly NamedShare[]): number =>
    shares.reduce((sum, { pool, amount }) => sum + Math.ceil(amount) * pool.cost, 0);
  let cost = parts.cost + whole(parts.shares);
  for (const setUp of parts.setUps.values()) cost += setUp.cost + whole(setUp.shares);
  // Spoilage is in every amount already, but rounding sheets up may hide it.
  return cost * spoilageFactor(method);
}

type OpenPart = { cost: number; readonly loads: number[]; readonly shares: NamedShare[] };

class PartsBuilder {
  readonly parts: OpenPart & { readonly setUps: Map<string, OpenPart> };
  readonly #catalog: CompiledCatalog;
  readonly #line: LineOfPlacement;
  readonly #placement: RoutedPlacement;
  /** names in set-ups and pools. */
  readonly #method: string;
  /** pieces made, spoiled ones included. */
  readonly #made: number;

  constructor(catalog: CompiledCatalog, line: LineOfPlacement, placement: RoutedPlacement) {
    this.#catalog = catalog;
    this.#line = line;
    this.#placement = placement;
    this.#method = placement.method.id;
    this.#made = line.pieces * spoilageFactor(placement.method);
    this.parts = { ...this.#emptyPart(), setUps: new Map() };
    this.#consumables();
    this.#sheets();
    this.#steps();
  }

  #consumables(): void {
    for (const { driver, price } of recipeCosts(this.#placement.method).consumables) {
      const use = driverQuantity(driver, this.#placement);
      switch (use.per) {
        case 'print':
          this.parts.cost += price * use.quantity * this.#made;
          break;
        case 'piece': {
          const cost = price * use.quantity * this.#made;
          if (cost > 0) this.#setUp(`piece ${this.#line.index} ${this.#method}`).cost += cost;
          break;
        }
        case 'sheet':
          break;
        default:
          use satisfies never;
      }
    }
  }

  #sheets(): void {
    const { method, boxWidthMm, boxHeightMm, design, distinct } = this.#placement;
    const { sheets } = recipeCosts(method);
    for (const sheet of sheets) {
      const fit = perSheet(sheet, boxWidthMm, boxHeightMm);
      const pool = this.#emptyPart();
      pool.cost += sheet.price;
      if (sheet === sheets[0]) this.#sheetSteps(pool);
      // Different names that may not share a sheet take at least one each.
      const amount =
        !sheet.gang && distinct > 1
          ? distinct * Math.ceil(this.#made / distinct / fit - 1e-9)
          : this.#made / fit;
      const name = `sheet ${this.#method} ${sheet.id} ${sheet.gang ? '' : design}`;
      this.parts.shares.push({ name, pool, amount });
    }
  }

  /** Steps on sheets run once per sheet. */
  #sheetSteps(pool: OpenPart): void {
    const { method, treatments, stations } = this.#placement;
    for (const step of stepsOf(method, treatments)) {
      const station = stations.get(step.id);
      if (step.per !== 'sheet' || station === undefined) continue;
      this.#time(pool, step, station, step.perBatchS / step.batchSize + step.perPrintS, 0);
    }
  }

  #steps(): void {
    const { index, pieces } = this.#line;
    const placement = this.#placement;
    const key = this.#method;
    const cm2 = workedCm2(placement);
    const stationsKey = stationsKeyOf(placement);
    let onSheets = true;
    for (const step of stepsOf(placement.method, placement.treatments)) {
      if (step.per !== 'sheet') onSheets = false;
      const station = placement.stations.get(step.id);
      if (station === undefined) continue;
      // One set-up holds all steps of a group of work.
      const group = onSheets ? 'sheets' : stationsKey;
      const orderS = step.setUpPerOrderS;
      if (orderS > 0) this.#time(this.#setUp(`order ${key} ${group}`), step, station, 0, orderS);
      const designS = step.setUpPerDesignS * placement.distinct;
      if (designS > 0)
        this.#time(this.#setUp(`design ${placement.design} ${group}`), step, station, 0, designS);
      const areaS = cm2 * (step.perCm2S + (placement.white ? step.whitePerCm2S : 0));
      if (areaS > 0) this.#time(this.parts, step, station, areaS * this.#made, 0);
      if (step.per === 'sheet') continue;
      const target =
        step.per === 'piece' ? this.#setUp(`work ${index} ${key} ${stationsKey} ${step.id}`) : this.parts;
      const isSingle = step.batchSize === 1;
      const eachS = step.perPrintS + (isSingle ? step.perBatchS : 0);
      if (eachS > 0) this.#time(target, step, station, eachS * this.#made, 0);
      if (isSingle || step.perBatchS === 0) continue;
      const pool = this.#emptyPart();
      this.#time(pool, step, station, step.perBatchS * spoilageFactor(placement.method), 0);
      const name = `batch ${key} ${step.id} ${stationsKey}`;
      target.shares.push({ name, pool, amount: pieces / step.batchSize });
    }
  }

  #setUp(name: string): OpenPart {
    const { setUps } = this.parts;
    let part = setUps.get(name);
    if (part === undefined) {
      part = this.#emptyPart();
      setUps.set(name, part);
    }
    return part;
  }

  #time(part: OpenPart, step: Step, station: Station, runS: number, setUpS: number): void {
    const { stations } = this.#catalog.catalog;
    const [run, setUp] = secondCosts(step, station, this.#catalog.catalog);
    part.cost += run * runS + setUp * setUpS;
    const index = stations.findIndex(({ id }) => id === station.id);
    part.loads[index]! += ((runS + setUpS) * 1000) / stations[index]!.count;
  }

  #emptyPart(): OpenPart {
    return { cost: 0, loads: this.#catalog.catalog.stations.map(() => 0), shares: [] };
  }
}
