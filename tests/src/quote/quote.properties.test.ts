import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { CatalogInput } from '../../../src/catalog/index.ts';
import { type QuoteAnswer, QuoteResponse } from '../../../src/contract/index.ts';
import { costUpperBound } from '../../../src/pricing/cost-bound.ts';
import type { QuoteResult } from '../../../src/quote/quote.ts';
import { randomOf } from '../routing/choice/models.ts';
import { ART, compiled, factsWith, type LineInput, planOf, quoted } from '../routing/shop.ts';

const shop = compiled();
const plan = planOf(shop);

const place = { tee: ['front', 'back'], cap: ['panel', 'brim'], mug: ['wrap'] } as const;
const colors = { tee: ['white', 'gray', 'black'], cap: ['navy'], mug: ['white'] } as const;
/** A height on the face that leaves room around it. */
const middle = { tee: 190, cap: 13, mug: 36 } as const;
const sizes = { tee: ['s', 'm', 'xl'], cap: ['one'], mug: ['one'] } as const;

/** Any line the contract takes of the shop's blanks; some cannot be made. */
const line = fc.constantFrom('tee', 'cap', 'mug').chain((blank) =>
  fc.record({
    blank: fc.constant(blank),
    color: fc.constantFrom(...colors[blank as 'tee']),
    counts: fc.uniqueArray(
      fc.record({ size: fc.constantFrom(...sizes[blank as 'tee']), count: fc.integer({ min: 1, max: 120 }) }),
      { minLength: 1, maxLength: 3, selector: ({ size }) => size },
    ),
    finish: fc.constantFrom('standard', 'standard', 'soft', 'matte', 'airy'),
    placements: fc.array(
      fc.record({
        face: fc.constantFrom(...place[blank as 'tee']),
        artwork: fc.constantFrom(ART, 'b'.repeat(64)),
        xMm: fc.integer({ min: -5, max: 5 }),
        yMm: fc.constantFrom(middle[blank as 'tee'], middle[blank as 'tee'], 13, 200),
        angleDeg: fc.constantFrom(0, 0, 0, 30, 90),
        widthMm: fc.oneof(
          fc.integer({ min: 10, max: 24 }),
          fc.integer({ min: 10, max: blank === 'tee' ? 260 : 60 }),
        ),
      }),
      { minLength: 1, maxLength: 3 },
    ),
  }),
);

const lines = fc.array(line, { minLength: 1, maxLength: 4 }).map((all): LineInput[] =>
  all.map((each, index) => ({
    ...each,
    id: `l${index}`,
    placements: each.placements.map((placement, print) => ({ ...placement, id: `p${print}` })),
  })),
);

const artwork = (id: string) => ({
  facts: id === ART ? factsWith() : factsWith({ deepSoftShare: 0.2 }, 1200),
});
const cents = (amount: string): bigint => BigInt(amount.replace('.', ''));

function isQuote(result: QuoteResult): result is QuoteResult & { readonly answer: QuoteAnswer } {
  return result.answer?.kind === 'quote';
}

describe('quote, of any slip', () => {
  it('answers in the documented shape, with amounts that add up and reasons that have a place', () => {
    let quotes = 0;
    let refusals = 0;
    let bounded = 0;
    fc.assert(
      fc.property(lines, fc.option(fc.integer({ min: 2, max: 20 }), { nil: undefined }), (wanted, day) => {
        const neededBy = day === undefined ? undefined : `2026-09-${String(day).padStart(2, '0')}`;
        const slip = neededBy === undefined ? {} : { neededBy };
        const found = quoted(wanted, { catalog: shop, plan, artwork, brief: true, slip });
        const { answer } = found;
        expect(QuoteResponse.parse(answer)).toEqual(answer);
        if (!isQuote(found)) {
          refusals++;
          return;
        }
        quotes++;
        const { bill, routed } = found.internal!;
        const upperBound = costUpperBound(shop, routed);
        if (upperBound !== undefined) {
          expect(bill.basis <= upperBound).toBe(true);
          bounded++;
        }
        expect(bill.isAtMost(bill.basis)).toBe(true);
        expect(bill.isAtMost(bill.basis - 1n)).toBe(false);
        const parts = [
          ...found.answer.lines.map(({ total }) => total),
          ...found.answer.fees.map(({ amount }) => amount),
        ];
        expect(parts.reduce((sum, amount) => sum + cents(amount), 0n)).toBe(cents(found.answer.subtotal));
        if (neededBy !== undefined) expect(found.answer.promise.day <= neededBy).toBe(true);
        for (const { placements } of found.answer.lines)
          for (const { qualities, method } of placements) {
            expect(shop.methodIndex.has(method.id)).toBe(true);
            expect(qualities.hand).toBeGreaterThanOrEqual(0);
          }
      }),
      { numRuns: 150 },
    );
    expect(quotes).toBeGreaterThan(15);
    expect(refusals).toBeGreaterThan(15);
    expect(bounded).toBeGreaterThan(10);
  });

  it('gives every print the qualities its finish asks for', () => {
    fc.assert(
      fc.property(lines, (wanted) => {
        const found = quoted(wanted, { catalog: shop, plan, artwork, brief: true });
        if (!isQuote(found)) return;
        found.answer.lines.forEach(({ placements }, index) => {
          for (const { qualities } of placements) {
            if (wanted[index]!.finish === 'soft') expect(qualities.hand).toBeLessThanOrEqual(1);
            if (wanted[index]!.finish === 'matte') expect(qualities.gloss).toBeLessThanOrEqual(1);
            if (wanted[index]!.finish === 'airy') expect(qualities.breathability).toBeGreaterThanOrEqual(3);
          }
        });
      }),
      { numRuns: 60 },
    );
  });

  it.each<[string, CatalogInput['prices']['choose'], (answer: QuoteAnswer) => string | number]>([
    ['price higher', 'lowest-price', ({ total }) => Number(total)],
    ['day later', 'earliest', ({ promise }) => promise.day],
  ])('another method to choose from never makes the %s, nor a slip impossible', (_, choose, objective) => {
    const random = randomOf(7);
    const shops = Array.from({ length: 8 }, (_, which) => {
      const prices = (c: CatalogInput) => {
        c.prices = { ...c.prices, choose, mode: 'cost-plus', margin: '0.5' };
      };
      const without = compiled(prices);
      const wider = compiled((c) => {
        prices(c);
        c.methods.push(anotherMethod(c.methods[which % 2]!, random));
      });
      return { without, wider, plan: planOf(without) };
    });
    fc.assert(
      fc.property(lines, fc.constantFrom(...shops), (wanted, { without, wider, plan: free }) => {
        // Days are compared by asking the plan, for up to 256 ways; three methods for five prints are 243.
        fc.pre(
          choose !== 'earliest' || wanted.reduce((sum, { placements }) => sum + placements!.length, 0) <= 5,
        );
        const few = quoted(wanted, { catalog: without, plan: free, artwork, brief: true });
        const more = quoted(wanted, { catalog: wider, plan: free, artwork, brief: true });
        if (!isQuote(few)) return;
        expect(more.answer?.kind).toBe('quote');
        expect(objective((more as typeof few).answer) <= objective(few.answer)).toBe(true);
      }),
      { numRuns: 100 },
    );
  });

  it('in a currency worth a third, costs three times as much and is the same otherwise', () => {
    const third = compiled((c) => {
      scaleAmounts(c, 3);
    });
    const thirdPlan = planOf(third);
    fc.assert(
      fc.property(lines, (wanted) => {
        const one = quoted(wanted, { catalog: shop, plan, artwork, brief: true });
        const other = quoted(wanted, { catalog: third, plan: thirdPlan, artwork, brief: true });
        expect(other.answer!.kind).toBe(one.answer!.kind);
        if (!isQuote(one) || !isQuote(other)) return;
        const methods = (answer: QuoteAnswer) =>
          answer.lines.map(({ placements }) => placements.map(({ method }) => method.id));
        expect(methods(other.answer)).toEqual(methods(one.answer));
        expect(other.answer.promise).toEqual(one.answer.promise);
        // The floor and the tax round to the cent, so up to a cent and a half an amount may be lost each way.
        const near = (theirs: string, ours: string, amounts: number): void => {
          const off = cents(theirs) - 3n * cents(ours);
          expect(off < 0n ? -off : off).toBeLessThanOrEqual(BigInt(3 * amounts));
        };
        near(other.answer.total, one.answer.total, 2 + wanted.length * 8);
      }),
      { numRuns: 60 },
    );
  });
});

/** A method like another on the same stations, each of its times and prices more or less. */
function anotherMethod(like: CatalogInput['methods'][number], random: () => number): typeof like {
  const method = structuredClone(like);
  method.id = `${like.id}-too`;
  method.treatments = [];
  const around = (figure: number): number => figure * (0.4 + 1.2 * random());
  for (const step of method.steps) {
    step.perPrintS = step.stations.length > 0 ? around(step.perPrintS ?? 0) : 0;
    step.setUpPerDesignS = step.stations.length > 0 ? around(step.setUpPerDesignS ?? 0) : 0;
  }
  for (const consumable of method.consumables) consumable.price = around(Number(consumable.price)).toFixed(6);
  return method;
}

/** Every amount of money of a catalog times a whole number: a currency of less worth. */
function scaleAmounts(catalog: CatalogInput, by: number): void {
  const scale = (amount: string): string => (Number(amount) * by).toFixed(6).replace(/\.?0+$/, '');
  for (const { sizes: all, colors: cloths } of catalog.blanks) {
    for (const size of all) {
      size.cost = scale(size.cost);
      size.surcharge = scale(size.surcharge ?? '0');
    }
    for (const color of cloths) color.extraCost = scale(color.extraCost ?? '0');
  }
  for (const { consumables } of catalog.methods)
    for (const each of consumables) each.price = scale(each.price);
  for (const station of catalog.stations) station.ratePerHour = scale(station.ratePerHour);
  catalog.crew.wagePerHour = scale(catalog.crew.wagePerHour);
  for (const delivery of catalog.deliveries) delivery.price = scale(delivery.price ?? '0');
  const { prices } = catalog;
  for (const entry of prices.list ?? []) {
    for (const step of entry.breaks) step.unit = scale(step.unit);
    entry.extraPlacement = scale(entry.extraPlacement ?? '0');
    entry.name = scale(entry.name ?? '0');
  }
  if (prices.rush) prices.rush.fee = scale(prices.rush.fee);
}
