import type { CompiledCatalog } from '../catalog/compile.ts';
import { hundredth } from '../figures.ts';
import type { RoutedSlip } from '../routing/routed.ts';
import { amountOf, amountText, product, quantityOf, quantityText, shareOut } from './amounts.ts';
import { type BillItems, billItems, type Item, type Spoilage } from './bill-items.ts';
import { costUpperBound } from './cost-bound.ts';
import { byNesting, bySteadyCount } from './sheets.ts';
import type { BillLine, BillOfCost, WrittenBill } from './types.ts';

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
 *
 * The bill is lazy: each part is worked out when first asked for. Most of the slips that a quote compares never need one.
 */
export function costOf(catalog: CompiledCatalog, routed: RoutedSlip): BillOfCost {
  const upperBound = once(() => costUpperBound(catalog, routed));
  const steady = once(() => billItems(catalog, routed, bySteadyCount));
  const lines = routed.lines.length;
  const basis = once(() => new Sums(steady().items).total);
  const nested = once(() => (steady().sheets.size === 0 ? steady() : billItems(catalog, routed, byNesting)));
  const total = once(() => new Sums(nested().items).total);
  const basisByLine = once(() => new Sums(steady().items).byLine(lines));
  return {
    isAtMost: (limit) => {
      const bound = upperBound();
      return (bound !== undefined && bound <= limit) || basis() <= limit;
    },
    get basis() {
      return basis();
    },
    get basisByLine() {
      return basisByLine();
    },
    get total() {
      return total();
    },
    get crewMinutes() {
      return nested().crewMinutes;
    },
    get stationMinutes() {
      return nested().stationMinutes;
    },
    written: () => written(catalog, nested(), lines),
  };
}

function once<T>(work: () => T): () => T {
  let done: { readonly value: T } | undefined;
  return () => {
    done ??= { value: work() };
    return done.value;
  };
}

/** Quantity, rate and amount of every item, as whole numbers (amounts.ts), and their sums. */
class Sums {
  readonly total: bigint;
  readonly #items: readonly (Item | Spoilage)[];
  readonly #quantities: bigint[] = [];
  readonly #rates: bigint[] = [];
  readonly #amounts: bigint[] = [];

  constructor(items: readonly (Item | Spoilage)[]) {
    this.#items = items;
    /** sums before each item. */
    const before: bigint[] = [];
    let sum = 0n;
    for (const item of items) {
      before.push(sum);
      let quantity: bigint;
      let rate: bigint;
      if (item.what === 'spoilage') {
        quantity = quantityOf(Number(item.share));
        rate = sum - before[item.from]!;
      } else {
        quantity = quantityOf(item.quantity);
        rate = amountOf(item.rate);
        if (item.extraRate !== undefined) rate += amountOf(item.extraRate);
      }
      const amount = product(quantity, rate);
      this.#quantities.push(quantity);
      this.#rates.push(rate);
      this.#amounts.push(amount);
      sum += amount;
    }
    this.total = sum;
  }

  byLine(lines: number): bigint[] {
    const sums = new Array<bigint>(lines).fill(0n);
    this.#items.forEach(({ payer }, index) => {
      const amount = this.#amounts[index]!;
      if (typeof payer === 'number') sums[payer]! += amount;
      else shareOut(amount, payer(), sums);
    });
    return sums;
  }

  /** Items that come to something. */
  lines(): BillLine[] {
    return this.#items.flatMap((item, index): BillLine[] => {
      const amount = this.#amounts[index]!;
      if (amount === 0n) return [];
      const { what, where, method } = item;
      return [
        {
          what,
          item: item.what === 'spoilage' ? item.method : item.item,
          where,
          ...(method === undefined ? {} : { method }),
          quantity: quantityText(this.#quantities[index]!),
          unit: item.what === 'spoilage' ? 'share' : item.unit,
          rate: amountText(this.#rates[index]!),
          amount: amountText(amount),
        },
      ];
    });
  }
}

function written(catalog: CompiledCatalog, taken: BillItems, lines: number): WrittenBill {
  const sums = new Sums(taken.items);
  return {
    currency: catalog.catalog.shop.currency,
    lines: sums.lines(),
    total: amountText(sums.total),
    byLine: sums.byLine(lines).map(amountText),
    crewMinutes: hundredth(taken.crewMinutes),
    stationMinutes: Object.fromEntries(
      [...taken.stationMinutes].map(([id, minutes]) => [id, hundredth(minutes)]),
    ),
    sheets: Object.fromEntries(taken.sheets),
  };
}
