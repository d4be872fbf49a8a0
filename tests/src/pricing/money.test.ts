import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  amountOf,
  amountText,
  product,
  quantityOf,
  quantityText,
  shareOut,
} from '../../../src/pricing/fixed.ts';
import { allocate, Money, money, roundMoney, writeMoney } from '../../../src/pricing/money.ts';
import { PriceSteps } from '../../../src/pricing/price-steps.ts';

const digits = fc.constantFrom(0, 2, 3, 4);

describe('sharing an amount out', () => {
  it('loses no unit, gives nobody more than a unit over or under the exact share, and keeps the sign', () => {
    fc.assert(
      fc.property(
        digits,
        fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }),
        fc.array(fc.oneof(fc.nat(1000), fc.double({ min: 0, max: 1e6, noNaN: true })), {
          minLength: 1,
          maxLength: 12,
        }),
        (places, units, weights) => {
          const total = new Money(units.toString()).div(new Money(10).pow(places));
          const parts = allocate(total, weights, places);
          const unit = new Money(10).pow(-places);
          expect(parts.reduce((sum, part) => sum.plus(part), money('0')).eq(total)).toBe(true);
          const whole = weights.reduce<Money>((sum, weight) => sum.plus(weight), money('0'));
          parts.forEach((part, index) => {
            expect(part.times(new Money(10).pow(places)).isInteger()).toBe(true);
            const share = whole.isZero()
              ? total.div(weights.length)
              : total.times(weights[index]!).div(whole);
            expect(part.minus(share).abs().lt(unit)).toBe(true);
            expect(part.isZero() || part.isNegative() === total.isNegative()).toBe(true);
          });
        },
      ),
      { numRuns: 500 },
    );
  });

  it('gives what is left to those cut most, and of equals to the earlier', () => {
    const texts = (total: string, weights: number[]): string[] =>
      allocate(money(total), weights, 2).map((part) => part.toFixed(2));
    expect(texts('10.00', [1, 1, 1])).toEqual(['3.34', '3.33', '3.33']);
    expect(texts('-10.00', [1, 1, 1])).toEqual(['-3.34', '-3.33', '-3.33']);
    // 1/6, 2/6 and 3/6 of 0.10: 1.67, 3.33 and 5 cents
    expect(texts('0.10', [1, 2, 3])).toEqual(['0.02', '0.03', '0.05']);
    expect(texts('0.01', [0, 0])).toEqual(['0.01', '0.00']);
    expect(texts('5.00', [0, 7])).toEqual(['0.00', '5.00']);
  });

  it('refuses what cannot be shared, naming the value', () => {
    expect(() => allocate(money('0.005'), [1], 2)).toThrow(
      'the amount 0.005 is not a whole number of units of 2 digits',
    );
    expect(() => allocate(money('1'), [], 2)).toThrow('no parts');
    expect(() => allocate(money('1'), [1, -2], 2)).toThrow('the weight -2');
    expect(() => allocate(money('1'), [Number.NaN], 2)).toThrow('the weight NaN');
  });
});

describe('writing', () => {
  it('has exactly the digits of the currency and no sign on nothing', () => {
    expect(writeMoney(money('5'), 3)).toBe('5.000');
    expect(writeMoney(money('0.4'), 0)).toBe('0');
    expect(writeMoney(money('0.004').negated(), 2)).toBe('0.00');
    expect(writeMoney(money('0.005').negated(), 2)).toBe('-0.01');
    expect(writeMoney(money('123456789012.5'), 0)).toBe('123456789013');
  });
});

describe('allowed prices', () => {
  const amount = fc.nat(10_000_000).map((tenThousandths) => money((tenThousandths / 10_000).toFixed(4)));

  it('are whole minor units, the next one up', () => {
    fc.assert(
      fc.property(digits, amount, (places, price) => {
        const raised = new PriceSteps(places, null).raise(price);
        const unit = new Money(10).pow(-places);
        expect(raised.gte(price)).toBe(true);
        expect(raised.minus(price).lt(unit)).toBe(true);
        expect(raised.div(unit).isInteger()).toBe(true);
      }),
    );
  });

  it('have the ending, are the next such one up, and never fall when the amount rises', () => {
    const ending = fc
      .record({ step: fc.integer({ min: 2, max: 1000 }), offset: fc.nat(999) })
      .map(({ step, offset }) => ({ step, offset: offset % step }));
    fc.assert(
      fc.property(ending, amount, amount, ({ step, offset }, one, other) => {
        const steps = new PriceSteps(2, { step: (step / 100).toFixed(2), offset: (offset / 100).toFixed(2) });
        const raised = steps.raise(one);
        const cents = raised.times(100).toNumber();
        expect((cents - offset) % step).toBe(0);
        expect(raised.gte(one)).toBe(true);
        // The one before is too low, or there is none before it.
        expect(raised.minus((step / 100).toFixed(2)).lt(one) || cents === offset).toBe(true);
        if (one.lte(other)) expect(raised.lte(steps.raise(other))).toBe(true);
      }),
      { numRuns: 500 },
    );
  });

  it.each([
    ['19.20', '19.95'],
    ['19.95', '19.95'],
    ['19.96', '20.95'],
    ['0.10', '0.95'],
    ['0', '0.95'],
  ])('with .95 at the end %s becomes %s', (price, raised) => {
    expect(new PriceSteps(2, { step: '1.00', offset: '0.95' }).raise(money(price)).toFixed(2)).toBe(raised);
  });
});

describe('whole numbers in place of decimals', () => {
  const text = fc
    .tuple(fc.nat(999_999_999), fc.stringMatching(/^\d{1,12}$/))
    .map(([whole, fraction]) => `${whole}.${fraction}`);

  it('read and write amounts without loss', () => {
    fc.assert(
      fc.property(text, (amount) => {
        expect(money(amountText(amountOf(amount))).eq(money(amount))).toBe(true);
        expect(amountText(amountOf(amount))).toBe(money(amount).toFixed());
      }),
    );
    expect(amountText(amountOf('12'))).toBe('12');
    expect(quantityText(quantityOf(0.000000001))).toBe('0.000000001');
  });

  it('multiply as decimals do, rounded half up at the 12th digit', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e7, noNaN: true }), text, (quantity, rate) => {
        const whole = quantityOf(quantity);
        const exact = money(quantityText(whole)).times(money(rate));
        expect(amountText(product(whole, amountOf(rate)))).toBe(roundMoney(exact, 12).toFixed());
      }),
      { numRuns: 500 },
    );
  });

  it('take quantities too large for nine digits after the point', () => {
    expect(quantityText(quantityOf(123_456_789_012))).toBe('123456789012');
  });

  it('share out without loss', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: 0n, max: 10n ** 24n }),
        fc.array(fc.double({ min: 0, max: 1e9, noNaN: true }), { minLength: 1, maxLength: 8 }),
        (amount, weights) => {
          const parts = weights.map(() => 0n);
          shareOut(amount, weights, parts);
          expect(parts.reduce((sum, part) => sum + part, 0n)).toBe(amount);
          weights.forEach((weight, index) => {
            if (weight === 0 && weights.some((other) => other > 0)) expect(parts[index]).toBe(0n);
            else expect(parts[index]! >= 0n).toBe(true);
          });
        },
      ),
      { numRuns: 300 },
    );
  });
});
