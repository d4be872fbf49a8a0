import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  applyEvents,
  type Booking,
  buildPlan,
  commit,
  type DeliveryRule,
  type EpochS,
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
import {
  anyJob,
  inputFaults,
  MINUTE_S,
  MINUTES,
  MinuteLoad,
  promisedOrders,
  type SmallShop,
  smallShop,
} from '../small-plans.ts';

const PICK_UP: DeliveryRule = { kind: 'pick-up', workingDays: 0, handOverBy: null };
const MONDAY_8 = at('2026-03-02T08:00:00Z');

const shop = shopOf({ crew: { count: 9 } });

function orderedIn(shopThere: ShopHours, ...jobs: [Job, string?][]): PlannedOrder[] {
  let plan: Plan = buildPlan(shopThere, []);
  return jobs.map(([job, day]) => {
    const placed = insert(plan, job, MONDAY_8);
    if (placed.kind === 'refused') throw new Error(JSON.stringify(placed.reasons));
    plan = commit(plan, placed.bookings);
    return {
      job,
      bookings: placed.bookings,
      notBefore: MONDAY_8,
      promised: {
        day: day ?? promiseDay(shopThere, placed.endsAt, 0, PICK_UP)!.day,
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

describe('floor truth, worked by hand', () => {
  it('nothing reported, nothing moves', () => {
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

  it('a step that takes longer pushes what follows on its station and in its order, and nothing else', () => {
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

  it('a begun step is not over before now', () => {
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

  it('a step begun late ends late, an order that misses its day is told the new one and why', () => {
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

  it('a station that is down stops what has begun on it, and the rest goes to the other one', () => {
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

  it('spoiled pieces go through all steps again, and who waits for them waits', () => {
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
    // three more prints once the blanks are there: set-up until 11:00, printed until 11:30, pressed until 11:32,
    // oven from then on with its lunch: 28 minutes before noon, 22 after one
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
    // and once more the same report is not forgotten: the job has grown, its bookings stand
    expect(applyEvents(three, outcome.orders, [], { now: at('2026-03-02T09:00:00Z') }).moved).toEqual([]);
  });

  it('what was not begun in time moves, if the floor reports everything', () => {
    const orders = orderedIn(shop, [chain('a', work('printer', 60), work('press', 60))]);
    const now = at('2026-03-02T08:30:00Z');
    expect(applyEvents(shop, orders, [], { now }).moved).toEqual([]);
    const outcome = applyEvents(shop, orders, [], { now, unreported: 'assume-not-started' });
    expect(ends(outcome)).toEqual({ a: ['on printer 02T08:30/02T09:30', 'on press 02T09:30/02T10:30'] });
  });

  it('an order in danger uses the slack of others before it is late', () => {
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
    // only four hours are left before easy on Wednesday: around it, tight would end on Thursday
    const saved = applyEvents(shop, orders, report, { now });
    expect(saved.late.map((late) => late.order)).toEqual(['a']);
    expect(ends(saved)['tight']).toEqual(['on printer 03T13:00/04T12:00']);
    expect(ends(saved)['easy']).toEqual(['on printer 04T13:00/05T12:00']);
  });

  it('work that finds no room within the days known is told so, not dropped in silence', () => {
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

  it('work that found no room finds it once there is some', () => {
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
    // The hours without the outage: the printer works again.
    const again = applyEvents(small, stuck.orders, [], { now: at('2026-03-02T07:30:00Z') });
    expect(ends(again)).toEqual({ a: ['on printer 02T08:00/03T16:00'] });
    expect(again.late).toEqual([]);
  });

  it('what is late takes time that comes free, and nothing else moves for it', () => {
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

  it('names reports about what does not exist', () => {
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

/** The small shop with minutes out of use. */
function withDown(small: SmallShop, outcome: FloorOutcome, events: readonly FloorEvent[]): SmallShop {
  const stationOpen = new Map(
    [...small.stationOpen].map(([id, units]) => [
      id,
      units.map((open, unit) =>
        open.map(
          (isOpen, minute) =>
            isOpen &&
            !events.some(
              (event) =>
                event.kind === 'down' &&
                event.station === id &&
                (event.unit === undefined || event.unit === unit) &&
                event.from <= minute * MINUTE_S &&
                minute * MINUTE_S < event.to,
            ),
        ),
      ),
    ]),
  );
  return { ...small, shop: outcome.shop, stationOpen };
}

describe('whatever the floor reports', () => {
  const minutes = fc.nat({ max: MINUTES });
  const reports = fc.record({
    now: minutes,
    down: fc.option(
      fc.record({
        station: fc.constantFrom('s0', 's1'),
        from: minutes,
        length: fc.integer({ min: 1, max: 15 }),
        unit: fc.option(fc.constant(0), { nil: undefined }),
      }),
    ),
    /** for steps that should have begun by now: 0 not reported, 1 begun, 2 done, else done that much later. */
    progress: fc.array(fc.nat({ max: 6 }), { maxLength: 8 }),
    spoiled: fc.option(fc.record({ order: fc.nat({ max: 4 }), pieces: fc.integer({ min: 1, max: 5 }) })),
    unreported: fc.constantFrom('assume-on-time' as const, 'assume-not-started' as const),
  });

  it('the plan holds together, late orders are flagged, and nothing else breaks its promise', () => {
    let moved = 0;
    let late = 0;
    let countable = 0;
    fc.assert(
      fc.property(
        smallShop(),
        fc.array(fc.tuple(anyJob(true), fc.nat({ max: 15 }), fc.nat({ max: 20 })), {
          minLength: 1,
          maxLength: 5,
        }),
        reports,
        (small, jobs, report) => {
          const { orders } = promisedOrders(small.shop, jobs);
          const now: EpochS = report.now * MINUTE_S;
          const begun = orders
            .flatMap((order) => order.bookings)
            .filter((booking) => booking.start < now)
            .sort((a, b) => a.start - b.start);
          const events: FloorEvent[] = [];
          begun.forEach((booking: Booking, i) => {
            const progress = report.progress[i] ?? 0;
            const { job, chain: c, step } = booking;
            if (progress === 0) return;
            events.push({ kind: 'started', job, chain: c, step, at: booking.start });
            const done = booking.end + (progress - 2) * MINUTE_S;
            if (progress > 1 && done <= now) events.push({ kind: 'finished', job, chain: c, step, at: done });
          });
          if (report.down) {
            const from = report.down.from * MINUTE_S;
            events.push({
              kind: 'down',
              station: report.down.station,
              ...(report.down.unit === undefined ? {} : { unit: 0 }),
              from,
              to: from + report.down.length * MINUTE_S,
            });
          }
          const spoiledIn = orders[report.spoiled?.order ?? -1];
          if (spoiledIn && report.spoiled) {
            events.push({
              kind: 'spoiled',
              job: spoiledIn.job.id,
              chain: 0,
              step: 0,
              pieces: report.spoiled.pieces,
              ofPieces: 5,
              at: now,
            });
          }
          const outcome = applyEvents(small.shop, orders, events, { now, unreported: report.unreported });
          moved += outcome.moved.length;
          late += outcome.late.length;

          const after = withDown(small, outcome, events);
          const all = outcome.orders.flatMap((order) => order.bookings);
          // the floor may do two things at once that no plan would; the plan adds nothing to that
          const facts = all.filter((booking) => booking.state !== 'booked');
          const minutesAfter = Math.max(0, ...all.map((booking) => booking.end / MINUTE_S));
          // batches of a step that took longer are taken to be spread evenly, so some fall on seconds
          const onMinutes = all.every((booking) =>
            [booking.heldFrom, booking.start, booking.runStart, booking.end].every(
              (at) => at % MINUTE_S === 0,
            ),
          );
          if (onMinutes) countable++;
          if (onMinutes && minutesAfter <= MINUTES && new MinuteLoad(after, facts).faults.length === 0) {
            expect(new MinuteLoad(after, all).faults).toEqual([]);
          }
          expect(new Set(outcome.plan.schedules.flatMap((track) => [...track.bookings()]))).toEqual(
            new Set(all),
          );
          const told = new Map(outcome.late.map((each) => [each.order, each]));
          for (const order of outcome.orders) {
            const id = order.job.id;
            const before = orders.find((each) => each.job.id === id)!;
            const stuck = told.get(id)?.endsAt === null;
            if (!stuck && onMinutes) expect(inputFaults(after, order.job, order.bookings)).toEqual([]);
            // what is kept is kept by the bookings themselves, waits after them aside
            if (!told.has(id)) {
              const last = Math.max(...order.bookings.map((booking) => booking.end));
              expect(promiseDay(outcome.shop, last, 0, order.promised.rule)?.day).toBe('1970-01-01');
            }
            for (const booking of order.bookings) {
              const was = before.bookings.find(
                (each) => each.start === booking.start && each.step === booking.step,
              );
              if (!was && booking.state === 'booked') expect(booking.runStart).toBeGreaterThanOrEqual(now);
            }
          }
          for (const each of outcome.late) {
            expect(each.now === null || each.now > each.promised).toBe(true);
            expect(each.cause).not.toBeNull();
          }
        },
      ),
      { numRuns: 800 },
    );
    expect(moved).toBeGreaterThan(200);
    expect(late).toBeGreaterThan(50);
    expect(countable).toBeGreaterThan(600);
  });
});
