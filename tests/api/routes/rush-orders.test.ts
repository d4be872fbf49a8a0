import { expect, it } from 'vitest';
import { demoCatalog } from '../../../demo/catalog.ts';
import type { CatalogInput } from '../../../src/catalog/index.ts';
import type { QuoteAnswer, SlipInput } from '../../../src/contract/index.ts';
import { onBothStores, openTestApi, placed, type TestApi } from '../test-api.ts';

type Owned = {
  readonly promisedDay: string;
  readonly lateUntil: string | null;
  readonly endsAt: string;
  readonly bookings: readonly { readonly end: string }[];
};

/** Tees with a soft hand, which only one method has. */
const tees = (rig: TestApi, count: number, rush = false): SlipInput =>
  rig.slip((slip) => {
    slip.lines[0]!.finish = 'soft-hand';
    slip.lines[0]!.counts[0]!.count = count;
    Object.assign(slip, { rush });
  });
const owned = async (rig: TestApi, number: string): Promise<Owned> =>
  (await (await rig.own(`/orders/${number}`)).json()) as Owned;
/** The day on which the last booked step ends, in the shop's time zone. */
const lastDay = ({ bookings }: Owned): string =>
  new Date(Math.max(...bookings.map(({ end }) => Date.parse(end)))).toLocaleDateString('sv-SE', {
    timeZone: (demoCatalog as CatalogInput).shop.timeZone,
  });

/** An order so large that its work reaches into another day. */
async function longOrder(rig: TestApi): Promise<{ readonly slip: SlipInput; readonly quote: QuoteAnswer }> {
  const first = (await rig.quote(tees(rig, 2))).promise.day;
  for (let count = 60; count < 2000; count += 60) {
    const slip = tees(rig, count);
    const quote = await rig.quote(slip);
    if (quote.promise.day > first) return { slip, quote };
  }
  throw new Error('no order is long enough');
}

onBothStores('a rush order', (kind) => {
  it('goes before an order with slack, which still keeps its day', async () => {
    const rig = await openTestApi({ kind });
    try {
      const long = await longOrder(rig);
      const waiting = await placed(await rig.order(long.slip, 'long'));
      const before = await owned(rig, waiting.number);

      // The smallest order that no longer fits on the first day.
      let count = 10;
      let plain = await rig.quote(tees(rig, count));
      while (plain.promise.day < long.quote.promise.day) {
        count += 10;
        plain = await rig.quote(tees(rig, count));
      }
      const offer = plain.instead.find(({ change }) => change.kind === 'rush')!;
      const rushed = await rig.quote(tees(rig, count, true));
      expect(rushed.promise.day < plain.promise.day).toBe(true);
      expect(offer).toMatchObject({ possible: true, day: rushed.promise.day, total: rushed.total });
      expect(rushed.fees.map(({ code }) => code)).toContain('rush');
      // A quote moves nothing.
      expect(await owned(rig, waiting.number)).toEqual(before);

      const quick = await placed(await rig.order(tees(rig, count, true), 'rush'));
      expect(quick.status.promisedDay).toBe(rushed.promise.day);
      const after = await owned(rig, waiting.number);
      expect(after.bookings).not.toEqual(before.bookings);
      expect(after).toMatchObject({ promisedDay: long.quote.promise.day, lateUntil: null });
      expect(lastDay(after) <= after.promisedDay).toBe(true);
      const first = await owned(rig, quick.number);
      expect(first).toMatchObject({ promisedDay: rushed.promise.day, lateUntil: null });
      expect(lastDay(first) <= first.promisedDay).toBe(true);
    } finally {
      await rig.close();
    }
  });

  it('is not promised a day that another order would miss', async () => {
    const rig = await openTestApi({ kind });
    try {
      const long = await longOrder(rig);
      await placed(await rig.order(long.slip, 'long'));
      // As long again: it cannot go first without taking the other's day.
      const rushed = await rig.quote({ ...long.slip, rush: true });
      const plain = await rig.quote(long.slip);
      expect(rushed.promise.day >= long.quote.promise.day).toBe(true);
      expect(rushed.promise.day <= plain.promise.day).toBe(true);
      const quick = await placed(await rig.order({ ...long.slip, rush: true }, 'rush'));
      expect(quick.status.promisedDay).toBe(rushed.promise.day);
      const { orders } = (await (await rig.own('/orders')).json()) as { orders: { number: string }[] };
      expect(orders).toHaveLength(2);
      for (const { number } of orders) {
        const order = await owned(rig, number);
        expect(order.lateUntil).toBeNull();
        expect(lastDay(order) <= order.promisedDay, number).toBe(true);
      }
    } finally {
      await rig.close();
    }
  });
});
