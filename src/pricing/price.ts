import type { CompiledCatalog } from '../catalog/compile.ts';
import { type Charge, type Reason, reason } from '../contract/index.ts';
import type { RoutedSlip } from '../routing/routed.ts';
import { allocate } from './allocate.ts';
import { amountText, ONE, roundOf, sumOf } from './amounts.ts';
import { costPlusGoods } from './cost-plus.ts';
import { type Aims, deduct, type LineGoods, lineTotal, totalOf, withinBand } from './line-goods.ts';
import { listGoods } from './list-price.ts';
import { type Fraction, type Minor, minorOf, minorText } from './minor-units.ts';
import { type Money, money } from './money.ts';
import { bandOf, leavesShare } from './price-band.ts';
import { type PriceBook, priceBookOf } from './price-book.ts';
import type { BillOfCost, PricedLine, PricedSlip } from './types.ts';

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
      ? listed(book, routed, cost, feesOf(setUps))
      : builtUp(book, routed, cost);
  return summedUp(catalog, routed, { goods, setUps, reasons, floored });
}

type Goods = {
  readonly goods: readonly LineGoods[];
  readonly reasons: () => readonly Reason[];
  /** the margin floor raised the price. */
  readonly floored: boolean;
};

function builtUp(book: PriceBook, routed: RoutedSlip, cost: BillOfCost): Goods {
  const floored = book.floorMargin > book.margin;
  const share = floored ? book.floorMargin : book.margin;
  const goods = costPlusGoods(book, routed, cost, share, bandOf(book, cost, share));
  return { goods, reasons: () => [], floored };
}

function listed(book: PriceBook, routed: RoutedSlip, cost: BillOfCost, setUps: Minor): Goods {
  const { lines, cuts, capCounts, reasons } = listGoods(book, routed);
  const raw = totalOf(lines);
  const cut = sumOf(cuts);
  const capped = (off: Minor, parts: readonly Minor[]): LineGoods[] =>
    deduct(lines, off, parts, 'break-cap', (line) =>
      capCounts[line] === undefined ? {} : { count: capCounts[line] },
    );
  if (leavesShare(book, cost, book.floorMargin, raw - cut + setUps))
    return { goods: capped(cut, cuts), reasons, floored: false };
  const band = bandOf(book, cost, book.floorMargin);
  const bottom = band.bottom - setUps;
  // A cap that the floor cuts short is not what its reason says.
  const uncapped = () => reasons().filter(({ code }) => code !== 'count-capped');
  if (raw < bottom) {
    const pieces = BigInt(routed.lines.reduce((sum, line) => sum + line.pieces, 0));
    const up = bottom - raw;
    const aim = (unit: Minor): Fraction => ({ over: (unit * pieces + up) * book.steps.one, under: pieces });
    const aims = lines.map(
      ({ unit, rows, charges }): Aims => ({
        unit: aim(unit),
        rows: rows.map((row) => ({ ...row, unit: aim(row.unit) })),
        charges,
      }),
    );
    return { goods: withinBand(aims, book.steps, band.top - setUps), reasons: uncapped, floored: true };
  }
  // The floor leaves only part of the cap.
  const off = raw - bottom;
  return { goods: capped(off, allocate(off, cuts)), reasons: uncapped, floored: true };
}

type Fee = { readonly code: Charge['code']; readonly amount: Minor; readonly params: Charge['params'] };

function feesOf(fees: readonly Fee[]): Minor {
  return sumOf(fees.map(({ amount }) => amount));
}

function setUpFees(book: PriceBook, routed: RoutedSlip): Fee[] {
  const { setUpPerOrder, setUpPerDesign } = book;
  const fees: Fee[] = [];
  if (setUpPerOrder > 0n) fees.push({ code: 'set-up-order', amount: setUpPerOrder, params: {} });
  if (setUpPerDesign > 0n) {
    const designs = new Set<string>();
    for (const { placements } of routed.lines) for (const { design } of placements) designs.add(design);
    fees.push({
      code: 'set-up-design',
      amount: setUpPerDesign * BigInt(designs.size),
      params: { count: designs.size, unit: minorText(setUpPerDesign, book.steps.digits) },
    });
  }
  return fees;
}

function summedUp(
  catalog: CompiledCatalog,
  routed: RoutedSlip,
  { goods, setUps, reasons, floored }: Goods & { readonly setUps: readonly Fee[] },
): PricedSlip {
  const book = priceBookOf(catalog);
  const { digits } = book.steps;
  const { slip } = routed;
  const { included } = catalog.catalog.prices.tax;
  const lines = totalOf(goods);
  const made = lines + feesOf(setUps);
  const fees = [...setUps];
  const rush = slip.rush && book.rush !== undefined ? rushFee(book, book.rush, made) : undefined;
  if (rush !== undefined) fees.push({ code: 'rush', amount: rush, params: {} });
  const delivery = minorOf(catalog.deliveries.get(slip.delivery)?.price ?? '0', digits);
  if (delivery !== 0n) fees.push({ code: 'delivery', amount: delivery, params: { delivery: slip.delivery } });
  const subtotal = lines + feesOf(fees);
  const tax = roundOf(subtotal * book.taxRate, included ? ONE + book.taxRate : ONE);
  return {
    currency: book.currency,
    get lines() {
      return goods.map((line, index) => writtenLine(routed, line, index, digits));
    },
    unitOf: (line) => minorText(goods[line]!.unit, digits),
    totalOf: (line) => minorText(lineTotal(goods[line]!), digits),
    fees: fees.map((fee) => writtenCharge(fee, digits)),
    subtotal: minorText(subtotal, digits),
    tax: { rate: catalog.catalog.prices.tax.rate, amount: minorText(tax, digits), included },
    total: minorText(included ? subtotal : subtotal + tax, digits),
    get reasons() {
      return [
        ...reasons(),
        ...(setUps.length > 0 ? [reason('set-up-fee')] : []),
        ...(rush === undefined ? [] : [reason('rush-fee', { fee: minorText(rush, digits) })]),
      ];
    },
    ownerReasons: floored ? [reason('floor-applied')] : [],
    get net() {
      return netOf(book, made);
    },
  };
}

function rushFee({ steps }: PriceBook, rush: NonNullable<PriceBook['rush']>, made: Minor): Minor {
  return roundOf(rush.fee * ONE + made * steps.one * rush.share, steps.one * ONE);
}

function netOf({ gross, steps }: PriceBook, made: Minor): Money {
  const whole = money(minorText(made, steps.digits));
  return gross === ONE ? whole : whole.div(amountText(gross));
}

function writtenLine(routed: RoutedSlip, goods: LineGoods, index: number, digits: number): PricedLine {
  const { line, pieces } = routed.lines[index]!;
  return {
    id: line.id,
    pieces,
    unit: minorText(goods.unit, digits),
    sizes: goods.rows.map(({ size, count, unit }) => ({
      size,
      count,
      unit: minorText(unit, digits),
      amount: minorText(unit * BigInt(count), digits),
    })),
    charges: goods.charges.map((charge) => writtenCharge(charge, digits)),
    total: minorText(lineTotal(goods), digits),
  };
}

function writtenCharge({ code, amount, params }: Fee, digits: number): Charge {
  return { code, amount: minorText(amount, digits), params };
}
