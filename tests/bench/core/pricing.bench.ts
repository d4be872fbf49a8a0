import { MaxRectsPacker } from 'maxrects-packer';
import { Slip } from '../../../src/contract/index.ts';
import { costOf, priceSlip } from '../../../src/pricing/index.ts';
import { type NestPrints, type NestSheet, nest } from '../../../src/production/index.ts';
import type { RoutedSlip } from '../../../src/routing/routed.ts';
import { type LineWish, routedOf, shopOf } from '../../src/pricing/shop.ts';
import { type Benchmark, timed } from '../harness.ts';

const catalog = shopOf({ setUpPerOrder: '5.00', floorMargin: '0.2', tax: { rate: '0.19', included: false } });
const SHEET: NestSheet = { widthMm: 320, heightMm: 450, marginMm: 5, gapMm: 6 };
/** Slips priced in one measurement. */
const TIMES = 300;

/** Lines of two prints and three sizes each; every measured slip is new, so that no cache helps. */
function orders(lines: number, seed: number): RoutedSlip[] {
  return Array.from({ length: TIMES }, (_, slip) => {
    const wishes = Array.from({ length: lines }, (_, index): LineWish => {
      const widthMm = 120 + ((slip * 7 + index * 13 + seed) % 1600) / 10;
      return {
        color: index % 2 === 0 ? 'white' : 'black',
        counts: { s: 3 + ((slip + index) % 5), m: 4, xl: 2 },
        prints: [
          { method: 'ink', widthMm, heightMm: widthMm, design: `front ${index}` },
          { method: 'sheet', widthMm: 80 + index, heightMm: 60, design: `chest ${index}` },
        ],
      };
    });
    return routedOf(catalog, wishes);
  });
}

let seed = 0;

function priceAll(slips: readonly RoutedSlip[]): void {
  for (const slip of slips) priceSlip(catalog, slip, costOf(catalog, slip));
}

function parseAll(slips: readonly unknown[]): void {
  for (const slip of slips) Slip.parse(slip);
}

/** Prints as an order has them: few sizes, several of each. */
const MIXED: readonly NestPrints[] = [
  { widthMm: 280, heightMm: 320, count: 24 },
  { widthMm: 90, heightMm: 90, count: 24 },
  { widthMm: 200, heightMm: 72, count: 12 },
  { widthMm: 55, heightMm: 40, count: 30 },
];

/**
 * Bill and price of a slip of three lines with two prints a piece. Baseline: validating the same slip, which every
 * request does anyway. In growth mode the number of lines grows, up to 48.
 */
const price: Benchmark = {
  name: 'price-three-lines',
  unit: 'ms for 300 slips',
  goal: { ratioAtMost: 6, growthAtMost: 1.2 },
  grow: [1, 4, 16],
  async subject(scale) {
    const slips = orders(3 * scale, seed++);
    return await timed(() => priceAll(slips));
  },
  async baseline(scale) {
    const slips = orders(3 * scale, seed++).map(({ slip }) => structuredClone(slip));
    return await timed(() => parseAll(slips));
  },
};

/**
 * Nesting an order's prints. Baseline: a packer for texture sheets that takes them one by one. In growth mode the counts
 * grow: ten thousand times as many equal prints repeat one layout, so the time should hardly grow.
 */
const nesting: Benchmark = {
  name: 'nest-ninety-prints',
  unit: 'ms for 20 orders',
  goal: { ratioAtMost: 1, growthAtMost: 0.3 },
  grow: [1, 100, 10_000],
  async subject(scale) {
    const prints = MIXED.map((print) => ({ ...print, count: print.count * scale }));
    return await timed(() => {
      for (let round = 0; round < 20; round++) nest(SHEET, prints);
    });
  },
  async baseline() {
    return await timed(() => {
      for (let round = 0; round < 20; round++) packOneByOne();
    });
  },
};

function packOneByOne(): number {
  const packer = new MaxRectsPacker(316, 446, 0, {
    smart: false,
    pot: false,
    square: false,
    allowRotation: true,
  });
  const items = MIXED.flatMap(({ widthMm, heightMm, count }) =>
    Array.from({ length: count }, () => ({ width: widthMm + 6, height: heightMm + 6, x: 0, y: 0 })),
  );
  packer.addArray(items as never);
  return packer.bins.length;
}

export const benchmarks: readonly Benchmark[] = [price, nesting];
