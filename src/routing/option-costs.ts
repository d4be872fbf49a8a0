import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Station, Step } from '../catalog/index.ts';
import { stepsOf } from '../catalog/treatments.ts';
import type { Pool } from './choice/model.ts';
import type { ResolvedLine } from './fit/resolve-slip.ts';
import type { RoutedPlacement } from './routed.ts';
import { recipeNumbers, secondCosts } from './unit-costs.ts';
import { stationsKeyOf, workedCm2 } from './work.ts';

/** A share of something that whoever gives the same name to shares. */
export type NamedShare = { readonly name: string; readonly of: Pool; readonly amount: number };

/** Cost in millionths, loads by station in the catalog's order, ms. */
type Part = {
  readonly cost: number;
  readonly loads: readonly number[];
  readonly shares: readonly NamedShare[];
};

/** What a method for a print adds to a choice: its own, and by name what is paid once however many prints name it. */
export type OptionParts = Part & {
  readonly setUps: ReadonlyMap<string, Part>;
  /** millionths: what the print costs at most, whatever else is made, that is, if it shared nothing. */
  readonly aloneCost: number;
};

const known = new WeakMap<RoutedPlacement, OptionParts>();

/**
 * What a candidate adds to the choice of methods. It depends on its line and the catalog alone, so the many slips that
 * differ in another line share it.
 */
export function optionParts(
  catalog: CompiledCatalog,
  line: ResolvedLine,
  routed: RoutedPlacement,
  method: number,
): OptionParts {
  let parts = known.get(routed);
  if (parts === undefined) {
    const made = new PartsOf(catalog, line, routed, method).parts;
    parts = { ...made, aloneCost: aloneCost(made, routed) };
    known.set(routed, parts);
  }
  return parts;
}

/** Several prints of one size to a sheet, laid in rows all the same way: how many. */
export function perSheet(
  sheet: { readonly widthMm: number; readonly heightMm: number; readonly gapMm: number },
  widthMm: number,
  heightMm: number,
): number {
  const rows = (width: number, height: number): number =>
    Math.floor((sheet.widthMm + sheet.gapMm + 0.05) / (width + sheet.gapMm)) *
    Math.floor((sheet.heightMm + sheet.gapMm + 0.05) / (height + sheet.gapMm));
  return Math.max(1, rows(widthMm, heightMm), rows(heightMm, widthMm));
}

function aloneCost(parts: Omit<OptionParts, 'aloneCost'>, { method, treatments }: RoutedPlacement): number {
  const steps = stepsOf(method, treatments);
  const head = steps.findIndex(({ per }) => per !== 'sheet');
  // Sheets worked on later are shared out among groups of pieces and rounded up for each: no print's own are a bound.
  if (steps.some(({ per }, place) => per === 'sheet' && place > head)) return Number.POSITIVE_INFINITY;
  const whole = (named: readonly NamedShare[]): number =>
    named.reduce((sum, { of, amount }) => sum + Math.ceil(amount) * of.cost, 0);
  let all = parts.cost + whole(parts.shares);
  for (const setUp of parts.setUps.values()) all += setUp.cost + whole(setUp.shares);
  // What is spoiled is in every amount, but the rounding up of sheets may swallow it.
  return all * recipeNumbers(method).more;
}

type OpenPart = { cost: number; readonly loads: number[]; readonly shares: NamedShare[] };

class PartsOf {
  readonly parts: OpenPart & { readonly setUps: Map<string, OpenPart> };
  readonly #catalog: CompiledCatalog;
  readonly #line: ResolvedLine;
  readonly #routed: RoutedPlacement;
  readonly #method: number;

  constructor(catalog: CompiledCatalog, line: ResolvedLine, routed: RoutedPlacement, method: number) {
    this.#catalog = catalog;
    this.#line = line;
    this.#routed = routed;
    this.#method = method;
    this.parts = { ...this.#nothing(), setUps: new Map() };
    const recipe = recipeNumbers(routed.method);
    const prints = line.pieces * recipe.more;
    if (recipe.perPiece > 0) this.#setUp(`piece ${line.index} ${method}`).cost += prints * recipe.perPiece;
    let each = recipe.perPrint;
    for (const { perCm2, marginMm } of recipe.perArea)
      each += (perCm2 * (routed.boxWidthMm + 2 * marginMm) * (routed.boxHeightMm + 2 * marginMm)) / 100;
    const { ink } = routed;
    each += ink.c * recipe.ink.c + ink.m * recipe.ink.m + ink.y * recipe.ink.y;
    each += ink.k * recipe.ink.k + ink.w * recipe.ink.w;
    this.parts.cost += each * prints;
    this.#sheets(prints);
    this.#steps();
  }

  #sheets(prints: number): void {
    const routed = this.#routed;
    const { sheets } = recipeNumbers(routed.method);
    for (const sheet of sheets) {
      const fit = perSheet(sheet, routed.boxWidthMm, routed.boxHeightMm);
      const pool = this.#nothing();
      pool.cost += sheet.price;
      if (sheet === sheets[0]) this.#sheetSteps(pool);
      // Different names that may not share a sheet take one each at least.
      const alone = !sheet.gang && routed.distinct > 1;
      const amount = alone
        ? routed.distinct * Math.ceil(prints / routed.distinct / fit - 1e-9)
        : prints / fit;
      const name = `sheet ${this.#method} ${sheet.id} ${sheet.gang ? '' : routed.design}`;
      this.parts.shares.push({ name, of: pool, amount });
    }
  }

  /** Steps on sheets run once per sheet. */
  #sheetSteps(pool: OpenPart): void {
    const routed = this.#routed;
    for (const step of stepsOf(routed.method, routed.treatments)) {
      const station = routed.stations.get(step.id);
      if (step.per !== 'sheet' || station === undefined) continue;
      this.#time(pool, step, station, step.perBatchS / step.batchSize + step.perPrintS, 0);
    }
  }

  #steps(): void {
    const line = this.#line;
    const routed = this.#routed;
    const key = this.#method;
    const { more } = recipeNumbers(routed.method);
    const cm2 = workedCm2(routed);
    const where = stationsKeyOf(routed);
    const pieces = line.pieces * more;
    let onSheets = true;
    for (const step of stepsOf(routed.method, routed.treatments)) {
      if (step.per !== 'sheet') onSheets = false;
      const station = routed.stations.get(step.id);
      if (station === undefined) continue;
      // One set-up gathers all steps of its group.
      const group = onSheets ? 'sheets' : where;
      const order = step.setUpPerOrderS;
      if (order > 0) this.#time(this.#setUp(`order ${key} ${group}`), step, station, 0, order);
      const design = step.setUpPerDesignS * routed.distinct;
      if (design > 0) this.#time(this.#setUp(`design ${routed.design} ${group}`), step, station, 0, design);
      const areaS = cm2 * (step.perCm2S + (routed.white ? step.whitePerCm2S : 0));
      if (areaS > 0) this.#time(this.parts, step, station, areaS * pieces, 0);
      if (step.per === 'sheet') continue;
      const target =
        step.per === 'piece' ? this.#setUp(`work ${line.index} ${key} ${where} ${step.id}`) : this.parts;
      const alone = step.batchSize === 1;
      const eachS = step.perPrintS + (alone ? step.perBatchS : 0);
      if (eachS > 0) this.#time(target, step, station, eachS * pieces, 0);
      if (alone || step.perBatchS === 0) continue;
      const batch = this.#nothing();
      this.#time(batch, step, station, step.perBatchS * more, 0);
      const name = `batch ${key} ${step.id} ${where}`;
      target.shares.push({ name, of: batch, amount: line.pieces / step.batchSize });
    }
  }

  #setUp(name: string): OpenPart {
    const { setUps } = this.parts;
    let part = setUps.get(name);
    if (part === undefined) {
      part = this.#nothing();
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

  #nothing(): OpenPart {
    return { cost: 0, loads: this.#catalog.catalog.stations.map(() => 0), shares: [] };
  }
}
