import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Consumable, Method, Step } from '../catalog/index.ts';
import type { RoutedLine, RoutedPlacement, RoutedSlip } from '../routing/routed.ts';
import { type PlacedPrint, type StepWork, type WorkGroup, workedCm2, workGroups } from '../routing/work.ts';
import { type SheetCount, type SheetUse, sheetUses } from './sheets.ts';
import type { BillWhat } from './types.ts';

/** Who pays for an item: one line of the slip, or every line by its weight. */
export type Payer = number | (() => readonly number[]);

/** Something an order uses: how much of what, and at which rate. */
export type Item = {
  readonly what: Exclude<BillWhat, 'spoilage'>;
  readonly item: string;
  readonly where: string;
  readonly method: string | undefined;
  readonly quantity: number;
  readonly unit: string;
  /** decimal strings; the rate is their sum. */
  readonly rate: string;
  readonly extra?: string;
  readonly payer: Payer;
};

/** So much more, as a share, of everything listed since the place `from`. */
export type Spoilage = {
  readonly what: 'spoilage';
  readonly from: number;
  readonly share: string;
  readonly where: string;
  readonly method: string;
  readonly payer: Payer;
};

/** All an order uses. */
export type BillItems = {
  readonly items: readonly (Item | Spoilage)[];
  readonly crewMinutes: number;
  readonly stationMinutes: ReadonlyMap<string, number>;
  readonly sheets: ReadonlyMap<string, number>;
};

const CM2_PER_M2 = 10_000;

/** Sheets as counted for the steps that work on them. */
type Nested = { readonly prints: readonly PlacedPrint[]; readonly uses: readonly SheetUse[] };

/** Lists what a routed slip uses, with sheets counted as told. */
export function billItems(catalog: CompiledCatalog, routed: RoutedSlip, count: SheetCount): BillItems {
  return new BillBuilder(catalog, routed).take(count);
}

class BillBuilder {
  readonly #catalog: CompiledCatalog;
  readonly #routed: RoutedSlip;
  readonly #wage: string;
  readonly #items: (Item | Spoilage)[] = [];
  readonly #stationS = new Map<string, number>();
  readonly #sheets = new Map<string, number>();
  #crewS = 0;

  constructor(catalog: CompiledCatalog, routed: RoutedSlip) {
    this.#catalog = catalog;
    this.#routed = routed;
    this.#wage = catalog.catalog.crew.wagePerHour;
  }

  take(count: SheetCount): BillItems {
    this.#routed.lines.forEach((line, index) => {
      this.#blanks(line, index);
      this.#ownConsumables(line, index);
    });
    const nested = new Map<Method, Nested>();
    const groups = workGroups(this.#routed, (method, prints) => {
      const uses = sheetUses(method, prints, count);
      nested.set(method, { prints, uses });
      return uses[0]?.sheets ?? 0;
    });
    const methods = new Map<Method, PlacedPrint[]>();
    for (const group of groups) {
      this.#time(group);
      if (group.kind === 'sheets') continue;
      const prints = methods.get(group.method);
      if (prints === undefined) methods.set(group.method, [...group.prints]);
      else prints.push(...group.prints);
    }
    for (const [method, prints] of methods) this.#nested(method, prints, nested.get(method), count);
    this.#packing();
    return {
      items: this.#items,
      crewMinutes: this.#crewS / 60,
      stationMinutes: new Map([...this.#stationS].map(([id, seconds]) => [id, seconds / 60])),
      sheets: this.#sheets,
    };
  }

  #blanks({ line, blank, color }: RoutedLine, index: number): void {
    for (const { size, count } of line.counts) {
      const { cost } = blank.sizes.find(({ id }) => id === size)!;
      this.#items.push({
        what: 'blank',
        item: size,
        where: `lines.${index}`,
        method: undefined,
        quantity: count,
        unit: 'piece',
        rate: cost,
        extra: color.extraCost,
        payer: index,
      });
    }
  }

  /** Consumables that no other line shares. */
  #ownConsumables({ line, pieces, placements }: RoutedLine, index: number): void {
    placements.forEach((placement, place) => {
      const { method } = placement;
      const first = placements.findIndex((other) => other.method === method) === place;
      const where =
        placement.id === line.names?.id ? `lines.${index}.names` : `lines.${index}.placements.${place}`;
      const from = this.#items.length;
      for (const consumable of method.consumables) {
        const each = quantityEach(consumable, placement, first);
        if (each > 0) this.#consumable('consumable', consumable, method, where, each * pieces, index);
      }
      this.#spoilage(method, where, from, index);
    });
  }

  #nested(
    method: Method,
    prints: readonly PlacedPrint[],
    counted: Nested | undefined,
    count: SheetCount,
  ): void {
    // Prints of several groups are in another order than they were counted in, and nesting may follow it.
    const same = counted !== undefined && prints.every((print, place) => print === counted.prints[place]);
    const uses = same ? counted.uses : sheetUses(method, prints, count);
    if (uses.length === 0) return;
    const from = this.#items.length;
    const sole = soleLine(prints);
    const where = placeOf(sole);
    const payer = this.#payerOf(
      prints,
      sole,
      () =>
        ({ placement, line }) =>
          workedCm2(placement) * line.pieces,
    );
    for (const { consumable, sheets } of uses) {
      this.#sheets.set(consumable.id, (this.#sheets.get(consumable.id) ?? 0) + sheets);
      this.#consumable('sheet', consumable, method, where, sheets, payer);
    }
    this.#spoilage(method, where, from, payer);
  }

  /** Set-ups and running time of a group of prints, step by step. */
  #time(group: WorkGroup): void {
    const { method, prints } = group;
    const sole = soleLine(prints);
    const where = placeOf(sole);
    const more = 1 + Number(method.spoilage);
    for (const work of group.steps) {
      const { step, station } = work;
      if (station === undefined) continue;
      const add = (
        what: 'set-up-crew' | 'set-up-station' | 'crew' | 'station',
        seconds: number,
        rate: string,
        payer: Payer,
      ): void => {
        if (seconds === 0) return;
        const quantity = seconds / 3600;
        this.#items.push({ what, item: step.id, where, method: method.id, quantity, unit: 'h', rate, payer });
      };
      const setUpS = work.setUpPerOrderS + work.setUpPerDesignS;
      if (setUpS > 0) {
        const payer = this.#payerOf(prints, sole, () => setUpWeight(work, prints));
        add('set-up-crew', setUpS * step.setUpCrewShare, this.#wage, payer);
        add('set-up-station', setUpS, station.ratePerHour, payer);
      }
      const from = this.#items.length;
      const payer = this.#payerOf(prints, sole, () => runWeight(step, prints));
      add('crew', work.runS * step.crewShare, this.#wage, payer);
      add('station', work.runS, station.ratePerHour, payer);
      this.#spoilage(method, where, from, payer);
      this.#crewS += setUpS * step.setUpCrewShare + work.runS * more * step.crewShare;
      const seconds = setUpS + work.runS * more;
      this.#stationS.set(station.id, (this.#stationS.get(station.id) ?? 0) + seconds);
    }
  }

  #packing(): void {
    const { perOrderMin, perPieceMin } = this.#catalog.catalog.shop.packing;
    const pieces = this.#routed.lines.map((line) => line.pieces);
    const minutes = perOrderMin + perPieceMin * pieces.reduce((sum, count) => sum + count, 0);
    this.#crewS += minutes * 60;
    this.#items.push({
      what: 'packing',
      item: 'packing',
      where: 'order',
      method: undefined,
      quantity: minutes / 60,
      unit: 'h',
      rate: this.#wage,
      payer: () => pieces,
    });
  }

  #consumable(
    what: 'consumable' | 'sheet',
    consumable: Consumable,
    method: Method,
    where: string,
    quantity: number,
    payer: Payer,
  ): void {
    const { id, unit, price } = consumable;
    this.#items.push({ what, item: id, where, method: method.id, quantity, unit, rate: price, payer });
  }

  #spoilage(method: Method, where: string, from: number, payer: Payer): void {
    if (from === this.#items.length) return;
    this.#items.push({ what: 'spoilage', from, share: method.spoilage, where, method: method.id, payer });
  }

  /** The line these prints are for; else every line by what its prints weigh, or by pieces where none weighs anything. */
  #payerOf(
    prints: readonly PlacedPrint[],
    sole: number | undefined,
    weightOf: () => (print: PlacedPrint, place: number) => number,
  ): Payer {
    if (sole !== undefined) return sole;
    return () => {
      const weight = weightOf();
      const weights = this.#routed.lines.map(() => 0);
      prints.forEach((print, place) => {
        weights[print.lineIndex]! += weight(print, place);
      });
      if (weights.some((sum) => sum > 0)) return weights;
      for (const print of prints) weights[print.lineIndex] = print.line.pieces;
      return weights;
    };
  }
}

/** The line all these prints are for; undefined where they are for several. */
function soleLine(prints: readonly PlacedPrint[]): number | undefined {
  const { lineIndex } = prints[0]!;
  return prints.every((print) => print.lineIndex === lineIndex) ? lineIndex : undefined;
}

function placeOf(line: number | undefined): string {
  return line === undefined ? 'order' : `lines.${line}`;
}

/** How much of a consumable one print takes; 0 for sheets, which are counted together. */
function quantityEach({ driver }: Consumable, placement: RoutedPlacement, firstOnPiece: boolean): number {
  switch (driver.kind) {
    case 'per-piece':
      return firstOnPiece ? Number(driver.quantity) : 0;
    case 'per-print':
      return Number(driver.quantity);
    case 'per-area': {
      const width = placement.boxWidthMm + 2 * driver.marginMm;
      const height = placement.boxHeightMm + 2 * driver.marginMm;
      return (Number(driver.perCm2) * width * height) / 100;
    }
    case 'per-ink':
      return (Number(driver.laydownMlPerM2) * placement.ink[driver.channel]) / CM2_PER_M2;
    case 'per-sheet':
      return 0;
  }
}

/** What part of a step's running time a print takes, in seconds but for whole batches and sheets. */
function runWeight(
  step: Step,
  prints: readonly PlacedPrint[],
): (print: PlacedPrint, place: number) => number {
  const perUnitS = step.perBatchS / step.batchSize + step.perPrintS;
  return ({ placement, line, lineIndex }, place) => {
    const cm2 = workedCm2(placement) * line.pieces;
    const area = cm2 * (step.perCm2S + (placement.white ? step.whitePerCm2S : 0));
    switch (step.per) {
      case 'sheet':
        return perUnitS * cm2 + area;
      case 'piece':
        return (prints[place - 1]?.lineIndex === lineIndex ? 0 : perUnitS * line.pieces) + area;
      case 'print':
        return perUnitS * line.pieces + area;
    }
  };
}

/** What part of a step's set-ups a print bears: of those for its design, and of the one for the order, by pieces. */
function setUpWeight(work: StepWork, prints: readonly PlacedPrint[]): (print: PlacedPrint) => number {
  let pieces = 0;
  const byDesign = new Map<string, number>();
  for (const { placement, line } of prints) {
    pieces += line.pieces;
    byDesign.set(placement.design, (byDesign.get(placement.design) ?? 0) + line.pieces);
  }
  return ({ placement, line }) =>
    (work.setUpPerOrderS * line.pieces) / pieces +
    (work.step.setUpPerDesignS * placement.distinct * line.pieces) / byDesign.get(placement.design)!;
}
