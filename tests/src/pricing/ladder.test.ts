import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CompiledCatalog } from '../../../src/catalog/compile.ts';
import { Rung } from '../../../src/contract/index.ts';
import { costOf, ladderOf, money, type PricedSlip, priceSlip } from '../../../src/pricing/index.ts';
import { anyLine, anyOrder, anyPolicy } from './orders.ts';
import { type LineWish, routedOf, shopOf } from './shop.ts';

function priced(catalog: CompiledCatalog, lines: readonly LineWish[], rush = false): PricedSlip {
  const routed = routedOf(catalog, lines, { rush, delivery: 'parcel' });
  return priceSlip(catalog, routed, costOf(catalog, routed));
}

type More =
  | { readonly line: number; readonly size: number; readonly pieces: number }
  | { readonly added: LineWish };

/** What makes a slip one with more pieces: further pieces of a size, or a further line. */
const more: fc.Arbitrary<More> = fc.oneof(
  {
    weight: 5,
    arbitrary: fc.record({ line: fc.nat(3), size: fc.nat(2), pieces: fc.integer({ min: 1, max: 6 }) }),
  },
  { weight: 1, arbitrary: fc.record({ added: anyLine }) },
);

function grown(lines: readonly LineWish[], by: More): LineWish[] {
  if ('added' in by) return [...lines, by.added];
  const at = by.line % lines.length;
  return lines.map((line, index) => {
    if (index !== at) return line;
    const size = line.blank === 'tote' ? 'one' : ['s', 'm', 'xl'][by.size]!;
    return { ...line, counts: { ...line.counts, [size]: (line.counts[size] ?? 0) + by.pieces } };
  });
}

describe('the fair ladder', () => {
  it('never has a lower total for more pieces, whatever the policy', () => {
    fc.assert(
      fc.property(anyPolicy, anyOrder, more, fc.boolean(), (policy, lines, by, rush) => {
        const catalog = shopOf(policy.prices, { currency: policy.currency });
        const fewer = priced(catalog, lines, rush);
        const many = priced(catalog, grown(lines, by), rush);
        expect(money(many.total).gte(money(fewer.total)), `${fewer.total} then ${many.total}`).toBe(true);
        expect(many.net.gte(fewer.net)).toBe(true);
      }),
      { numRuns: 1500 },
    );
  });

  it('never has a lower total piece by piece up to past the last break', () => {
    fc.assert(
      fc.property(anyPolicy, anyLine, fc.option(anyLine, { nil: undefined }), (policy, line, other) => {
        const catalog = shopOf(policy.prices, { currency: policy.currency });
        const size = line.blank === 'tote' ? 'one' : 's';
        let before = money('0');
        for (let count = 1; count <= 70; count++) {
          const lines = [{ ...line, counts: { [size]: count } }, ...(other === undefined ? [] : [other])];
          const total = money(priced(catalog, lines).total);
          expect(total.gte(before), `${count} pieces: ${total.toFixed()} after ${before.toFixed()}`).toBe(
            true,
          );
          before = total;
        }
      }),
      { numRuns: 60 },
    );
  });

  it('caps a count at what the next break costs, and says so', () => {
    const { lines, reasons } = priced(shopOf(), [{ counts: { s: 11 } }]);
    // 11 × 20.00 = 220.00; 12 × 15.00 = 180.00
    expect(lines[0]).toMatchObject({
      unit: '20.00',
      charges: [{ code: 'break-cap', amount: '-40.00', params: { count: 12 } }],
      total: '180.00',
    });
    expect(reasons).toEqual([
      { code: 'next-count-cheaper', at: 'lines.0', params: { count: 12, unit: '15.00' } },
      { code: 'count-capped', at: 'lines.0', params: { count: 12, total: '180.00' } },
    ]);
    // 9 × 20.00 is no more than 12 × 15.00: nothing to cap.
    expect(priced(shopOf(), [{ counts: { s: 9 } }]).lines[0]).toMatchObject({ charges: [], total: '180.00' });
  });

  it('looks past the next break', () => {
    const list = [
      {
        blank: 'tee',
        finish: 'plain',
        breaks: [1, 20, 21].map((from, i) => ({ from, unit: ['10', '9.99', '5'][i]! })),
      },
    ];
    const all = [
      ...list,
      ...['tee fine', 'tote plain', 'tote fine'].map((pair) => ({
        ...list[0]!,
        blank: pair.split(' ')[0]!,
        finish: pair.split(' ')[1]!,
      })),
    ];
    // 19 × 10 = 190; 20 × 9.99 = 199.80; 21 × 5 = 105
    expect(priced(shopOf({ list: all }), [{ counts: { s: 19 } }]).lines[0]!.total).toBe('105.00');
  });

  it('shares a cap over the lines it is for, to the last cent', () => {
    const { lines, subtotal } = priced(shopOf(), [
      { counts: { s: 4 } },
      { color: 'black', counts: { s: 4, xl: 3 } },
    ]);
    // 11 × 20.00 + 3 × 2.50 = 227.50, capped at 11 × 15.00 + 7.50 + 15.00 = 187.50
    expect(subtotal).toBe('194.40');
    const off = lines.map(({ charges }) => charges[0]!.amount);
    // 40.00 by 80.00 : 147.50
    expect(off).toEqual(['-14.07', '-25.93']);
  });
});

describe('the rungs of a ladder', () => {
  it('are the breaks and the line’s own count, ascending, each as it would be quoted', () => {
    const catalog = shopOf();
    const lines: LineWish[] = [{ counts: { s: 4, xl: 2 } }, { blank: 'tote', counts: { one: 3 } }];
    const routed = routedOf(catalog, lines);
    const ladder = ladderOf(catalog, routed, 0, costOf(catalog, routed));
    expect(ladder.map(({ count }) => count)).toEqual([1, 6, 12, 24]);
    for (const rung of ladder) Rung.parse(rung);
    // 8 of S and 4 of XL at 15.00 and 17.50
    expect(ladder[2]).toEqual({ count: 12, unit: '15.00', total: '190.00' });
    expect(ladder[1]!.total).toBe(priced(catalog, lines).lines[0]!.total);
  });

  it('count what other lines of the blank and finish add', () => {
    const catalog = shopOf();
    const routed = routedOf(catalog, [{ counts: { s: 3 } }, { color: 'black', counts: { s: 5 } }]);
    const ladder = ladderOf(catalog, routed, 0, costOf(catalog, routed));
    expect(ladder.map(({ count, unit }) => [count, unit])).toEqual([
      [1, '20.00'],
      [3, '20.00'],
      [7, '15.00'],
      [19, '12.50'],
    ]);
  });

  it('stand at usual counts where prices follow cost, and never fall', () => {
    fc.assert(
      fc.property(anyPolicy, anyLine, (policy, line) => {
        const catalog = shopOf(policy.prices, { currency: policy.currency });
        const routed = routedOf(catalog, [line]);
        const ladder = ladderOf(catalog, routed, 0, costOf(catalog, routed));
        const sizes = Object.keys(line.counts).filter((size) => line.counts[size]! > 0);
        if (sizes.length === 1 && line.prints?.every(({ names }) => names === undefined) !== false)
          for (const { count, unit, total } of ladder)
            expect(priced(catalog, [{ ...line, counts: { [sizes[0]!]: count } }]).lines[0]).toMatchObject({
              unit,
              total,
            });
        expect(ladder.some(({ count }) => count === routed.lines[0]!.pieces)).toBe(true);
        ladder.forEach((rung, place) => {
          const before = ladder[place - 1];
          if (before === undefined) return;
          expect(rung.count).toBeGreaterThan(before.count);
        });
      }),
      { numRuns: 100 },
    );
  });
});
