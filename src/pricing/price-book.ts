import type { CompiledCatalog } from '../catalog/compile.ts';
import type { Blank } from '../catalog/index.ts';
import { currencyDigits } from './currency.ts';
import { Money, money, roundMoney, ZERO } from './money.ts';
import { PriceSteps } from './price-steps.ts';

/** A break of a list price: units as they are shown, from a count on. */
export type PriceBreak = {
  readonly from: number;
  /** of the size with the least surcharge. */
  readonly plainest: Money;
  readonly bySize: ReadonlyMap<string, Money>;
};

/** List prices of one blank in one finish, rounded to minor units or raised to the shop's ending. */
export type ListPrice = {
  readonly breaks: readonly PriceBreak[];
  readonly extraPlacement: Money;
  readonly name: Money;
};

/** A catalog's price policy, read once. */
export type PriceBook = {
  readonly currency: string;
  readonly steps: PriceSteps;
  /** by blank and finish id, a space between. */
  readonly list: ReadonlyMap<string, ListPrice>;
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

function read({ catalog, blanks: compiled }: CompiledCatalog): PriceBook {
  const { shop, prices, blanks } = catalog;
  const digits = currencyDigits(shop.currency);
  if (digits === undefined)
    throw new RangeError(`there is no currency "${shop.currency}"; a code of ISO 4217 is needed`);
  const steps = new PriceSteps(digits, prices.ending);
  const taxRate = money(prices.tax.rate);
  return {
    currency: shop.currency,
    steps,
    list: new Map(
      prices.list.map((entry) => {
        const blank = compiled.get(entry.blank)?.blank;
        return [
          `${entry.blank} ${entry.finish}`,
          {
            breaks: entry.breaks.map(({ from, unit }) => breakOf(steps, blank, from, money(unit))),
            extraPlacement: roundMoney(money(entry.extraPlacement), digits),
            name: roundMoney(money(entry.name), digits),
          },
        ];
      }),
    ),
    gross: prices.tax.included ? taxRate.plus(1) : new Money(1),
    taxRate,
    margin: money(prices.margin),
    floorMargin: money(prices.floorMargin),
    setUpPerOrder: roundMoney(money(prices.setUpPerOrder), digits),
    setUpPerDesign: roundMoney(money(prices.setUpPerDesign), digits),
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

function breakOf(steps: PriceSteps, blank: Blank | undefined, from: number, unit: Money): PriceBreak {
  const shown = (surcharge: Money): Money => {
    const sum = unit.plus(surcharge);
    return steps.hasEnding ? steps.raise(sum) : roundMoney(sum, steps.digits);
  };
  const surcharges = blank?.sizes.map(({ id, surcharge }) => ({ id, surcharge: money(surcharge) })) ?? [];
  return {
    from,
    plainest: shown(least(surcharges.map(({ surcharge }) => surcharge))),
    bySize: new Map(surcharges.map(({ id, surcharge }) => [id, shown(surcharge)])),
  };
}

function least(amounts: readonly Money[]): Money {
  return amounts.reduce((one, other) => (other.lt(one) ? other : one), amounts[0] ?? ZERO);
}
