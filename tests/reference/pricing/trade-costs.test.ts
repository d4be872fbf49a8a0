import { resolve } from 'node:path';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { demoCatalog } from '../../../demo/catalog.ts';
import { measureArtwork } from '../../../src/artwork/index.ts';
import { checkCatalog } from '../../../src/catalog/check.ts';
import { type CompiledCatalog, compileCatalog } from '../../../src/catalog/compile.ts';
import { type ArtworkFacts, Slip, type SlipInput } from '../../../src/contract/index.ts';
import { costOf, type PricedSlip, priceSlip, type WrittenBill } from '../../../src/pricing/index.ts';
import { candidatesOf } from '../../../src/routing/fit/candidates.ts';
import { plainLettering } from '../../../src/routing/fit/print.ts';
import { resolveSlip } from '../../../src/routing/fit/resolve-slip.ts';
import type { RoutedSlip } from '../../../src/routing/routed.ts';

/*
 * What the two processes cost in the trade: common practice, no source. The demo shop's rates must give these figures for
 * a full-front design (its own roundel, 280 mm wide) on its cotton tee.
 */

let catalog: CompiledCatalog;
let roundel: ArtworkFacts;

beforeAll(async () => {
  const checked = checkCatalog(demoCatalog);
  if (checked.catalog === undefined) throw new Error(JSON.stringify(checked.faults));
  catalog = compileCatalog(checked.catalog, 1);
  const file = resolve(import.meta.dirname, '../../../demo/artwork/kettle-roundel.png');
  const { data, info } = await sharp(file).ensureAlpha().raw().toBuffer({ resolveWithObject: true });
  roundel = measureArtwork({ width: info.width, height: info.height, data });
});

type Process = 'garment-print' | 'white-toner-transfer';
type LineInput = SlipInput['lines'][number];

/** The slip with every print by one process, whatever the shop would choose. */
function routed(process: Process, change: Partial<LineInput> = {}): RoutedSlip {
  const slip = Slip.parse({
    format: 1,
    delivery: 'pick-up',
    lines: [
      {
        id: 'tees',
        blank: 'cotton-tee',
        color: 'white',
        counts: [{ size: 'l', count: 1 }],
        finish: 'standard',
        placements: [{ id: 'front', face: 'front', artwork: 'a'.repeat(64), xMm: 0, yMm: 190, widthMm: 280 }],
        ...change,
      },
    ],
  });
  const resolved = resolveSlip(catalog, slip, () => ({ facts: roundel }), plainLettering);
  if (!('lines' in resolved)) throw new Error(JSON.stringify(resolved));
  const method = catalog.methodIndex.get(process)!;
  return {
    slip,
    lines: resolved.lines.map((line) => ({
      line: line.line,
      blank: line.blank.blank,
      color: line.cloth.color,
      finish: line.finish.finish,
      pieces: line.pieces,
      placements: candidatesOf(catalog, line).map(({ byMethod }) => {
        const candidate = byMethod[method]!;
        if (candidate.routed === undefined) throw new Error(JSON.stringify(candidate.reasons));
        return candidate.routed;
      }),
    })),
  };
}

function bill(process: Process, change: Partial<LineInput> = {}): WrittenBill {
  return costOf(catalog, routed(process, change)).written();
}

function price(process: Process, change: Partial<LineInput> = {}): PricedSlip {
  const slip = routed(process, change);
  return priceSlip(catalog, slip, costOf(catalog, slip));
}

/** Sum of the amounts of the consumables whose id matches. */
function spent({ lines }: WrittenBill, item: RegExp): number {
  return lines
    .filter((line) => (line.what === 'consumable' || line.what === 'sheet') && item.test(line.item))
    .reduce((sum, { amount }) => sum + Number(amount), 0);
}

/** Seconds the step runs at its station. */
function seconds({ lines }: WrittenBill, step: string): number {
  const line = lines.find(({ what, item }) => what === 'station' && item === step);
  return Number(line?.quantity) * 3600;
}

function within(value: number, least: number, most: number): void {
  expect(value).toBeGreaterThanOrEqual(least);
  expect(value).toBeLessThanOrEqual(most);
}

const black: Partial<LineInput> = { color: 'black' };
const many = (count: number): Partial<LineInput> => ({ counts: [{ size: 'l', count }] });

describe('printing on the garment', () => {
  it('takes ink for 0.50 to 1.00 on white and 1.25 to 3.00 on dark', () => {
    within(spent(bill('garment-print'), /^ink-/), 0.5, 1);
    within(spent(bill('garment-print', black), /^ink-/), 1.25, 3);
  });

  it('takes white on dark alone, and so more ink for the same design', () => {
    expect(spent(bill('garment-print'), /^ink-w$/)).toBe(0);
    expect(spent(bill('garment-print', black), /^ink-w$/)).toBeGreaterThan(0.5);
    for (const dark of ['black', 'navy', 'forest'])
      expect(spent(bill('garment-print', { color: dark }), /^ink-/)).toBeGreaterThan(
        spent(bill('garment-print'), /^ink-/),
      );
  });

  it('takes pretreat for about 0.50 a print, on every cloth', () => {
    const { colors } = catalog.blanks.get('cotton-tee')!.blank;
    for (const { id } of colors) within(spent(bill('garment-print', { color: id }), /^pretreat$/), 0.4, 0.6);
  });

  it('prints in about 28 s on white and 60 to 120 s on dark', () => {
    within(seconds(bill('garment-print'), 'print'), 25, 31);
    within(seconds(bill('garment-print', black), 'print'), 60, 120);
  });
});

describe('the transfer', () => {
  it('takes an A sheet for 0.80 to 1.00 and a B sheet for 1.00 to 2.00, the pair for 2 to 3', () => {
    const one = bill('white-toner-transfer');
    within(spent(one, /^a-sheet$/), 0.8, 1);
    within(spent(one, /^b-sheet$/), 1, 2);
    within(spent(one, /-sheet$/), 2, 3);
  });

  it('takes toner for about 0.10', () => {
    within(spent(bill('white-toner-transfer', black), /^toner-/), 0.07, 0.13);
  });

  it('takes a new sheet for every full-size print, where the other repeats the same job', () => {
    for (const count of [1, 7, 24]) {
      expect(bill('white-toner-transfer', many(count)).sheets).toEqual({
        'a-sheet': count,
        'b-sheet': count,
      });
      expect(bill('garment-print', many(count)).sheets).toEqual({});
    }
  });
});

describe('blank and price', () => {
  it('starts from a tee of about 3.00', () => {
    const blank = bill('garment-print').lines.find(({ what }) => what === 'blank');
    within(Number(blank?.rate), 2.5, 3.5);
  });

  it('sells one soft-hand tee for about 25 and the same design by transfer for about 20', () => {
    const soft = price('garment-print', { finish: 'soft-hand' });
    const felt = price('white-toner-transfer');
    within(Number(soft.subtotal), 23, 27);
    within(Number(felt.subtotal), 18, 22);
    expect(soft.ownerReasons).toEqual([]);
    expect(felt.ownerReasons).toEqual([]);
  });

  it('makes either pay for one piece, and printing on the garment the cheaper in bulk', () => {
    const costs = (change: Partial<LineInput>): [number, number] => [
      Number(bill('garment-print', change).total),
      Number(bill('white-toner-transfer', change).total),
    ];
    for (const one of [costs({}), costs(black)]) {
      // Within a fifth of each other: a one-off may go either way.
      expect(Math.max(...one) / Math.min(...one)).toBeLessThan(1.2);
      for (const cost of one) expect(cost).toBeLessThan(20);
    }
    for (const change of [many(24), { ...many(24), ...black }, many(100), { ...many(100), ...black }]) {
      const [printed, transferred] = costs(change);
      expect(printed).toBeLessThan(transferred * 0.9);
    }
  });
});
