import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CompiledCatalog } from '../../../src/catalog/compile.ts';
import { Charge, QuotedLine } from '../../../src/contract/index.ts';
import { amountText } from '../../../src/pricing/amounts.ts';
import { costOf, money, type PricedSlip, priceSlip, writeMoney } from '../../../src/pricing/index.ts';
import { anyOrder, anyPolicy } from './orders.ts';
import { billOf, type LineWish, routedOf, shopOf } from './shop.ts';

function priced(
  catalog: CompiledCatalog,
  lines: readonly LineWish[],
  slip: Parameters<typeof routedOf>[2] = {},
): PricedSlip {
  const routed = routedOf(catalog, lines, slip);
  return priceSlip(catalog, routed, costOf(catalog, routed));
}

function charges(of: {
  readonly charges: readonly { readonly code: string; readonly amount: string }[];
}): Record<string, string> {
  return Object.fromEntries(of.charges.map(({ code, amount }) => [code, amount]));
}

describe('list prices', () => {
  it('takes the unit of the break the count reaches, with the surcharge of each size', () => {
    // 12 pieces at 15.00; m + 1.00, xl + 2.50
    const [line] = priced(shopOf(), [{ counts: { s: 7, m: 3, xl: 2 } }]).lines;
    expect(line).toEqual({
      id: 'l0',
      pieces: 12,
      unit: '15.00',
      sizes: [
        { size: 's', count: 7, unit: '15.00', amount: '105.00' },
        { size: 'm', count: 3, unit: '16.00', amount: '48.00' },
        { size: 'xl', count: 2, unit: '17.50', amount: '35.00' },
      ],
      charges: [],
      total: '188.00',
    });
  });

  it('charges further placements and names by the piece', () => {
    const names = ['Ada', 'Bo', 'Cy'];
    const [line] = priced(shopOf(), [
      { counts: { s: 3 }, prints: [{}, { design: 'back' }, { names }] },
    ]).lines;
    expect(charges(line!)).toEqual({ 'extra-placement': '12.00', names: '7.50' });
    // 3 × 20.00 + 3 × 4.00 + 3 × 2.50
    expect(line!.total).toBe('79.50');
    // A name alone is the one placement the list price holds.
    const [alone] = priced(shopOf(), [{ counts: { s: 3 }, prints: [{ names }] }]).lines;
    expect(charges(alone!)).toEqual({ names: '7.50' });
  });

  it('counts lines of one blank and finish together for the breaks', () => {
    const units = (...lines: LineWish[]): string[] => priced(shopOf(), lines).lines.map(({ unit }) => unit);
    expect(units({ counts: { s: 6 } }, { color: 'black', counts: { s: 6 } })).toEqual(['15.00', '15.00']);
    expect(units({ counts: { s: 6 } }, { finish: 'fine', counts: { s: 6 } })).toEqual(['20.00', '20.00']);
    expect(units({ counts: { s: 6 } }, { blank: 'tote', counts: { one: 6 } })).toEqual(['20.00', '20.00']);
  });

  it('raises units to the ending', () => {
    const catalog = shopOf({ ending: { step: '1.00', offset: '0.95' } });
    const [line] = priced(catalog, [{ counts: { s: 1, xl: 1 } }]).lines;
    // 20.00 -> 20.95; 22.50 -> 22.95
    expect(line!.sizes.map(({ unit }) => unit)).toEqual(['20.95', '22.95']);
    const nines = shopOf({ ending: { step: '5', offset: '4.99' } });
    // 20.00 -> 24.99
    expect(priced(nines, [{ counts: { s: 1 } }]).lines[0]!.unit).toBe('24.99');
  });

  it('refuses a blank and finish the list does not have, by name', () => {
    const catalog = shopOf({ mode: 'cost-plus', list: [] });
    const bare = {
      ...catalog,
      catalog: { ...catalog.catalog, prices: { ...catalog.catalog.prices, mode: 'list' as const } },
    };
    expect(() => priced(bare, [{ counts: { s: 1 } }])).toThrow(
      'no list price for blank "tee" in finish "plain"',
    );
  });
});

describe('fees and tax', () => {
  const fees = {
    setUpPerOrder: '8.00',
    setUpPerDesign: '15.00',
    rush: { fee: '10.00', share: '0.25' },
    tax: { rate: '0.0725', included: false },
  };

  it('adds set-ups by order and design, rush, delivery and tax', () => {
    const catalog = shopOf(fees);
    const lines: LineWish[] = [
      { counts: { s: 2 }, prints: [{}, { design: 'back' }] },
      { blank: 'tote', counts: { one: 1 } },
    ];
    const quote = priced(catalog, lines, { rush: true, delivery: 'parcel' });
    // goods 2 × 24.00 + 20.00 = 68.00; set-ups 8.00 + 2 × 15.00 = 38.00; rush 10.00 + 106.00 / 4 = 36.50
    expect(quote.fees.map(({ code, amount }) => [code, amount])).toEqual([
      ['set-up-order', '8.00'],
      ['set-up-design', '30.00'],
      ['rush', '36.50'],
      ['delivery', '6.90'],
    ]);
    expect(quote.subtotal).toBe('149.40');
    // 149.40 × 0.0725 = 10.8315
    expect(quote.tax).toEqual({ rate: '0.0725', amount: '10.83', included: false });
    expect(quote.total).toBe('160.23');
    expect(writeMoney(quote.net, 2)).toBe('106.00');
    expect(quote.reasons.map(({ code }) => code)).toEqual(expect.arrayContaining(['set-up-fee', 'rush-fee']));
  });

  it('shows the tax within prices that include it', () => {
    const quote = priced(shopOf({ tax: { rate: '0.19', included: true } }), [{ counts: { s: 1 } }]);
    // 20.00 × 0.19 / 1.19 = 3.1932...
    expect(quote.tax).toEqual({ rate: '0.19', amount: '3.19', included: true });
    expect(quote.total).toBe('20.00');
    // 20.00 / 1.19 = 16.8067...
    expect(writeMoney(quote.net, 4)).toBe('16.8067');
  });

  it('asks nothing for rush where the shop has none', () => {
    const quote = priced(shopOf(), [{ counts: { s: 1 } }], { rush: true });
    expect(quote.fees).toEqual([]);
    expect(quote.total).toBe('20.00');
  });

  it.each([
    // 3 × 1500 = 4500; × 0.075 = 337.5, half up
    ['JPY', 0, '1500', '4500', '338', '4838'],
    // 3 × 1.235 = 3.705; × 0.075 = 0.277875
    ['KWD', 3, '1.235', '3.705', '0.278', '3.983'],
    // 3 × 1.24 (1.235 half up) = 3.72; × 0.075 = 0.279
    ['EUR', 2, '1.235', '3.72', '0.28', '4.00'],
  ])('writes %s with %i digits', (currency, digits, unit, subtotal, tax, total) => {
    const list = [{ blank: 'tee', finish: 'plain', breaks: [{ from: 1, unit }] }];
    const catalog = shopOf(
      { mode: 'cost-plus', list, tax: { rate: '0.075', included: false } },
      { currency },
    );
    const listed = {
      ...catalog,
      catalog: { ...catalog.catalog, prices: { ...catalog.catalog.prices, mode: 'list' as const } },
    };
    const routed = routedOf(listed, [{ counts: { s: 3 } }]);
    const free = billOf(listed, routed, '0');
    const quote = priceSlip(listed, routed, free);
    expect([quote.subtotal, quote.tax.amount, quote.total]).toEqual([subtotal, tax, total]);
    expect(quote.total.split('.')[1]?.length ?? 0).toBe(digits);
  });
});

describe('the margin floor', () => {
  const dear = (floorMargin: string, more = {}): CompiledCatalog => {
    const cheap = ['tee', 'tote'].flatMap((blank) =>
      ['plain', 'fine'].map((finish) => ({ blank, finish, breaks: [{ from: 1, unit: '2.00' }] })),
    );
    return shopOf({ list: cheap, floorMargin, ...more });
  };

  it('raises units so that no less than the floor is kept', () => {
    const catalog = dear('0.2');
    const routed = routedOf(catalog, [{ counts: { s: 2, xl: 1 } }]);
    const cost = costOf(catalog, routed);
    const quote = priceSlip(catalog, routed, cost);
    expect(quote.ownerReasons).toEqual([{ code: 'floor-applied', params: {} }]);
    // All three units are raised by the same sum; sizes keep their distance.
    const [s, xl] = quote.lines[0]!.sizes.map(({ unit }) => money(unit));
    expect(xl!.minus(s!).toFixed(2)).toBe('2.50');
    const basis = money(amountText(cost.basis));
    const kept = money(quote.total).minus(basis).div(money(quote.total));
    expect(kept.gte(money('0.2'))).toBe(true);
    // Less than three minor units over it.
    expect(money(quote.total).minus(basis.div('0.8')).lt(money('0.03'))).toBe(true);
  });

  it('says nothing of cost where it does not bind, and nothing to the customer where it does', () => {
    expect(priced(shopOf({ floorMargin: '0.1' }), [{ counts: { s: 1 } }]).ownerReasons).toEqual([]);
    expect(JSON.stringify(priced(dear('0.5'), [{ counts: { s: 1 } }]).reasons)).not.toContain('floor');
  });

  it('is reckoned without tax where prices include it', () => {
    const catalog = dear('0.2', { tax: { rate: '0.25', included: true } });
    const routed = routedOf(catalog, [{ counts: { s: 1 } }]);
    const cost = costOf(catalog, routed);
    const net = priceSlip(catalog, routed, cost).net;
    expect(net.minus(amountText(cost.basis)).div(net).gte(money('0.2'))).toBe(true);
  });

  it('counts set-up fees as earned', () => {
    // Cost is some 10; the fee alone is more than cost / 0.8, so the list price stands.
    const quote = priced(dear('0.2', { setUpPerOrder: '40.00' }), [{ counts: { s: 1 } }]);
    expect(quote.lines[0]!.unit).toBe('2.00');
  });

  it('cuts a cap short', () => {
    // 11 at 20.00 are capped at 12 × 15.00 = 180.00, unless cost asks for more.
    const catalog = shopOf({ floorMargin: '0.75' });
    const routed = routedOf(catalog, [{ counts: { s: 11 } }]);
    const at = (basis: string): PricedSlip => priceSlip(catalog, routed, billOf(catalog, routed, basis));
    expect(at('45').total).toBe('180.00');
    expect(at('50').total).toBe('200.00');
    expect(charges(at('50').lines[0]!)).toEqual({ 'break-cap': '-20.00' });
    expect(at('50').reasons.map(({ code }) => code)).not.toContain('count-capped');
    expect(at('55').total).toBe('220.00');
    expect(at('60').total).toBe('240.02');
  });
});

describe('cost plus', () => {
  it('sells at cost over one less the margin, sizes by their blanks', () => {
    const catalog = shopOf({ mode: 'cost-plus', margin: '0.4' });
    const routed = routedOf(catalog, [{ color: 'black', counts: { s: 8, xl: 4 } }]);
    const quote = priceSlip(catalog, routed, costOf(catalog, routed));
    // The bill of 61.38656 (see bill.test.ts): 41 for blanks, 20.38656 / 12 = 1.69888 a piece besides.
    // s: (3.25 + 1.69888) / 0.6 = 8.248133.. -> 8.25; xl: (3.75 + 1.69888) / 0.6 = 9.081466.. -> 9.09
    expect(quote.lines[0]!.sizes.map(({ unit }) => unit)).toEqual(['8.25', '9.09']);
    // 66.00 + 36.36; 61.38656 / 0.6 = 102.3109..
    expect(quote.total).toBe('102.36');
  });

  it('comes out even where cost does', () => {
    const catalog = shopOf({ mode: 'cost-plus', margin: '0.4' });
    const routed = routedOf(catalog, [{ counts: { s: 1 } }]);
    // 6 / 0.6 = 10 exactly, though 1 / 0.6 never ends.
    const cost = billOf(catalog, routed, '6');
    expect(priceSlip(catalog, routed, cost).total).toBe('10.00');
  });

  it('takes the floor for the margin where it is higher', () => {
    const at = (margin: string, floorMargin: string): PricedSlip =>
      priced(shopOf({ mode: 'cost-plus', margin, floorMargin }), [{ counts: { s: 5 } }]);
    expect(at('0.3', '0.5').total).toBe(at('0.5', '0').total);
    expect(at('0.3', '0.5').ownerReasons.map(({ code }) => code)).toEqual(['floor-applied']);
    expect(at('0.5', '0.3').ownerReasons).toEqual([]);
  });

  it('gives up the ending where it would add more than a piece', () => {
    const catalog = shopOf({ mode: 'cost-plus', margin: '0.5', ending: { step: '1.00', offset: '0.95' } });
    const units = (s: number): string => priced(catalog, [{ counts: { s } }]).lines[0]!.unit;
    expect(units(1)).toMatch(/\.95$/);
    expect(units(200)).not.toMatch(/\.95$/);
  });
});

describe('any price', () => {
  it('adds up as shown, in the currency’s digits, in the wire’s shape', () => {
    fc.assert(
      fc.property(anyPolicy, anyOrder, fc.boolean(), (policy, lines, rush) => {
        const catalog = shopOf(policy.prices, { currency: policy.currency });
        const quote = priced(catalog, lines, { rush, delivery: 'parcel' });
        let subtotal = money('0');
        for (const line of quote.lines) {
          let total = money('0');
          for (const { count, unit, amount } of line.sizes) {
            expect(amount).toBe(writeMoney(money(unit).times(count), policy.digits));
            total = total.plus(amount);
          }
          for (const { amount } of line.charges) total = total.plus(amount);
          expect(line.total).toBe(writeMoney(total, policy.digits));
          expect(total.isNegative()).toBe(false);
          QuotedLine.parse({ ...line, placements: [], ladder: [] });
          subtotal = subtotal.plus(line.total);
        }
        for (const fee of quote.fees) {
          Charge.parse(fee);
          subtotal = subtotal.plus(fee.amount);
        }
        expect(quote.subtotal).toBe(writeMoney(subtotal, policy.digits));
        const { amount, included, rate } = quote.tax;
        expect(quote.total).toBe(writeMoney(included ? subtotal : subtotal.plus(amount), policy.digits));
        const exact = included ? subtotal.times(rate).div(money(rate).plus(1)) : subtotal.times(rate);
        expect(amount).toBe(writeMoney(exact, policy.digits));
        for (const text of [quote.total, quote.subtotal, amount])
          expect(text.split('.')[1]?.length ?? 0).toBe(policy.digits);
      }),
      { numRuns: 300 },
    );
  });

  it('is never under the floor', () => {
    fc.assert(
      fc.property(anyPolicy, anyOrder, (policy, lines) => {
        const catalog = shopOf(policy.prices, { currency: policy.currency });
        const routed = routedOf(catalog, lines);
        const cost = costOf(catalog, routed);
        const { net } = priceSlip(catalog, routed, cost);
        const kept = net.times(money('1').minus(catalog.catalog.prices.floorMargin));
        // Prices that include tax are divided by 1 + rate: 70 digits of that are exact.
        expect(kept.plus('1e-60').gte(amountText(cost.basis))).toBe(true);
        expect(cost.basis >= cost.total).toBe(true);
      }),
      { numRuns: 300 },
    );
  });

  it('is a hundred times the number in a currency without cents, all of the catalog’s amounts being so', () => {
    fc.assert(
      fc.property(anyPolicy, anyOrder, fc.boolean(), (policy, lines, rush) => {
        const dollars = shopOf(policy.prices, { currency: 'USD' });
        const yen = shopOf({}, { currency: 'JPY' }, timesHundred(dollars.catalog));
        const slip = { rush, delivery: 'parcel' };
        const cents = (amount: string): string => amount.replace('.', '').replace(/^(-?)0+(?=\d)/, '$1');
        const one = priced(dollars, lines, slip);
        const other = priced(yen, lines, slip);
        expect(other.lines.map(({ total }) => total)).toEqual(one.lines.map(({ total }) => cents(total)));
        expect(other.total).toBe(cents(one.total));
        expect(other.tax.amount).toBe(cents(one.tax.amount));
      }),
      { numRuns: 150 },
    );
  });
});

/** Every amount of a catalog, a hundred times as much. */
function timesHundred(catalog: CompiledCatalog['catalog']): Parameters<typeof shopOf>[2] & object {
  const up = (amount: string): string => money(amount).times(100).toFixed();
  const { blanks, methods, stations, crew, deliveries, prices } = structuredClone(catalog);
  return {
    blanks: blanks.map((blank) => ({
      ...blank,
      sizes: blank.sizes.map((size) => ({ ...size, cost: up(size.cost), surcharge: up(size.surcharge) })),
      colors: blank.colors.map((color) => ({ ...color, extraCost: up(color.extraCost) })),
    })),
    methods: methods.map((method) => ({
      ...method,
      consumables: method.consumables.map((consumable) => ({ ...consumable, price: up(consumable.price) })),
    })),
    stations: stations.map((station) => ({ ...station, ratePerHour: up(station.ratePerHour) })),
    crew: { ...crew, wagePerHour: up(crew.wagePerHour) },
    deliveries: deliveries.map((delivery) => ({ ...delivery, price: up(delivery.price) })),
    prices: {
      ...prices,
      list: prices.list.map((entry) => ({
        ...entry,
        breaks: entry.breaks.map(({ from, unit }) => ({ from, unit: up(unit) })),
        extraPlacement: up(entry.extraPlacement),
        name: up(entry.name),
      })),
      setUpPerOrder: up(prices.setUpPerOrder),
      setUpPerDesign: up(prices.setUpPerDesign),
      rush: prices.rush && { ...prices.rush, fee: up(prices.rush.fee) },
      ending: prices.ending && { step: up(prices.ending.step), offset: up(prices.ending.offset) },
    },
  };
}
