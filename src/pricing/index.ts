/**
 * What a slip costs the shop and what the customer pays.
 *
 *     costOf(catalog: CompiledCatalog, routed: RoutedSlip): BillOfCost
 *     priceSlip(catalog: CompiledCatalog, routed: RoutedSlip, cost: BillOfCost): PricedSlip
 *     ladderOf(catalog: CompiledCatalog, routed: RoutedSlip, line: number, cost: BillOfCost): Ladder
 *     nestedSheets: SheetsOf
 *
 * The bill handed to `priceSlip` is that of the cheapest way to make the slip: a price must not rise because the
 * shop prefers a dearer way.
 */
export { currencyDigits } from './currency.ts';
export { allocate, Money, money, roundMoney, writeMoney } from './money.ts';
export type * from './shapes.ts';
