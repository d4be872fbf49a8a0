import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Station, Step } from '../catalog/index.ts';
import type { PrintCandidates } from './candidates.ts';
import { stepsOf } from './candidates.ts';
import type { ChoiceModel, Option, Share, Slot } from './choice-model.ts';
import { recipeNumbers, secondCosts } from './recipe-numbers.ts';
import type { ResolvedLine } from './resolve.ts';
import type { RoutedPlacement } from './routed.ts';
import { workedCm2 } from './work.ts';

/** A line with the candidates of its prints. */
export type LineCandidates = { readonly line: ResolvedLine; readonly prints: readonly PrintCandidates[] };

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

/**
 * The choice of methods of a slip as numbers. Costs are those of the bill of cost, with one estimate: how many sheets
 * a method needs is the sum over its prints of the part of a sheet each takes when laid in rows, rounded up; the bill
 * nests the prints themselves. Every print must have a fit method.
 */
export function buildModel(catalog: CompiledCatalog, lines: readonly LineCandidates[]): ChoiceModel {
  return new Builder(catalog, lines).model();
}

type OpenSetUp = { cost: number; readonly loads: number[]; readonly shares: Share[] };
type OpenOption = OpenSetUp & { readonly method: number; readonly setUps: number[] };

class Builder {
  readonly #catalog: CompiledCatalog;
  readonly #lines: readonly LineCandidates[];
  readonly #stations: string[];
  readonly #counts: number[];
  readonly #stationIndex = new Map<string, number>();
  readonly #setUps: OpenSetUp[] = [];
  readonly #setUpIndex = new Map<string, number>();
  readonly #pools: { cost: number; readonly loads: number[] }[] = [];
  readonly #poolIndex = new Map<string, number>();
  readonly #slots: Slot[] = [];

  constructor(catalog: CompiledCatalog, lines: readonly LineCandidates[]) {
    this.#catalog = catalog;
    this.#lines = lines;
    this.#stations = catalog.catalog.stations.map(({ id }) => id);
    this.#counts = catalog.catalog.stations.map(({ count }) => count);
    this.#stations.forEach((id, index) => {
      this.#stationIndex.set(id, index);
    });
  }

  model(): ChoiceModel {
    this.#lines.forEach(({ line, prints }, index) => {
      for (const print of prints) {
        const options = print.fit.map((method) =>
          this.#option(line, print.byMethod[method]!.routed!, method),
        );
        this.#slots.push({ line: index, options });
      }
    });
    return {
      stations: this.#stations,
      slots: this.#slots,
      setUps: this.#setUps,
      pools: this.#pools,
      apart: this.#catalog.apart,
    };
  }

  #option(line: ResolvedLine, routed: RoutedPlacement, method: number): Option {
    const option: OpenOption = { method, cost: 0, loads: this.#none(), setUps: [], shares: [] };
    const recipe = recipeNumbers(routed.method);
    const prints = line.pieces * recipe.more;
    const key = `${method}`;
    if (recipe.perPiece > 0) {
      const piece = this.#setUp(option, `piece ${line.index} ${key}`);
      if (piece !== undefined) piece.cost += prints * recipe.perPiece;
    }
    let each = recipe.perPrint;
    for (const { perCm2, marginMm } of recipe.perArea)
      each += (perCm2 * (routed.boxWidthMm + 2 * marginMm) * (routed.boxHeightMm + 2 * marginMm)) / 100;
    const { ink } = routed;
    each += ink.c * recipe.ink.c + ink.m * recipe.ink.m + ink.y * recipe.ink.y;
    each += ink.k * recipe.ink.k + ink.w * recipe.ink.w;
    option.cost += each * prints;
    this.#sheets(option, routed, prints, key);
    this.#steps(option, line, routed, key);
    return option;
  }

  #sheets(option: OpenOption, routed: RoutedPlacement, prints: number, key: string): void {
    const { sheets } = recipeNumbers(routed.method);
    for (const sheet of sheets) {
      const fit = perSheet(sheet, routed.boxWidthMm, routed.boxHeightMm);
      const pool = this.#pool(`sheet ${key} ${sheet.id} ${sheet.gang ? '' : routed.design}`, (open) => {
        open.cost += sheet.price;
        if (sheet === sheets[0]) this.#sheetSteps(open, routed);
      });
      // Different names that may not share a sheet take one each at least.
      const alone = !sheet.gang && routed.distinct > 1;
      const amount = alone
        ? routed.distinct * Math.ceil(prints / routed.distinct / fit - 1e-9)
        : prints / fit;
      option.shares.push({ pool, amount });
    }
  }

  /** Steps on sheets run once per sheet. */
  #sheetSteps(open: { cost: number; readonly loads: number[] }, routed: RoutedPlacement): void {
    for (const step of stepsOf(routed.method, routed.treatments)) {
      const station = routed.stations.get(step.id);
      if (step.per !== 'sheet' || station === undefined) continue;
      const seconds = step.perBatchS / step.batchSize + step.perPrintS;
      this.#time(open, step, station, seconds, 0);
    }
  }

  #steps(option: OpenOption, line: ResolvedLine, routed: RoutedPlacement, key: string): void {
    const { more } = recipeNumbers(routed.method);
    const cm2 = workedCm2(routed);
    let onSheets = true;
    let where = '';
    for (const [step, station] of routed.stations) where += `${step}=${station.id} `;
    for (const step of stepsOf(routed.method, routed.treatments)) {
      if (step.per !== 'sheet') onSheets = false;
      const station = routed.stations.get(step.id);
      if (station === undefined) continue;
      const group = onSheets ? 'sheets' : where;
      const order = step.setUpPerOrderS;
      if (order > 0) this.#setUpTime(option, `order ${key} ${group}`, step, station, order);
      const design = step.setUpPerDesignS * routed.distinct;
      if (design > 0) this.#setUpTime(option, `design ${routed.design} ${group}`, step, station, design);
      const areaS = cm2 * (step.perCm2S + (routed.white ? step.whitePerCm2S : 0));
      const pieces = line.pieces * more;
      if (areaS > 0) this.#time(option, step, station, areaS * pieces, 0);
      if (step.per === 'sheet') continue;
      const perPiece = step.per === 'piece';
      const target = perPiece ? this.#setUp(option, `work ${line.index} ${key} ${where} ${step.id}`) : option;
      if (target === undefined) continue;
      const alone = step.batchSize === 1;
      const eachS = step.perPrintS + (alone ? step.perBatchS : 0);
      if (eachS > 0) this.#time(target, step, station, eachS * pieces, 0);
      if (alone || step.perBatchS === 0) continue;
      const pool = this.#pool(`batch ${key} ${step.id} ${where}`, (open) => {
        this.#time(open, step, station, step.perBatchS * more, 0);
      });
      target.shares.push({ pool, amount: line.pieces / step.batchSize });
    }
  }

  readonly #counted = new Set<string>();

  #setUpTime(option: OpenOption, key: string, step: Step, station: Station, seconds: number): void {
    // One set-up gathers all steps of its group; each step adds to it once, whichever option comes first.
    const index = this.#indexed(key);
    if (!option.setUps.includes(index)) option.setUps.push(index);
    const part = `${key} ${step.id}`;
    if (this.#counted.has(part)) return;
    this.#counted.add(part);
    this.#time(this.#setUps[index]!, step, station, 0, seconds);
  }

  /** The set-up of this key, when it is new; undefined when another option made it already. Either way the option has it. */
  #setUp(option: OpenOption, key: string): OpenSetUp | undefined {
    const isNew = !this.#setUpIndex.has(key);
    const index = this.#indexed(key);
    if (!option.setUps.includes(index)) option.setUps.push(index);
    return isNew ? this.#setUps[index]! : undefined;
  }

  #indexed(key: string): number {
    let index = this.#setUpIndex.get(key);
    if (index === undefined) {
      index = this.#setUps.length;
      this.#setUpIndex.set(key, index);
      this.#setUps.push({ cost: 0, loads: this.#none(), shares: [] });
    }
    return index;
  }

  #pool(key: string, fill: (pool: { cost: number; readonly loads: number[] }) => void): number {
    let index = this.#poolIndex.get(key);
    if (index === undefined) {
      index = this.#pools.length;
      this.#poolIndex.set(key, index);
      const pool = { cost: 0, loads: this.#none() };
      fill(pool);
      this.#pools.push(pool);
    }
    return index;
  }

  #time(
    part: { cost: number; readonly loads: number[] },
    step: Step,
    station: Station,
    runS: number,
    setUpS: number,
  ): void {
    const [run, setUp] = secondCosts(step, station, this.#catalog.catalog);
    part.cost += run * runS + setUp * setUpS;
    const index = this.#stationIndex.get(station.id)!;
    part.loads[index]! += ((runS + setUpS) * 1000) / this.#counts[index]!;
  }

  #none(): number[] {
    return new Array<number>(this.#stations.length).fill(0);
  }
}
