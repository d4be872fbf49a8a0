import type { CompiledCatalog } from '../catalog/compile.ts';
import { currencyDigits } from './currency.ts';
import { Money, money, ZERO } from './money.ts';
import { PriceSteps } from './price-steps.ts';

/** List prices of one blank in one finish. */
export type ListPrice = {
  readonly breaks: readonly { readonly from: number; readonly unit: Money }[];
  readonly extraPlacement: Money;
  readonly name: Money;
};

/** A catalog's price policy, read once. */
export type PriceBook = {
  readonly currency: string;
  readonly steps: PriceSteps;
  /** by blank and finish id, a space between. */
  readonly list: ReadonlyMap<string, ListPrice>;
  /** by blank id: the least surcharge of any size. */
  readonly leastSurcharge: ReadonlyMap<string, Money>;
  /** what a price holds for one unit without tax: 1, or 1 + rate where prices include tax. */
  readonly gross: Money;
  readonly taxRate: Money;
  readonly margin: Money;
  readonly floorMargin: Money;
  readonly setUpPerOrder: Money;
  readonly setUpPerDesign: Money;
  readonly rush: { readonly fee: Money; readonly share: Money } | undefined;
  /** what the cheapest blank costs the shop: every piece more adds at least so much to any bill. */
  readonly leastPieceCost: Money;
};

const books = new WeakMap<CompiledCatalog, PriceBook>();

/** The price policy of a catalog. */
export function priceBookOf(catalog: CompiledCatalog): PriceBook {
  let book = books.get(catalog);
  if (book === undefined) {
    book = read(catalog);
    books.set(catalog, book);
  }
  return book;
}

function read({ catalog }: CompiledCatalog): PriceBook {
  const { shop, prices, blanks } = catalog;
  const digits = currencyDigits(shop.currency);
  if (digits === undefined)
    throw new RangeError(`there is no currency "${shop.currency}"; a code of ISO 4217 is needed`);
  const taxRate = money(prices.tax.rate);
  return {
    currency: shop.currency,
    steps: new PriceSteps(digits, prices.ending),
    list: new Map(
      prices.list.map((entry) => [
        `${entry.blank} ${entry.finish}`,
        {
          breaks: entry.breaks.map(({ from, unit }) => ({ from, unit: money(unit) })),
          extraPlacement: money(entry.extraPlacement),
          name: money(entry.name),
        },
      ]),
    ),
    leastSurcharge: new Map(
      blanks.map(({ id, sizes }) => [id, least(sizes.map(({ surcharge }) => money(surcharge)))]),
    ),
    gross: prices.tax.included ? taxRate.plus(1) : new Money(1),
    taxRate,
    margin: money(prices.margin),
    floorMargin: money(prices.floorMargin),
    setUpPerOrder: money(prices.setUpPerOrder),
    setUpPerDesign: money(prices.setUpPerDesign),
    rush: prices.rush === null ? undefined : { fee: money(prices.rush.fee), share: money(prices.rush.share) },
    leastPieceCost: least(
      blanks.map(({ sizes, colors }) =>
        least(sizes.map(({ cost }) => money(cost))).plus(
          least(colors.map(({ extraCost }) => money(extraCost))),
        ),
      ),
    ),
  };
}

function least(amounts: readonly Money[]): Money {
  return amounts.reduce((one, other) => (other.lt(one) ? other : one), amounts[0] ?? ZERO);
}
