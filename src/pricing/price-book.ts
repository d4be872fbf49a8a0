import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Blank } from '../catalog/index.ts';
import { currencyDigits } from '../contract/currency.ts';
import { memoByKey } from '../memo-by-key.ts';
import { amountOf, leastOf, ONE, roundOf } from './amounts.ts';
import { type Minor, minorOf, PriceSteps } from './minor-units.ts';

/** A break of a list price: units as they are shown, from a count on. */
export type PriceBreak = {
  readonly from: number;
  /** of the size with the least surcharge. */
  readonly plainest: Minor;
  readonly bySize: ReadonlyMap<string, Minor>;
};

/** List prices of one blank in one finish, rounded to minor units or raised to the shop's ending. */
export type ListPrice = {
  readonly breaks: readonly PriceBreak[];
  readonly extraPlacement: Minor;
  readonly name: Minor;
};

/** A catalog's price policy, read once; rates and shares in trillionths (fixed.ts). */
export type PriceBook = {
  readonly currency: string;
  readonly steps: PriceSteps;
  /** by blank and finish id, a space between. */
  readonly list: ReadonlyMap<string, ListPrice>;
  /** what a price holds for one unit without tax: 1, or 1 + rate where prices include tax. */
  readonly gross: bigint;
  readonly taxRate: bigint;
  readonly margin: bigint;
  readonly floorMargin: bigint;
  readonly setUpPerOrder: Minor;
  readonly setUpPerDesign: Minor;
  readonly rush: { readonly fee: bigint; readonly share: bigint } | undefined;
  /** what the cheapest blank costs the shop, trillionths: every piece more adds at least so much to any bill. */
  readonly leastPieceCost: bigint;
};

/** The price policy of a catalog, read once. */
export const priceBookOf = memoByKey(readPriceBook);

function readPriceBook({ catalog, blanks: compiled }: CompiledCatalog): PriceBook {
  const { shop, prices, blanks } = catalog;
  const digits = currencyDigits(shop.currency);
  if (digits === undefined)
    throw new RangeError(`there is no currency "${shop.currency}"; a code of ISO 4217 is needed`);
  const steps = new PriceSteps(digits, prices.ending);
  const taxRate = amountOf(prices.tax.rate);
  return {
    currency: shop.currency,
    steps,
    list: new Map(
      prices.list.map((entry) => {
        const blank = compiled.get(entry.blank)?.blank;
        return [
          `${entry.blank} ${entry.finish}`,
          {
            breaks: entry.breaks.map(({ from, unit }) => breakOf(steps, blank, from, amountOf(unit))),
            extraPlacement: minorOf(entry.extraPlacement, digits),
            name: minorOf(entry.name, digits),
          },
        ];
      }),
    ),
    gross: prices.tax.included ? ONE + taxRate : ONE,
    taxRate,
    margin: amountOf(prices.margin),
    floorMargin: amountOf(prices.floorMargin),
    setUpPerOrder: minorOf(prices.setUpPerOrder, digits),
    setUpPerDesign: minorOf(prices.setUpPerDesign, digits),
    rush:
      prices.rush === null
        ? undefined
        : { fee: amountOf(prices.rush.fee), share: amountOf(prices.rush.share) },
    leastPieceCost: leastOf(
      blanks.map(
        ({ sizes, colors }) =>
          leastOf(sizes.map(({ cost }) => amountOf(cost))) +
          leastOf(colors.map(({ extraCost }) => amountOf(extraCost))),
      ),
    ),
  };
}

function breakOf(steps: PriceSteps, blank: Blank | undefined, from: number, unit: bigint): PriceBreak {
  const shown = (surcharge: bigint): Minor => {
    const sum = unit + surcharge;
    return steps.hasEnding ? steps.raise({ over: sum, under: 1n }) : roundOf(sum, steps.one);
  };
  const surcharges = blank?.sizes.map(({ id, surcharge }) => ({ id, surcharge: amountOf(surcharge) })) ?? [];
  return {
    from,
    plainest: shown(leastOf(surcharges.map(({ surcharge }) => surcharge))),
    bySize: new Map(surcharges.map(({ id, surcharge }) => [id, shown(surcharge)])),
  };
}
