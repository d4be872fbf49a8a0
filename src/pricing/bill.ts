import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Consumable, Method, Step } from '../catalog/index.ts';
import type { RoutedLine, RoutedPlacement, RoutedSlip } from '../routing/routed.ts';
import { type PlacedPrint, type StepWork, type WorkGroup, workedCm2, workGroups } from '../routing/work.ts';
import { amountOf } from './fixed.ts';
import { Ledger, type Payer } from './ledger.ts';
import type { BillOfCost, WrittenBill } from './shapes.ts';
import {
  byNesting,
  bySteadyCount,
  nestedSheets,
  type SheetCount,
  sheetUses,
  steadySheetsOf,
} from './sheets.ts';

/**
 * What a routed slip costs the shop, driver by driver:
 *
 *     blanks, by size and color
 *   + for every print: consumables per piece, print, area (with its margin), ink (white where it is printed), and whole
 *     nested sheets, and the time of every step: crew share × wage, station × rate
 *   + spoilage: that much more of consumables and time, as a share
 *   + set-ups: once per order and once per design for every step
 *   + packing: crew time per order and per piece
 *
 * Steps in batches and sheets are counted whole over the order, not line by line. Time is what `workGroups` says, so that
 * the bill, the choice of methods and the plan count the same work.
 */
export function costOf(catalog: CompiledCatalog, routed: RoutedSlip): BillOfCost {
  const basis = new Bill(catalog, routed, bySteadyCount);
  let nested: Bill | undefined;
  const real = (): Bill => {
    nested ??= basis.hasSheets ? new Bill(catalog, routed, byNesting) : basis;
    return nested;
  };
  return {
    basis: basis.total,
    basisByLine: basis.byLine,
    get total() {
      return real().total;
    },
    get crewMinutes() {
      return real().crewMinutes;
    },
    get stationMinutes() {
      return real().stationMinutes;
    },
    written: () => real().written(),
  };
}

const CM2_PER_M2 = 10_000;

class Bill {
  readonly #catalog: CompiledCatalog;
  readonly #routed: RoutedSlip;
  readonly #ledger: Ledger;
  readonly #wage: bigint;
  readonly #pieces: readonly number[];
  readonly #places: readonly string[];
  readonly #stationS = new Map<string, number>();
  readonly #sheets = new Map<string, number>();
  #crewS = 0;

  constructor(catalog: CompiledCatalog, routed: RoutedSlip, count: SheetCount) {
    this.#catalog = catalog;
    this.#routed = routed;
    this.#ledger = new Ledger(routed.lines.length);
    this.#wage = amountOf(catalog.catalog.crew.wagePerHour);
    this.#pieces = routed.lines.map(({ pieces }) => pieces);
    this.#places = routed.lines.map((_, index) => `lines.${index}`);
    routed.lines.forEach((line, index) => {
      this.#blanks(line, index);
      this.#ownConsumables(line, index);
    });
    const methods = new Map<Method, PlacedPrint[]>();
    for (const group of workGroups(routed, count === byNesting ? nestedSheets : steadySheetsOf)) {
      this.#time(group);
      if (group.kind === 'sheets') continue;
      const prints = methods.get(group.method);
      if (prints === undefined) methods.set(group.method, [...group.prints]);
      else prints.push(...group.prints);
    }
    for (const [method, prints] of methods) this.#nested(method, prints, count);
    this.#packing();
  }

  get total() {
    return this.#ledger.total;
  }

  get byLine() {
    return this.#ledger.byLine;
  }

  get hasSheets(): boolean {
    return this.#sheets.size > 0;
  }

  get crewMinutes(): number {
    return this.#crewS / 60;
  }

  get stationMinutes(): ReadonlyMap<string, number> {
    return new Map([...this.#stationS].map(([id, seconds]) => [id, seconds / 60]));
  }

  written(): WrittenBill {
    return {
      currency: this.#catalog.catalog.shop.currency,
      ...this.#ledger.written(),
      crewMinutes: this.crewMinutes,
      stationMinutes: Object.fromEntries(this.stationMinutes),
      sheets: Object.fromEntries(this.#sheets),
    };
  }

  #blanks({ line, blank, color }: RoutedLine, index: number): void {
    const extra = amountOf(color.extraCost);
    for (const { size, count } of line.counts) {
      const cost = blank.sizes.find(({ id }) => id === size)!.cost;
      this.#ledger.add(
        {
          what: 'blank',
          item: size,
          where: this.#places[index]!,
          quantity: count,
          unit: 'piece',
          rate: amountOf(cost) + extra,
        },
        index,
      );
    }
  }

  /** Consumables that no other line shares. */
  #ownConsumables(line: RoutedLine, index: number): void {
    const seen = new Set<Method>();
    line.placements.forEach((placement) => {
      const { method } = placement;
      const first = !seen.has(method);
      seen.add(method);
      const where =
        placement.id === line.line.names?.id
          ? `${this.#places[index]}.names`
          : `${this.#places[index]}.placements.${line.line.placements.findIndex(({ id }) => id === placement.id)}`;
      const before = this.#ledger.sum;
      for (const consumable of method.consumables) {
        const each = quantityEach(consumable, placement, first);
        if (each > 0) this.#consumable(consumable, method, where, each * line.pieces, index);
      }
      this.#spoilage(method, where, before, index);
    });
  }

  #consumable(
    consumable: Consumable,
    method: Method,
    where: string,
    quantity: number,
    payer: Payer,
    what: 'consumable' | 'sheet' = 'consumable',
  ): void {
    this.#ledger.add(
      {
        what,
        item: consumable.id,
        where,
        method: method.id,
        quantity,
        unit: consumable.unit,
        rate: amountOf(consumable.price),
      },
      payer,
    );
  }

  #nested(method: Method, prints: readonly PlacedPrint[], count: SheetCount): void {
    const before = this.#ledger.sum;
    const where = this.#placeOf(prints);
    let payer: Payer | undefined;
    for (const { consumable, sheets } of sheetUses(method, prints, count)) {
      payer ??= this.#payerOf(prints, ({ placement, line }) => workedCm2(placement) * line.pieces);
      this.#sheets.set(consumable.id, (this.#sheets.get(consumable.id) ?? 0) + sheets);
      this.#consumable(consumable, method, where, sheets, payer, 'sheet');
    }
    if (payer !== undefined) this.#spoilage(method, where, before, payer);
  }

  /** Set-ups and running time of a group of prints, step by step. */
  #time(group: WorkGroup): void {
    const { method, prints } = group;
    const where = this.#placeOf(prints);
    const more = 1 + Number(method.spoilage);
    for (const work of group.steps) {
      const { step, station } = work;
      if (station === undefined) continue;
      const rate = amountOf(station.ratePerHour);
      const setUpS = work.setUpPerOrderS + work.setUpPerDesignS;
      if (setUpS > 0) {
        const payer = this.#payerOf(prints, setUpWeight(work, prints));
        const common = { item: step.id, where, method: method.id, unit: 'h' };
        const crewH = (setUpS * step.setUpCrewShare) / 3600;
        this.#ledger.add({ ...common, what: 'set-up-crew', quantity: crewH, rate: this.#wage }, payer);
        this.#ledger.add({ ...common, what: 'set-up-station', quantity: setUpS / 3600, rate }, payer);
      }
      const before = this.#ledger.sum;
      const payer = this.#payerOf(prints, runWeight(step, prints));
      const common = { item: step.id, where, method: method.id, unit: 'h' };
      const crewH = (work.runS * step.crewShare) / 3600;
      this.#ledger.add({ ...common, what: 'crew', quantity: crewH, rate: this.#wage }, payer);
      this.#ledger.add({ ...common, what: 'station', quantity: work.runS / 3600, rate }, payer);
      this.#spoilage(method, where, before, payer);
      this.#crewS += setUpS * step.setUpCrewShare + work.runS * more * step.crewShare;
      const seconds = setUpS + work.runS * more;
      this.#stationS.set(station.id, (this.#stationS.get(station.id) ?? 0) + seconds);
    }
  }

  /** Charges spoilage on everything entered since the sum was `before`. */
  #spoilage(method: Method, where: string, before: bigint, payer: Payer): void {
    this.#ledger.add(
      {
        what: 'spoilage',
        item: method.id,
        where,
        method: method.id,
        quantity: Number(method.spoilage),
        unit: 'share',
        rate: this.#ledger.sum - before,
      },
      payer,
    );
  }

  #packing(): void {
    const { perOrderMin, perPieceMin } = this.#catalog.catalog.shop.packing;
    const pieces = this.#pieces.reduce((sum, count) => sum + count, 0);
    const minutes = perOrderMin + perPieceMin * pieces;
    this.#crewS += minutes * 60;
    this.#ledger.add(
      {
        what: 'packing',
        item: 'packing',
        where: 'order',
        quantity: minutes / 60,
        unit: 'h',
        rate: this.#wage,
      },
      this.#pieces,
    );
  }

  /** The line all these prints are for, or the order. */
  #placeOf(prints: readonly PlacedPrint[]): string {
    const { lineIndex } = prints[0]!;
    return prints.every((print) => print.lineIndex === lineIndex) ? this.#places[lineIndex]! : 'order';
  }

  #payerOf(prints: readonly PlacedPrint[], weight: (print: PlacedPrint, place: number) => number): Payer {
    const { lineIndex } = prints[0]!;
    if (prints.every((print) => print.lineIndex === lineIndex)) return lineIndex;
    const weights = this.#routed.lines.map(() => 0);
    prints.forEach((print, place) => {
      weights[print.lineIndex]! += weight(print, place);
    });
    return weights.some((sum) => sum > 0) ? weights : this.#pieces;
  }
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
