import type { CompiledCatalog } from '../catalog/compile.ts';
import { type Charge, type Reason, reason } from '../contract/index.ts';
import type { RoutedSlip } from '../routing/routed.ts';
import { bandOf } from './band.ts';
import { costPlusGoods } from './cost-plus.ts';
import { type LineGoods, lineTotal, sumOf, takeOff, withinBand } from './goods.ts';
import { listGoods } from './list-price.ts';
import { allocate, Money, roundMoney, writeMoney } from './money.ts';
import { type PriceBook, priceBookOf } from './price-book.ts';
import type { BillOfCost, PricedLine, PricedSlip } from './shapes.ts';

/**
 * What a routed slip sells for, by the shop's policy:
 *
 * - `list`: the list price of each blank in its finish at the break its count reaches, plus the size's surcharge, raised
 *   to the shop's ending; further placements and names as charges; the fair ladder's cap as a charge (ladder.ts).
 *   Lines of one blank and finish count together. Goods and set-up fees together never go under
 *   `basis / (1 - floorMargin)`: where they would, the units are raised.
 * - `cost-plus`: `basis / (1 - margin)`, shared out to lines and sizes, units raised to the shop's ending or the minor
 *   unit. A floor margin over the margin takes its place.
 *
 * Then set-up fees per order and per design, rush (a fee and a share of goods and set-ups), delivery, and tax on all of
 * it. Every amount shown is a whole number of minor units, rounded as money.ts says, and the shown amounts add up:
 * `total` of a line is the sum of its sizes and charges; the subtotal is the sum of lines and fees; the total is the
 * subtotal, plus tax unless it is included.
 *
 * @param cost bill of the cheapest way to make the slip. A price must not rise because the shop prefers a dearer way.
 */
export function priceSlip(catalog: CompiledCatalog, routed: RoutedSlip, cost: BillOfCost): PricedSlip {
  const book = priceBookOf(catalog);
  const setUps = setUpFees(book, routed);
  const { goods, reasons, floored } =
    catalog.catalog.prices.mode === 'list'
      ? listed(book, routed, cost, sumOf(setUps.map(({ amount }) => amount)))
      : builtUp(book, routed, cost);
  return summedUp(catalog, routed, { goods, setUps, reasons, floored });
}

type Goods = {
  readonly goods: readonly LineGoods[];
  readonly reasons: readonly Reason[];
  /** the margin floor raised the price. */
  readonly floored: boolean;
};

function builtUp(book: PriceBook, routed: RoutedSlip, cost: BillOfCost): Goods {
  const floored = book.floorMargin.gt(book.margin);
  const share = floored ? book.floorMargin : book.margin;
  const goods = costPlusGoods(book, routed, cost, share, bandOf(book, cost, share));
  return { goods, reasons: [], floored };
}

function listed(book: PriceBook, routed: RoutedSlip, cost: BillOfCost, setUps: Money): Goods {
  const { lines, cuts, capCounts, reasons } = listGoods(book, routed);
  const band = bandOf(book, cost, book.floorMargin);
  const bottom = band.bottom.minus(setUps);
  const raw = sumOf(lines.map(lineTotal));
  const cut = sumOf(cuts);
  const floored = raw.minus(cut).lt(bottom);
  if (raw.lt(bottom)) {
    const pieces = routed.lines.reduce((sum, line) => sum + line.pieces, 0);
    const up = bottom.minus(raw);
    const aim = (unit: Money): Money => unit.times(pieces).plus(up).div(pieces);
    const aims = lines.map(({ unit, rows, charges }) => ({
      unit: aim(unit),
      rows: rows.map((row) => ({ ...row, unit: aim(row.unit) })),
      charges,
    }));
    const goods = withinBand(aims, book.steps, band.top.minus(setUps));
    return { goods, reasons: withoutCaps(reasons), floored };
  }
  // The floor may leave only part of the cap.
  const off = floored ? raw.minus(bottom) : cut;
  const parts = floored ? allocate(off, cuts, book.steps.digits) : cuts;
  const goods = takeOff(lines, off, parts, 'break-cap', book.steps.digits, (line) =>
    capCounts[line] === undefined ? {} : { count: capCounts[line] },
  );
  return { goods, reasons: floored ? withoutCaps(reasons) : reasons, floored };
}

/** A cap that the floor cuts short is not what its reason says. */
function withoutCaps(reasons: readonly Reason[]): Reason[] {
  return reasons.filter(({ code }) => code !== 'count-capped');
}

type Fee = { readonly code: Charge['code']; readonly amount: Money; readonly params: Charge['params'] };

function setUpFees(book: PriceBook, routed: RoutedSlip): Fee[] {
  const { digits } = book.steps;
  const designs = new Set<string>();
  for (const { placements } of routed.lines) for (const { design } of placements) designs.add(design);
  const fees: Fee[] = [
    { code: 'set-up-order', amount: book.setUpPerOrder, params: {} },
    {
      code: 'set-up-design',
      amount: book.setUpPerDesign.times(designs.size),
      params: { count: designs.size, unit: writeMoney(book.setUpPerDesign, digits) },
    },
  ];
  return fees.filter(({ amount }) => !amount.isZero());
}

function summedUp(
  catalog: CompiledCatalog,
  routed: RoutedSlip,
  priced: Goods & { readonly setUps: readonly Fee[] },
): PricedSlip {
  const book = priceBookOf(catalog);
  const { digits } = book.steps;
  const { slip } = routed;
  const { included } = catalog.catalog.prices.tax;
  const made = sumOf(priced.goods.map(lineTotal)).plus(sumOf(priced.setUps.map(({ amount }) => amount)));
  const fees = [...priced.setUps];
  const reasons = [...priced.reasons];
  if (priced.setUps.length > 0) reasons.push(reason('set-up-fee'));
  if (slip.rush && book.rush !== undefined) {
    const amount = roundMoney(book.rush.fee.plus(made.times(book.rush.share)), digits);
    fees.push({ code: 'rush', amount, params: {} });
    reasons.push(reason('rush-fee', { fee: writeMoney(amount, digits) }));
  }
  const delivery = roundMoney(new Money(catalog.deliveries.get(slip.delivery)?.price ?? '0'), digits);
  if (!delivery.isZero())
    fees.push({ code: 'delivery', amount: delivery, params: { delivery: slip.delivery } });
  const subtotal = sumOf([...priced.goods.map(lineTotal), ...fees.map(({ amount }) => amount)]);
  const taxed = subtotal.times(book.taxRate);
  const tax = roundMoney(included ? taxed.div(book.taxRate.plus(1)) : taxed, digits);
  return {
    currency: book.currency,
    lines: priced.goods.map((goods, index) => writtenLine(routed, goods, index, digits)),
    fees: fees.map((fee) => writtenCharge(fee, digits)),
    subtotal: writeMoney(subtotal, digits),
    tax: { rate: catalog.catalog.prices.tax.rate, amount: writeMoney(tax, digits), included },
    total: writeMoney(included ? subtotal : subtotal.plus(tax), digits),
    reasons,
    ownerReasons: priced.floored ? [reason('floor-applied')] : [],
    net: made.div(book.gross),
  };
}

function writtenLine(routed: RoutedSlip, goods: LineGoods, index: number, digits: number): PricedLine {
  const { line, pieces } = routed.lines[index]!;
  return {
    id: line.id,
    pieces,
    unit: writeMoney(goods.unit, digits),
    sizes: goods.rows.map(({ size, count, unit }) => ({
      size,
      count,
      unit: writeMoney(unit, digits),
      amount: writeMoney(unit.times(count), digits),
    })),
    charges: goods.charges.map((charge) => writtenCharge(charge, digits)),
    total: writeMoney(lineTotal(goods), digits),
  };
}

function writtenCharge({ code, amount, params }: Fee, digits: number): Charge {
  return { code, amount: writeMoney(amount, digits), params };
}
