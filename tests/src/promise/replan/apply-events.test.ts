import { describe, expect, it } from 'vitest';
import {
  applyEvents,
  buildPlan,
  commit,
  type DeliveryRule,
  type FloorEvent,
  type FloorOutcome,
  insert,
  type Job,
  type Plan,
  type PlannedOrder,
  promiseDay,
  type ShopHours,
} from '../../../../src/promise/index.ts';
import { at, chain, iso, shopOf, work } from '../shops.ts';

const PICK_UP: DeliveryRule = { kind: 'pick-up', workingDays: 0, handOverBy: null };
const MONDAY_8 = at('2026-03-02T08:00:00Z');

const shop = shopOf({ crew: { count: 9 } });

function orderedIn(itsShop: ShopHours, ...jobs: [Job, string?][]): PlannedOrder[] {
  let plan: Plan = buildPlan(itsShop, []);
  return jobs.map(([job, day]) => {
    const placed = insert(plan, job, MONDAY_8);
    if (placed.kind === 'refused') throw new Error(JSON.stringify(placed.reasons));
    plan = commit(plan, placed.bookings);
    return {
      job,
      bookings: placed.bookings,
      notBefore: MONDAY_8,
      promised: {
        day: day ?? promiseDay(itsShop, placed.endsAt, 0, PICK_UP)!.day,
        packingS: 0,
        rule: PICK_UP,
      },
    };
  });
}

function ends(outcome: FloorOutcome): Record<string, string[]> {
  return Object.fromEntries(
    outcome.orders.map((order) => [
      order.job.id,
      [...order.bookings]
        .sort((a, b) => a.start - b.start)
        .map(
          (booking) => `${booking.key} ${iso(booking.start).slice(8, 16)}/${iso(booking.end).slice(8, 16)}`,
        ),
    ]),
  );
}

describe('floor events, worked by hand', () => {
  it('without reports nothing moves', () => {
    const orders = orderedIn(
      shop,
      [chain('a', work('printer', 60), work('press', 60))],
      [chain('b', work('press', 600))],
    );
    for (const now of ['2026-03-02T08:00:00Z', '2026-03-02T11:00:00Z', '2026-03-05T00:00:00Z']) {
      const outcome = applyEvents(shop, orders, [], { now: at(now) });
      expect(outcome.moved).toEqual([]);
      expect(outcome.late).toEqual([]);
    }
  });

  it('a step that takes longer delays only what follows on its station and in its order', () => {
    const orders = orderedIn(
      shop,
      [chain('a', work('printer', 60), work('press', 60))],
      [chain('b', work('printer', 60))],
      [chain('c', work('press', 30, { notBefore: at('2026-03-02T14:00:00Z') }))],
    );
    const events: FloorEvent[] = [
      { kind: 'started', job: 'a', chain: 0, step: 0, at: MONDAY_8 },
      { kind: 'finished', job: 'a', chain: 0, step: 0, at: at('2026-03-02T09:40:00Z') },
    ];
    const outcome = applyEvents(shop, orders, events, { now: at('2026-03-02T09:40:00Z') });
    expect(ends(outcome)).toEqual({
      a: ['on printer 02T08:00/02T09:40', 'on press 02T09:40/02T10:40'],
      b: ['on printer 02T09:40/02T10:40'],
      c: ['on press 02T14:00/02T14:30'],
    });
    expect(outcome.moved.map((moved) => moved.order)).toEqual(['a', 'b']);
    expect(outcome.late).toEqual([]);
  });

  it('a started step does not end before now', () => {
    const orders = orderedIn(shop, [chain('a', work('printer', 60))], [chain('b', work('printer', 60))]);
    const outcome = applyEvents(
      shop,
      orders,
      [{ kind: 'started', job: 'a', chain: 0, step: 0, at: MONDAY_8 }],
      {
        now: at('2026-03-02T10:30:00Z'),
      },
    );
    expect(ends(outcome)).toEqual({
      a: ['on printer 02T08:00/02T10:30'],
      b: ['on printer 02T10:30/02T11:30'],
    });
  });

  it('a step started late ends late, and orders that miss their day are reported with the new day and the cause', () => {
    const orders = orderedIn(
      shop,
      [chain('a', work('printer', 8 * 60))],
      [chain('b', work('printer', 8 * 60))],
    );
    const outcome = applyEvents(
      shop,
      orders,
      [{ kind: 'started', job: 'a', chain: 0, step: 0, at: at('2026-03-02T10:00:00Z') }],
      { now: at('2026-03-02T10:00:00Z') },
    );
    expect(ends(outcome)).toEqual({
      a: ['on printer 02T10:00/03T10:00'],
      b: ['on printer 03T10:00/04T10:00'],
    });
    const cause = { kind: 'late-step', job: 'a', step: 'on printer', station: 'printer' };
    expect(outcome.late).toEqual([
      { order: 'a', promised: '2026-03-02', now: '2026-03-03', endsAt: at('2026-03-03T10:00:00Z'), cause },
      { order: 'b', promised: '2026-03-03', now: '2026-03-04', endsAt: at('2026-03-04T10:00:00Z'), cause },
    ]);
  });

  it('an outage interrupts the step on its unit, and later work goes to the other unit', () => {
    const two = shopOf({ stations: [{ id: 'press', count: 2 }], crew: { count: 9 } });
    const orders = orderedIn(
      two,
      [chain('a', work('press', 120))],
      [chain('b', work('press', 240))],
      [chain('c', work('press', 60))],
    );
    expect(orders[2]!.bookings[0]).toMatchObject({ unit: 0, start: at('2026-03-02T10:00:00Z') });
    const outcome = applyEvents(
      two,
      orders,
      [
        { kind: 'started', job: 'a', chain: 0, step: 0, at: MONDAY_8 },
        {
          kind: 'down',
          station: 'press',
          unit: 0,
          from: at('2026-03-02T09:00:00Z'),
          to: at('2026-03-03T09:00:00Z'),
        },
      ],
      { now: at('2026-03-02T09:00:00Z') },
    );
    expect(ends(outcome)).toEqual({
      a: ['on press 02T08:00/03T10:00'],
      b: ['on press 02T08:00/02T12:00'],
      c: ['on press 02T13:00/02T14:00'],
    });
    expect(outcome.orders[2]!.bookings[0]!.unit).toBe(1);
    expect(outcome.late).toEqual([
      {
        order: 'a',
        promised: '2026-03-02',
        now: '2026-03-03',
        endsAt: at('2026-03-03T10:00:00Z'),
        cause: { kind: 'down', station: 'press', unit: 0 },
      },
    ]);
    expect(outcome.shop.spec.stations[0]!.closures).toHaveLength(1);
  });

  it('spoiled pieces go through all steps again, and chains that depend on them wait', () => {
    const job: Job = {
      id: 'a',
      chains: [
        { steps: [work('printer', 10, { batches: 10, setUpS: 600 }), work('press', 2, { batches: 10 })] },
        { steps: [work('oven', 5, { batches: 10 })], after: [{ chain: 0 }] },
      ],
    };
    const three = shopOf({
      stations: ['printer', 'press', 'oven'].map((id) => ({ id, count: 1 })),
      crew: { count: 9 },
    });
    const orders = orderedIn(three, [job]);
    // set-up 10 min, prints until 09:50, presses until 09:52, oven 09:52 to 10:42
    expect(ends(applyEvents(three, orders, [], { now: MONDAY_8 }))).toEqual({
      a: ['on printer 02T08:00/02T09:50', 'on press 02T09:32/02T09:52', 'on oven 02T09:52/02T10:42'],
    });
    const outcome = applyEvents(
      three,
      orders,
      [
        {
          kind: 'spoiled',
          job: 'a',
          chain: 0,
          step: 0,
          pieces: 3,
          ofPieces: 10,
          at: at('2026-03-02T09:00:00Z'),
          againFrom: at('2026-03-02T11:00:00Z'),
        },
      ],
      { now: at('2026-03-02T09:00:00Z') },
    );
    // three more prints once the blanks arrive: set-up until 11:00, printed until 11:30, pressed until 11:32,
    // then the oven: 28 minutes before the lunch break, 22 after
    expect(ends(outcome)).toEqual({
      a: [
        'on printer 02T08:00/02T09:50',
        'on press 02T09:32/02T09:52',
        'on printer 02T10:50/02T11:30',
        'on press 02T11:26/02T11:32',
        'on oven 02T11:32/02T13:22',
      ],
    });
    expect(outcome.orders[0]!.job.chains).toHaveLength(3);
    // a second run without the report keeps the remake, which is now part of the job
    expect(applyEvents(three, outcome.orders, [], { now: at('2026-03-02T09:00:00Z') }).moved).toEqual([]);
  });

  it('a step not started in time moves if the floor reports everything', () => {
    const orders = orderedIn(shop, [chain('a', work('printer', 60), work('press', 60))]);
    const now = at('2026-03-02T08:30:00Z');
    expect(applyEvents(shop, orders, [], { now }).moved).toEqual([]);
    const outcome = applyEvents(shop, orders, [], { now, unreported: 'assume-not-started' });
    expect(ends(outcome)).toEqual({ a: ['on printer 02T08:30/02T09:30', 'on press 02T09:30/02T10:30'] });
  });

  it('an order at risk uses the slack of others before it is late', () => {
    const orders = orderedIn(
      shop,
      [chain('a', work('printer', 8 * 60))],
      [chain('tight', work('printer', 8 * 60)), '2026-03-04'],
      [chain('easy', work('printer', 8 * 60)), '2026-03-06'],
    );
    const report: FloorEvent[] = [
      { kind: 'finished', job: 'a', chain: 0, step: 0, at: at('2026-03-03T12:00:00Z') },
    ];
    const now = at('2026-03-03T12:00:00Z');
    // only four hours are free before easy on Wednesday; placed around it, tight would end on Thursday
    const saved = applyEvents(shop, orders, report, { now });
    expect(saved.late.map((late) => late.order)).toEqual(['a']);
    expect(ends(saved)['tight']).toEqual(['on printer 03T13:00/04T12:00']);
    expect(ends(saved)['easy']).toEqual(['on printer 04T13:00/05T12:00']);
  });

  it('work that finds no room within the horizon is reported late', () => {
    const small = shopOf({ crew: { count: 9 } }, '2026-03-02', 2);
    const orders = orderedIn(small, [chain('a', work('printer', 15 * 60))]);
    const outcome = applyEvents(
      small,
      orders,
      [{ kind: 'down', station: 'printer', from: MONDAY_8, to: at('2026-03-03T12:00:00Z') }],
      { now: at('2026-03-02T07:00:00Z') },
    );
    expect(outcome.late).toEqual([
      {
        order: 'a',
        promised: '2026-03-03',
        now: null,
        endsAt: null,
        cause: { kind: 'down', station: 'printer', unit: null },
      },
    ]);
    expect(outcome.moved[0]).toMatchObject({ order: 'a', after: [], endsAt: null });
  });

  it('work that found no room is placed once there is room', () => {
    const small = shopOf({ crew: { count: 9 } }, '2026-03-02', 2);
    const orders = orderedIn(small, [chain('a', work('printer', 15 * 60))]);
    const down: FloorEvent = {
      kind: 'down',
      station: 'printer',
      from: MONDAY_8,
      to: at('2026-03-03T12:00:00Z'),
    };
    const stuck = applyEvents(small, orders, [down], { now: at('2026-03-02T07:00:00Z') });
    expect(stuck.orders[0]!.bookings).toEqual([]);
    // the hours without the outage: the printer works again
    const again = applyEvents(small, stuck.orders, [], { now: at('2026-03-02T07:30:00Z') });
    expect(ends(again)).toEqual({ a: ['on printer 02T08:00/03T16:00'] });
    expect(again.late).toEqual([]);
  });

  it('a late order moves up into free time, and nothing else moves for it', () => {
    const orders = orderedIn(
      shop,
      [chain('a', work('printer', 4 * 60))],
      [chain('b', work('printer', 4 * 60))],
      [chain('c', work('press', 60, { notBefore: at('2026-03-03T08:00:00Z') }))],
    );
    const down: FloorEvent = {
      kind: 'down',
      station: 'printer',
      from: at('2026-03-02T08:00:00Z'),
      to: at('2026-03-04T08:00:00Z'),
    };
    const late = applyEvents(shop, orders, [down], { now: MONDAY_8, unreported: 'assume-not-started' });
    expect(late.late.map(({ order, now }) => [order, now])).toEqual([
      ['a', '2026-03-04'],
      ['b', '2026-03-04'],
    ]);
    const again = applyEvents(shop, late.orders, [], { now: at('2026-03-02T10:00:00Z') });
    expect(ends(again)).toEqual({
      a: ['on printer 02T10:00/02T15:00'],
      b: ['on printer 02T15:00/03T10:00'],
      c: ['on press 03T08:00/03T09:00'],
    });
    expect(again.late.map(({ order, now }) => [order, now])).toEqual([['b', '2026-03-03']]);
  });

  it('throws on reports about what does not exist', () => {
    const orders = orderedIn(shop, [chain('a', work('printer', 60))]);
    const report = (event: FloorEvent): (() => unknown) => {
      return () => applyEvents(shop, orders, [event], { now: MONDAY_8 });
    };
    expect(report({ kind: 'started', job: 'z', chain: 0, step: 0, at: 0 })).toThrow(
      /job 'z', which is not among/,
    );
    expect(report({ kind: 'finished', job: 'a', chain: 0, step: 5, at: 0 })).toThrow(
      /chains\[0\]\.steps\[5\] of job 'a'/,
    );
    expect(report({ kind: 'started', job: 'a', chain: 0, step: 0, unit: 4, at: 0 })).toThrow(
      /unit 4 of station 'printer'/,
    );
    expect(report({ kind: 'down', station: 'kiln', from: 0, to: 1 })).toThrow(/station is 'kiln'/);
    expect(report({ kind: 'spoiled', job: 'a', chain: 0, step: 0, pieces: 3, ofPieces: 2, at: 0 })).toThrow(
      /3 of 2 pieces/,
    );
  });
});
