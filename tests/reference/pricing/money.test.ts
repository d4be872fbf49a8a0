import { describe, expect, it } from 'vitest';
import {
  currencyDigits,
  Money,
  money,
  priceSlip,
  roundMoney,
  writeMoney,
} from '../../../src/pricing/index.ts';
import { billShop } from '../../fixtures/bill-shop.ts';
import { billOf, routedOf } from '../../fixtures/routed.ts';

/**
 * The same rounding by whole numbers alone: `cents × rate`, half up, with the rate in ten-thousandths. Written for this
 * check; shares no code with the product.
 */
function taxByWholeNumbers(cents: bigint, rateTenThousandths: bigint): bigint {
  return (2n * cents * rateTenThousandths + 10_000n) / 20_000n;
}

function centsText(cents: bigint): string {
  const text = cents.toString().padStart(3, '0');
  return `${text.slice(0, -2)}.${text.slice(-2)}`;
}

describe('tax against whole-number arithmetic', () => {
  it.each([
    ['5 %', '0.05', 500n],
    ['7.7 %', '0.077', 770n],
    ['19 %', '0.19', 1900n],
    ['20 %', '0.20', 2000n],
    ['21 %', '0.21', 2100n],
    ['25.5 %', '0.255', 2550n],
  ])('%s of every amount from 0.00 to 1000.00', (_, rate, tenThousandths) => {
    const factor = money(rate);
    for (let cents = 0n; cents <= 100_000n; cents++) {
      const tax = writeMoney(money(centsText(cents)).times(factor), 2);
      const expected = centsText(taxByWholeNumbers(cents, tenThousandths));
      if (tax !== expected) expect({ cents, tax }).toEqual({ cents, tax: expected });
    }
  });

  it('20 % of 302.00 is 60.40', () => {
    expect(writeMoney(money('302.00').times(money('0.20')), 2)).toBe('60.40');
  });
});

describe('one half is rounded away from zero', () => {
  // The first five trip binary floating point: 1.005 * 100 is 100.49999999999999 there.
  it.each([
    ['8.165', '8.17'],
    ['8.175', '8.18'],
    ['2.985', '2.99'],
    ['1.005', '1.01'],
    ['0.005', '0.01'],
    ['2.345', '2.35'],
    ['0.125', '0.13'],
    ['0.0049999', '0.00'],
  ])('%s is %s', (amount, rounded) => {
    expect(writeMoney(money(amount), 2)).toBe(rounded);
    expect(writeMoney(money(amount).negated(), 2)).toBe(rounded === '0.00' ? '0.00' : `-${rounded}`);
    expect(roundMoney(money(amount), 2).toFixed(2)).toBe(rounded);
  });
});

describe('exactness', () => {
  it('keeps every digit of the largest amount times the longest rate', () => {
    // 12.340000000001 × 10^9 - 12.340000000001 = 12340000000.001 - 12.340000000001
    expect(money('999999999').times(money('12.340000000001')).toFixed()).toBe('12339999987.660999999999');
    expect(money('999999999999.999999999999').times(money('999999999999.999999999999')).toFixed()).toBe(
      // (10^12 - 10^-12)^2 = 10^24 - 2 + 10^-24
      '999999999999999999999998.000000000000000000000001',
    );
  });

  it('does not change how decimal numbers behave elsewhere', async () => {
    const { Decimal } = await import('decimal.js');
    expect(Decimal).not.toBe(Money);
    expect(Decimal.precision).toBe(20);
  });
});

describe('ISO 4217 minor units', () => {
  // ISO 4217 list one, as republished on 2024-06-25 and compared with a second copy.
  it.each([
    ['USD', 2],
    ['EUR', 2],
    ['GBP', 2],
    ['CAD', 2],
    ['AUD', 2],
    ['CHF', 2],
    ['SEK', 2],
    ['HUF', 2],
    ['MGA', 2],
    ['MRU', 2],
    ['JPY', 0],
    ['KRW', 0],
    ['VND', 0],
    ['CLP', 0],
    ['ISK', 0],
    ['KWD', 3],
    ['BHD', 3],
    ['TND', 3],
    ['CLF', 4],
    ['UYW', 4],
  ])('%s has %i digits', (code, digits) => {
    expect(currencyDigits(code)).toBe(digits);
  });

  it.each(['XAU', 'XXX', 'XTS', 'usd', 'EURO', '', 'ZZZ', '__proto__', 'constructor'])(
    '"%s" is no currency to price in',
    (code) => {
      expect(currencyDigits(code)).toBeUndefined();
    },
  );
});

describe('markup and margin', () => {
  /*
   * Worked examples, all from memory: Wikipedia, "Markup (business)": a cost of 2000 sold at 2500 is a markup of 25 %, a
   * margin of 20 %. Wikipedia, "Gross margin", on turning one into the other: markups of 50, 100, 150, 300 % are margins of
   * 33 1/3, 50, 60, 75 %. The price is the product's own, of a shop that sells at cost plus a margin.
   */
  it.each([
    ['2000', '25 %', '0.2', '2500.00'],
    ['100', '100 %', '0.5', '200.00'],
    ['12.40', '150 %', '0.6', '31.00'],
    ['50', '300 %', '0.75', '200.00'],
    // A third is no decimal fraction: the least price in cents that keeps the margin given.
    ['100', '50 %', '0.333333', '150.00'],
    ['100', '50 %', '0.333334', '150.01'],
  ])('a cost of %s at a markup of %s, a margin of %s, sells at %s', (cost, _, margin, price) => {
    const catalog = billShop({ mode: 'cost-plus', margin, tax: { rate: '0', included: false } });
    const routed = routedOf(catalog, [{ counts: { s: 1 } }]);
    const bill = billOf(catalog, routed, cost);
    expect(priceSlip(catalog, routed, bill).total).toBe(price);
  });

  it('keeps the margin floor as a share of the price, not of the cost', () => {
    const catalog = billShop({ floorMargin: '0.2', tax: { rate: '0', included: false } });
    const routed = routedOf(catalog, [{ counts: { s: 1 } }]);
    const bill = billOf(catalog, routed, '2000');
    expect(priceSlip(catalog, routed, bill).total).toBe('2500.00');
  });
});

describe('one documented rounding rule, from list price to total', () => {
  // Half away from zero: 8.165 is 8.17, where binary fractions would give 8.16 and bankers' rounding 8.16 as well.
  it.each([
    ['8.165', '8.17'],
    ['8.175', '8.18'],
    ['2.985', '2.99'],
    ['1.005', '1.01'],
    ['2.345', '2.35'],
    ['0.125', '0.13'],
    ['0.005', '0.01'],
  ])('a list price of %s sells at %s', (unit, price) => {
    const list = ['tee', 'tote'].flatMap((blank) =>
      ['plain', 'fine'].map((finish) => ({ blank, finish, breaks: [{ from: 1, unit }] })),
    );
    const catalog = billShop({ list, floorMargin: '0', tax: { rate: '0', included: false } });
    const routed = routedOf(catalog, [{ counts: { s: 1 } }]);
    const free = billOf(catalog, routed, '0');
    const priced = priceSlip(catalog, routed, free);
    expect([priced.lines[0]!.unit, priced.total]).toEqual([price, price]);
  });
});
