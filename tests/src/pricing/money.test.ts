import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { allocate } from '../../../src/pricing/allocate.ts';
import {
  amountOf,
  amountText,
  ceilOf,
  floorOf,
  product,
  quantityOf,
  quantityText,
  roundOf,
  shareOut,
} from '../../../src/pricing/amounts.ts';
import { minorOf, minorOne, minorText, PriceSteps } from '../../../src/pricing/minor-units.ts';
import { Money, money, roundMoney, writeMoney } from '../../../src/pricing/money.ts';

const digits = fc.constantFrom(0, 2, 3, 4);

describe('sharing an amount out', () => {
  it('loses no unit, stays within one unit of every exact share, and keeps the sign', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 15n), max: 10n ** 15n }),
        fc.array(fc.oneof(fc.bigInt(0n, 1000n), fc.bigInt(0n, 10n ** 20n)), { minLength: 1, maxLength: 12 }),
        (total, weights) => {
          const parts = allocate(total, weights);
          expect(parts.reduce((sum, part) => sum + part, 0n)).toBe(total);
          const whole = weights.reduce((sum, weight) => sum + weight, 0n);
          parts.forEach((part, index) => {
            const exact = new Money(`${total}`);
            const share =
              whole === 0n ? exact.div(weights.length) : exact.times(`${weights[index]}`).div(`${whole}`);
            expect(share.minus(`${part}`).abs().lt(1)).toBe(true);
            expect(part === 0n || part < 0n === total < 0n).toBe(true);
          });
        },
      ),
      { numRuns: 500 },
    );
  });

  it('gives the rest to the largest remainders, and of equal ones to the first', () => {
    expect(allocate(1000n, [1n, 1n, 1n])).toEqual([334n, 333n, 333n]);
    expect(allocate(-1000n, [1n, 1n, 1n])).toEqual([-334n, -333n, -333n]);
    // 1/6, 2/6 and 3/6 of 10: 1.67, 3.33 and 5
    expect(allocate(10n, [1n, 2n, 3n])).toEqual([2n, 3n, 5n]);
    expect(allocate(1n, [0n, 0n])).toEqual([1n, 0n]);
    expect(allocate(500n, [0n, 7n])).toEqual([0n, 500n]);
  });

  it('throws for what cannot be shared, naming the value', () => {
    expect(() => allocate(1n, [])).toThrow('no parts');
    expect(() => allocate(1n, [1n, -2n])).toThrow('the weight -2');
  });
});

describe('writing', () => {
  it('has exactly the digits of the currency, and zero has no sign', () => {
    expect(writeMoney(money('5'), 3)).toBe('5.000');
    expect(writeMoney(money('0.4'), 0)).toBe('0');
    expect(writeMoney(money('0.004').negated(), 2)).toBe('0.00');
    expect(writeMoney(money('0.005').negated(), 2)).toBe('-0.01');
    expect(writeMoney(money('123456789012.5'), 0)).toBe('123456789013');
  });
});

describe('allowed prices', () => {
  const amount = fc.nat(10_000_000).map((tenThousandths) => money((tenThousandths / 10_000).toFixed(4)));
  const raise = (steps: PriceSteps, price: Money): Money =>
    money(minorText(steps.raise({ over: amountOf(price.toFixed()), under: 1n }), steps.digits));

  it('are whole minor units, rounded up', () => {
    fc.assert(
      fc.property(digits, amount, (places, price) => {
        const raised = raise(new PriceSteps(places, null), price);
        const unit = new Money(10).pow(-places);
        expect(raised.gte(price)).toBe(true);
        expect(raised.minus(price).lt(unit)).toBe(true);
        expect(raised.div(unit).isInteger()).toBe(true);
      }),
    );
  });

  it('have the ending, are the next such price up, and never fall when the amount rises', () => {
    const ending = fc
      .record({ step: fc.integer({ min: 2, max: 1000 }), offset: fc.nat(999) })
      .map(({ step, offset }) => ({ step, offset: offset % step }));
    fc.assert(
      fc.property(ending, amount, amount, ({ step, offset }, one, other) => {
        const steps = new PriceSteps(2, { step: (step / 100).toFixed(2), offset: (offset / 100).toFixed(2) });
        const raised = raise(steps, one);
        const cents = raised.times(100).toNumber();
        expect((cents - offset) % step).toBe(0);
        expect(raised.gte(one)).toBe(true);
        // The one before is too low, or there is none before it.
        expect(raised.minus((step / 100).toFixed(2)).lt(one) || cents === offset).toBe(true);
        if (one.lte(other)) expect(raised.lte(raise(steps, other))).toBe(true);
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
    expect(raise(new PriceSteps(2, { step: '1.00', offset: '0.95' }), money(price)).toFixed(2)).toBe(raised);
  });
});

describe('fixed-point arithmetic', () => {
  const text = fc
    .tuple(fc.nat(999_999_999), fc.stringMatching(/^\d{1,12}$/))
    .map(([whole, fraction]) => `${whole}.${fraction}`);

  it('reads and writes amounts without loss', () => {
    fc.assert(
      fc.property(text, (amount) => {
        expect(money(amountText(amountOf(amount))).eq(money(amount))).toBe(true);
        expect(amountText(amountOf(amount))).toBe(money(amount).toFixed());
      }),
    );
    expect(amountText(amountOf('12'))).toBe('12');
    expect(quantityText(quantityOf(0.000000001))).toBe('0.000000001');
  });

  it('multiplies as decimals do, rounded half up at the 12th digit', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 1e7, noNaN: true }), text, (quantity, rate) => {
        const whole = quantityOf(quantity);
        const exact = money(quantityText(whole)).times(money(rate));
        expect(amountText(product(whole, amountOf(rate)))).toBe(roundMoney(exact, 12).toFixed());
      }),
      { numRuns: 500 },
    );
  });

  it('divides as decimals do, rounded down, up or by the one rule', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 18n), max: 10n ** 18n }),
        fc.bigInt({ min: 1n, max: 10n ** 9n }),
        (amount, by) => {
          const exact = new Money(`${amount}`).div(`${by}`);
          expect(`${floorOf(amount, by)}`).toBe(`${exact.floor().toFixed()}`.replace(/^-0$/, '0'));
          expect(`${ceilOf(amount, by)}`).toBe(`${exact.ceil().toFixed()}`.replace(/^-0$/, '0'));
          expect(`${roundOf(amount, by)}`).toBe(roundMoney(exact, 0).toFixed().replace(/^-0$/, '0'));
        },
      ),
      { numRuns: 500 },
    );
    expect([roundOf(5n, 2n), roundOf(-5n, 2n), roundOf(7n, 2n)]).toEqual([3n, -3n, 4n]);
  });

  it('writes minor units as decimals are written', () => {
    fc.assert(
      fc.property(digits, text, fc.boolean(), (places, amount, negative) => {
        const minor = minorOf(amount, places);
        expect(minorText(negative ? -minor : minor, places)).toBe(
          writeMoney(negative ? roundMoney(money(amount), places).negated() : money(amount), places),
        );
        expect(minorOne(places) * 10n ** BigInt(places)).toBe(10n ** 12n);
      }),
    );
  });

  it('accepts quantities too large for nine digits after the point', () => {
    expect(quantityText(quantityOf(123_456_789_012))).toBe('123456789012');
  });

  it('shares amounts out without loss', () => {
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
