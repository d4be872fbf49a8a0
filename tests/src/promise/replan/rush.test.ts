import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Booking,
  buildPlan,
  commit,
  type DeliveryRule,
  insert,
  type Job,
  latestEnd,
  type Plan,
  type PlannedOrder,
  promiseDay,
  type Refusal,
  type Room,
  replanForRush,
  type ShopHours,
} from '../../../../src/promise/index.ts';
import { inputFaults, MinuteLoad } from '../minute-checks.ts';
import { at, chain, iso, shopOf, work } from '../shops.ts';
import { anyJob, MINUTE_S, MINUTES, promisedOrders, smallShop } from '../small-plans.ts';

const PICK_UP: DeliveryRule = { kind: 'pick-up', workingDays: 0, handOverBy: null };
const MONDAY_8 = at('2026-03-02T08:00:00Z');

/** Orders inserted one after another, each promised for the given day or else its earliest. */
function ordered(
  shop: ShopHours,
  jobs: readonly (readonly [Job, string?])[],
): { plan: Plan; orders: PlannedOrder[] } {
  let plan = buildPlan(shop, []);
  const orders = jobs.map(([job, day]): PlannedOrder => {
    const placed = insert(plan, job, MONDAY_8);
    if (placed.kind === 'refused') throw new Error(JSON.stringify(placed.reasons));
    plan = commit(plan, placed.bookings);
    const earliest = promiseDay(shop, placed.endsAt, 0, PICK_UP)!;
    return {
      job,
      bookings: placed.bookings,
      notBefore: MONDAY_8,
      promised: { day: day ?? earliest.day, packingS: 0, rule: PICK_UP },
    };
  });
  return { plan, orders };
}

function room(result: Room | Refusal): Room {
  if (result.kind === 'refused') throw new Error(JSON.stringify(result.reasons));
  return result;
}

describe('a rush', () => {
  const shop = shopOf({ stations: [{ id: 'press', count: 1 }], crew: { count: 1 } });
  const day = work('press', 8 * 60);

  it('takes the place of an order with slack, which moves and still keeps its day', () => {
    const { plan, orders } = ordered(shop, [[chain('a', day)], [chain('b', day), '2026-03-06']]);
    const rush = chain('r', work('press', 4 * 60));
    const found = room(replanForRush(plan, orders, rush, { notBefore: MONDAY_8 }));
    // a is promised for Monday and stays; b had Tuesday and has until Friday
    expect(iso(found.insertion.endsAt)).toBe('2026-03-03T12:00:00Z');
    expect(found.moved.map((moved) => [moved.order, iso(moved.endsAt!)])).toEqual([
      ['b', '2026-03-04T12:00:00Z'],
    ]);
    expect([...found.plan.schedules[0]!.bookings()].map((booking) => booking.job)).toEqual(['a', 'r', 'b']);
  });

  it('moves no order when it is due later', () => {
    const { plan, orders } = ordered(shop, [[chain('a', day), '2026-03-06']]);
    const found = room(
      replanForRush(plan, orders, chain('r', work('press', 60)), {
        notBefore: MONDAY_8,
        by: at('2026-03-03T09:00:00Z'),
      }),
    );
    expect(found.moved).toEqual([]);
    expect(iso(found.insertion.endsAt)).toBe('2026-03-03T09:00:00Z');
  });

  it('is refused, naming the orders in the way, when no promise leaves enough slack', () => {
    const { plan, orders } = ordered(shop, [[chain('a', day)], [chain('b', day), '2026-03-04']]);
    const result = replanForRush(plan, orders, chain('r', work('press', 9 * 60)), {
      notBefore: MONDAY_8,
      by: at('2026-03-03T17:00:00Z'),
    });
    expect(result).toMatchObject({ kind: 'refused', certain: false });
    expect((result as Refusal).reasons).toEqual([
      {
        code: 'ends-too-late',
        // nine hours after Monday and Tuesday
        params: { endsAt: at('2026-03-05T09:00:00Z'), by: at('2026-03-03T17:00:00Z') },
      },
      {
        code: 'slack-too-small',
        // nine hours from Tuesday 08:00 end on Wednesday at 09:00, eight more on Thursday at 09:00
        params: {
          order: 'b',
          keepBy: latestEnd(shop, orders[1]!.promised)!,
          endsAt: at('2026-03-05T09:00:00Z'),
        },
      },
    ]);
  });

  it('does not move what has begun or is frozen, or an order whose move would not help', () => {
    const { plan, orders } = ordered(shop, [
      [chain('a', day), '2026-03-06'],
      [chain('b', day), '2026-03-06'],
    ]);
    const begun = orders.map((order) =>
      order.job.id === 'a'
        ? { ...order, bookings: order.bookings.map((booking): Booking => ({ ...booking, state: 'started' })) }
        : order,
    );
    const rush = chain('r', work('press', 60));
    const found = room(replanForRush(plan, begun, rush, { notBefore: MONDAY_8 }));
    expect(found.moved.map((moved) => moved.order)).toEqual(['b']);
    const frozen = room(
      replanForRush(plan, orders, rush, { notBefore: MONDAY_8, frozenUntil: at('2026-03-04T00:00:00Z') }),
    );
    expect(frozen.moved).toEqual([]);
    expect(iso(frozen.insertion.endsAt)).toBe('2026-03-04T09:00:00Z');
  });

  it('gives a booking its full set-up when the like work before it moves away', () => {
    const like = { setUpS: 1800, like: { key: 'red', sharedSetUpS: 0 } };
    const { plan, orders } = ordered(shop, [
      [chain('a', work('press', 120, like)), '2026-03-06'],
      [chain('b', work('press', 60, like))],
    ]);
    expect(orders[1]!.bookings[0]).toMatchObject({ joined: true, setUpS: 0 });
    const found = room(replanForRush(plan, orders, chain('r', work('press', 60)), { notBefore: MONDAY_8 }));
    expect(iso(found.insertion.endsAt)).toBe('2026-03-02T09:00:00Z');
    const after = new Map(found.moved.map((moved) => [moved.order, moved.after[0]!]));
    // b still runs from 10:30 to 11:30, now with a set-up from 10:00
    expect(after.get('b')).toMatchObject({
      joined: false,
      setUpS: 1800,
      start: at('2026-03-02T10:00:00Z'),
      runStart: at('2026-03-02T10:30:00Z'),
      end: at('2026-03-02T11:30:00Z'),
    });
    // a now follows b and needs no set-up
    expect(after.get('a')).toMatchObject({ joined: true, setUpS: 0, end: at('2026-03-02T14:30:00Z') });
  });
});

describe('a rush in any plan', () => {
  it('keeps every promise, never exceeds capacity, and moves only what may be moved', () => {
    let moves = 0;
    fc.assert(
      fc.property(
        smallShop(),
        fc.array(fc.tuple(anyJob(true), fc.nat({ max: MINUTES / 2 }), fc.nat({ max: 30 })), {
          minLength: 1,
          maxLength: 5,
        }),
        anyJob(true, 'rush'),
        fc.nat({ max: 10 }),
        fc.option(fc.nat({ max: MINUTES }), { nil: undefined }),
        (small, jobs, rush, from, by) => {
          const { plan, orders } = promisedOrders(small.shop, jobs);
          const direct = insert(plan, rush, from * MINUTE_S);
          const found = replanForRush(plan, orders, rush, {
            notBefore: from * MINUTE_S,
            ...(by === undefined ? {} : { by: by * MINUTE_S }),
          });
          if (found.kind === 'refused') {
            if (by === undefined) expect(direct.kind).toBe('refused');
            return;
          }
          if (by !== undefined) expect(found.insertion.endsAt).toBeLessThanOrEqual(by * MINUTE_S);
          else if (direct.kind === 'placed') {
            expect(found.insertion.endsAt).toBeLessThanOrEqual(direct.endsAt);
          }
          moves += found.moved.length;
          const after = orders.flatMap(
            (order) => found.moved.find((moved) => moved.order === order.job.id)?.after ?? order.bookings,
          );
          const all = [...after, ...found.insertion.bookings];
          expect(new MinuteLoad(small, all).faults).toEqual([]);
          // the returned plan holds exactly these bookings
          const listed = [...found.plan.schedules].flatMap((track) => [...track.bookings()]);
          expect(new Set(listed)).toEqual(new Set(all));
          for (const moved of found.moved) {
            const order = orders.find((each) => each.job.id === moved.order)!;
            expect(promiseDay(small.shop, moved.endsAt!, 0, order.promised.rule)!.day).toBe('1970-01-01');
            expect(inputFaults(small, order.job, moved.after)).toEqual([]);
            for (const was of moved.before.filter((booking) => booking.start < from * MINUTE_S)) {
              expect(moved.after).toContainEqual(was);
            }
            // a repaired set-up may begin earlier, batches never do
            for (const booking of moved.after)
              expect(booking.runStart).toBeGreaterThanOrEqual(order.notBefore);
          }
        },
      ),
      { numRuns: 600 },
    );
    expect(moves).toBeGreaterThan(10);
  });
});
