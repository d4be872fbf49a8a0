import fc from 'fast-check';
import type { CatalogInput } from '../../../src/catalog/index.ts';
import type { LineWish } from './shop.ts';

/** A price policy of a shop, with its currency. */
export type AnyPolicy = {
  readonly prices: Partial<CatalogInput['prices']>;
  readonly currency: string;
  readonly digits: number;
};

const cents = (max: number): fc.Arbitrary<string> => fc.nat(max).map((value) => (value / 100).toFixed(2));
const share = (max: number): fc.Arbitrary<string> => fc.nat(max).map((value) => (value / 100).toFixed(2));

/** Breaks from 1, ascending, with units that never rise. */
const breaks = fc
  .tuple(
    fc.uniqueArray(fc.integer({ min: 2, max: 60 }), { maxLength: 6 }),
    fc.array(cents(4000), { minLength: 7, maxLength: 7 }),
  )
  .map(([froms, units]) => {
    const falling = units.map(Number).sort((one, other) => other - one);
    return [1, ...froms.sort((one, other) => one - other)].map((from, place) => ({
      from,
      unit: falling[place]!.toFixed(2),
    }));
  });

const entry = fc.record({ breaks, extraPlacement: cents(600), name: cents(400) });

const list = fc.tuple(entry, entry, entry, entry).map((entries) =>
  ['tee plain', 'tee fine', 'tote plain', 'tote fine'].map((pair, place) => {
    const [blank, finish] = pair.split(' ');
    return { blank: blank!, finish: finish!, ...entries[place]! };
  }),
);

const ending = fc.option(
  fc.constantFrom(
    { step: '1.00', offset: '0.95' },
    { step: '0.10', offset: '0.09' },
    { step: '5.00', offset: '4.99' },
    { step: '0.25', offset: '0.00' },
  ),
  { nil: null },
);

const prices = fc.record({
  mode: fc.constantFrom('list' as const, 'cost-plus' as const),
  list,
  margin: share(80),
  floorMargin: share(80),
  setUpPerOrder: cents(1500),
  setUpPerDesign: cents(1500),
  rush: fc.option(fc.record({ fee: cents(2000), share: share(50) }), { nil: null }),
  ending,
  tax: fc.record({ rate: fc.constantFrom('0', '0.0725', '0.19', '0.255'), included: fc.boolean() }),
});

/** Any policy: list or cost plus, any breaks, margins, fees, endings and taxes, two or no digits. */
export const anyPolicy: fc.Arbitrary<AnyPolicy> = fc
  .tuple(prices, fc.constantFrom('USD', 'EUR', 'JPY', 'KWD'))
  .map(([policy, currency]) => ({
    prices: policy,
    currency,
    digits: currency === 'JPY' ? 0 : currency === 'KWD' ? 3 : 2,
  }));

const print = fc.record({
  method: fc.constantFrom('ink' as const, 'sheet' as const),
  widthMm: fc.integer({ min: 20, max: 300 }),
  heightMm: fc.integer({ min: 20, max: 300 }),
  design: fc.constantFrom('one', 'two'),
  k: fc.nat(600),
  w: fc.nat(600),
});

const tees: fc.Arbitrary<LineWish> = fc.record({
  blank: fc.constant('tee' as const),
  color: fc.constantFrom('white' as const, 'black' as const),
  finish: fc.constantFrom('plain' as const, 'fine' as const),
  counts: fc.record({ s: fc.integer({ min: 1, max: 30 }), m: fc.nat(8), xl: fc.nat(8) }),
  prints: fc.array(print, { minLength: 1, maxLength: 3 }),
});

const totes: fc.Arbitrary<LineWish> = fc.record({
  blank: fc.constant('tote' as const),
  finish: fc.constantFrom('plain' as const, 'fine' as const),
  counts: fc.record({ one: fc.integer({ min: 1, max: 30 }) }),
  prints: fc.array(print, { minLength: 1, maxLength: 2 }),
});

/** A line of tees or totes with one to three prints. */
export const anyLine: fc.Arbitrary<LineWish> = fc.oneof({ weight: 3, arbitrary: tees }, totes);

/** One to four lines. */
export const anyOrder: fc.Arbitrary<LineWish[]> = fc.array(anyLine, { minLength: 1, maxLength: 4 });
