import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Consumable, Method } from '../catalog/index.ts';
import { driverQuantity } from '../routing/driver-quantity.ts';
import type { RoutedLine, RoutedPlacement, RoutedSlip } from '../routing/routed.ts';
import {
  type PlacedPrint,
  packingMinutes,
  spoilageFactor,
  type WorkGroup,
  workGroups,
} from '../routing/work.ts';
import { areaWeight, onlyLine, type Payer, payerOf, runWeight, setUpWeight } from './payers.ts';
import { type SheetCount, type SheetUse, sheetUses } from './sheets.ts';
import type { BillWhat } from './types.ts';

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
  readonly extraRate?: string;
  readonly payer: Payer;
};

/** A share on top of all items from index `from` to here. */
export type Spoilage = {
  readonly what: 'spoilage';
  readonly from: number;
  readonly share: string;
  readonly where: string;
  readonly method: string;
  readonly payer: Payer;
};

/** All that an order uses. */
export type BillItems = {
  readonly items: readonly (Item | Spoilage)[];
  readonly crewMinutes: number;
  readonly stationMinutes: ReadonlyMap<string, number>;
  readonly sheets: ReadonlyMap<string, number>;
};

/** Sheets as counted for the steps that work on them. */
type CountedSheets = { readonly prints: readonly PlacedPrint[]; readonly uses: readonly SheetUse[] };

/** Lists what a routed slip uses. */
export function billItems(catalog: CompiledCatalog, routed: RoutedSlip, count: SheetCount): BillItems {
  return new BillBuilder(catalog, routed, count).build();
}

class BillBuilder {
  readonly #catalog: CompiledCatalog;
  readonly #lines: readonly RoutedLine[];
  readonly #routed: RoutedSlip;
  readonly #count: SheetCount;
  readonly #wage: string;
  readonly #items: (Item | Spoilage)[] = [];
  readonly #stationS = new Map<string, number>();
  readonly #sheets = new Map<string, number>();
  #crewS = 0;

  constructor(catalog: CompiledCatalog, routed: RoutedSlip, count: SheetCount) {
    this.#catalog = catalog;
    this.#lines = routed.lines;
    this.#routed = routed;
    this.#count = count;
    this.#wage = catalog.catalog.crew.wagePerHour;
  }

  build(): BillItems {
    this.#lines.forEach((line, index) => {
      this.#addBlanks(line, index);
      this.#addConsumables(line, index);
    });
    this.#addWork();
    this.#addPacking();
    return {
      items: this.#items,
      crewMinutes: this.#crewS / 60,
      stationMinutes: new Map([...this.#stationS].map(([id, seconds]) => [id, seconds / 60])),
      sheets: this.#sheets,
    };
  }

  #addBlanks({ line, blank, color }: RoutedLine, index: number): void {
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
        extraRate: color.extraCost,
        payer: index,
      });
    }
  }

  /** Consumables that lines do not share. */
  #addConsumables({ line, pieces, placements }: RoutedLine, index: number): void {
    placements.forEach((placement, place) => {
      const { method } = placement;
      const isFirst = placements.findIndex((other) => other.method === method) === place;
      const where =
        placement.id === line.names?.id ? `lines.${index}.names` : `lines.${index}.placements.${place}`;
      const from = this.#items.length;
      for (const consumable of method.consumables) {
        const each = quantityEach(consumable, placement, isFirst);
        if (each > 0) this.#addConsumable('consumable', consumable, method, where, each * pieces, index);
      }
      this.#addSpoilage(method, where, from, index);
    });
  }

  /** Time of every group of prints, and the sheets of every method. */
  #addWork(): void {
    const counted = new Map<Method, CountedSheets>();
    const groups = workGroups(this.#routed, (method, prints) => {
      const uses = sheetUses(method, prints, this.#count);
      counted.set(method, { prints, uses });
      return uses[0]?.sheets ?? 0;
    });
    const printsByMethod = new Map<Method, PlacedPrint[]>();
    for (const group of groups) {
      this.#addTime(group);
      if (group.kind === 'sheets') continue;
      const prints = printsByMethod.get(group.method);
      if (prints === undefined) printsByMethod.set(group.method, [...group.prints]);
      else prints.push(...group.prints);
    }
    for (const [method, prints] of printsByMethod) this.#addSheets(method, prints, counted.get(method));
  }

  #addSheets(method: Method, prints: readonly PlacedPrint[], counted: CountedSheets | undefined): void {
    // Several groups hold the prints in another order than they were counted in, and nesting may depend on it.
    const isSameOrder =
      counted !== undefined && prints.every((print, place) => print === counted.prints[place]);
    const uses = isSameOrder ? counted.uses : sheetUses(method, prints, this.#count);
    if (uses.length === 0) return;
    const from = this.#items.length;
    const where = whereOf(prints);
    const payer = payerOf(this.#lines, prints, () => areaWeight);
    for (const { consumable, sheets } of uses) {
      this.#sheets.set(consumable.id, (this.#sheets.get(consumable.id) ?? 0) + sheets);
      this.#addConsumable('sheet', consumable, method, where, sheets, payer);
    }
    this.#addSpoilage(method, where, from, payer);
  }

  /** Set-ups and running time of a group of prints, step by step. */
  #addTime({ method, prints, steps }: WorkGroup): void {
    const where = whereOf(prints);
    const factor = spoilageFactor(method);
    for (const work of steps) {
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
        const payer = payerOf(this.#lines, prints, () => setUpWeight(work, prints));
        add('set-up-crew', setUpS * step.setUpCrewShare, this.#wage, payer);
        add('set-up-station', setUpS, station.ratePerHour, payer);
      }
      const from = this.#items.length;
      const payer = payerOf(this.#lines, prints, () => runWeight(step, prints));
      add('crew', work.runS * step.crewShare, this.#wage, payer);
      add('station', work.runS, station.ratePerHour, payer);
      this.#addSpoilage(method, where, from, payer);
      this.#crewS += setUpS * step.setUpCrewShare + work.runS * factor * step.crewShare;
      const seconds = setUpS + work.runS * factor;
      this.#stationS.set(station.id, (this.#stationS.get(station.id) ?? 0) + seconds);
    }
  }

  #addPacking(): void {
    const pieces = this.#lines.map((line) => line.pieces);
    const minutes = packingMinutes(
      this.#catalog,
      pieces.reduce((sum, count) => sum + count, 0),
    );
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

  #addConsumable(
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

  #addSpoilage(method: Method, where: string, from: number, payer: Payer): void {
    if (from === this.#items.length) return;
    this.#items.push({ what: 'spoilage', from, share: method.spoilage, where, method: method.id, payer });
  }
}

function whereOf(prints: readonly PlacedPrint[]): string {
  const line = onlyLine(prints);
  return line === undefined ? 'order' : `lines.${line}`;
}

/** How much of a consumable one print of a line takes; 0 for sheets, which are counted together. */
function quantityEach({ driver }: Consumable, placement: RoutedPlacement, isFirstOnPiece: boolean): number {
  const use = driverQuantity(driver, placement);
  switch (use.per) {
    case 'print':
      return use.quantity;
    case 'piece':
      return isFirstOnPiece ? use.quantity : 0;
    case 'sheet':
      return 0;
  }
}
