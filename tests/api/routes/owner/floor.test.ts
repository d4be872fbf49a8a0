import { afterEach, beforeEach, expect, it } from 'vitest';
import {
  BASE,
  MONDAY_MORNING,
  onBothStores,
  openTestApi,
  placed,
  problemOf,
  SHOP,
  type TestApi,
} from '../../test-api.ts';

type Booking = {
  order: string;
  chain: number;
  step: number;
  station: string;
  unit: number;
  start: string;
  end: string;
  state: string;
  key: string;
};

onBothStores('the floor', (kind) => {
  let rig: TestApi;
  beforeEach(async () => {
    rig = await openTestApi({ kind });
  });
  afterEach(() => rig.close());

  const report = (...events: unknown[]) =>
    rig.own('/floor-events', { method: 'POST', body: JSON.stringify({ events }) });
  const bookingsOf = async (number: string) =>
    ((await (await rig.own(`/orders/${number}`)).json()) as { bookings: Booking[] }).bookings;
  const methodOf = async (number: string) =>
    (
      (await (await rig.own(`/orders/${number}`)).json()) as {
        quote: { lines: { placements: { method: { id: string } }[] }[] };
      }
    ).quote.lines[0]!.placements[0]!.method.id;
  const statusOf = async (order: { number: string; statusKey: string }) =>
    (await (await rig.fetch(`${BASE}/orders/${order.number}?key=${order.statusKey}`)).json()) as Record<
      string,
      unknown
    >;

  it('starts and finishes steps', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const [first] = await bookingsOf(order.number);
    rig.clock.ms = Date.parse(first!.start);
    const { chain, step } = first!;
    const begun = await report({ kind: 'started', order: order.number, chain, step });
    expect(begun.status).toBe(200);
    expect((await bookingsOf(order.number))[0]!.state).toBe('started');
    expect((await statusOf(order))['state']).toBe('in-work');
    rig.clock.ms = Date.parse(first!.end);
    await report({ kind: 'finished', order: order.number, chain, step });
    const done = (await bookingsOf(order.number)).find((each) => each.chain === chain && each.step === step);
    expect(done).toMatchObject({ state: 'finished', end: first!.end });
  });

  it('moves work off a station that is down, flags late orders, and affects the next quote', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const bookings = await bookingsOf(order.number);
    const { station } = bookings[0]!;
    const change = await report({
      kind: 'down',
      station,
      to: new Date(MONDAY_MORNING + 3 * 86_400_000).toISOString(),
    });
    const told = (await change.json()) as {
      moved: string[];
      late: { order: string; now: string; cause: unknown }[];
    };
    expect(told.moved).toEqual([order.number]);
    expect(told.late).toMatchObject([
      { order: order.number, promised: '2026-03-02', cause: { kind: 'down', station } },
    ]);
    const status = await statusOf(order);
    expect(status).toMatchObject({
      promisedDay: '2026-03-02',
      late: { until: told.late[0]!.now, because: 'equipment' },
    });
    expect(JSON.stringify(status)).not.toContain(station);
    for (const booking of (await bookingsOf(order.number)).filter((each) => each.station === station))
      expect(Date.parse(booking.start)).toBeGreaterThanOrEqual(MONDAY_MORNING + 3 * 86_400_000);
    const method = await methodOf(order.number);
    const next = await rig.quote(
      rig.slip((s) => {
        s.lines[0]!.method = method;
      }),
    );
    expect(next.promise.day >= '2026-03-05').toBe(true);
  });

  it('lets late orders catch up once a station works again early, and affects the next quote', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const before = await bookingsOf(order.number);
    const { station } = before[0]!;
    const quoteOnIt = async () => {
      const method = await methodOf(order.number);
      return (
        await rig.quote(
          rig.slip((s) => {
            s.lines[0]!.method = method;
          }),
        )
      ).promise.day;
    };
    const to = new Date(MONDAY_MORNING + 3 * 86_400_000).toISOString();
    await report({ kind: 'down', station, to });
    expect((await statusOf(order))['late']).toBeDefined();
    expect((await quoteOnIt()) >= '2026-03-05').toBe(true);
    rig.clock.ms += 30 * 60_000;
    const change = await report({ kind: 'up', station });
    expect(await change.json()).toMatchObject({ moved: [order.number], late: [] });
    expect((await statusOf(order))['late']).toBeUndefined();
    for (const { start } of await bookingsOf(order.number))
      expect(start < '2026-03-03' && Date.parse(start) >= rig.clock.ms).toBe(true);
    expect(await quoteOnIt()).toBe('2026-03-02');
    expect(await rig.store.floor.outages(SHOP, rig.clock.ms / 1000)).toEqual([]);
  });

  it('reports one of several units as working again', async () => {
    const units = async () =>
      (await rig.store.floor.outages(SHOP, rig.clock.ms / 1000)).map(({ station, unit }) => [station, unit]);
    const to = new Date(MONDAY_MORNING + 86_400_000).toISOString();
    await report({ kind: 'down', station: 'flat-press', to });
    expect(await units()).toEqual([['flat-press', null]]);
    rig.clock.ms += 60_000;
    await report({ kind: 'up', station: 'flat-press', unit: 0 });
    expect(await units()).toEqual([['flat-press', 1]]);
    await report({ kind: 'up', station: 'flat-press' });
    expect(await units()).toEqual([]);
  });

  it('has spoiled pieces made again', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const before = await bookingsOf(order.number);
    const { chain, step } = before[0]!;
    const change = await report({
      kind: 'spoiled',
      order: order.number,
      chain,
      step,
      pieces: 1,
      ofPieces: 3,
    });
    expect(change.status).toBe(200);
    const after = await bookingsOf(order.number);
    expect(after.length).toBeGreaterThan(before.length);
    expect(Math.max(...after.map((each) => each.chain))).toBeGreaterThan(
      Math.max(...before.map((each) => each.chain)),
    );
  });

  it('applies all reports or none, and names the impossible ones', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const before = await rig.store.shops.head(SHOP);
    const { chain, step } = (await bookingsOf(order.number))[0]!;
    const problem = await problemOf(
      await report(
        { kind: 'started', order: order.number, chain, step },
        { kind: 'started', order: '9999', chain, step },
        { kind: 'finished', order: order.number, chain: 77, step },
        { kind: 'down', station: 'no-such', to: '2026-03-09T00:00:00Z' },
        { kind: 'up', station: 'flat-press', unit: 2 },
        { kind: 'started', order: order.number, chain, step, at: '2062-03-02T15:00:00Z' },
        { kind: 'finished', order: order.number, chain, step, at: '1970-01-01T00:00:00Z' },
        { kind: 'started', order: order.number, chain, step, unit: 9 },
        { kind: 'spoiled', order: order.number, chain, step, pieces: 4, ofPieces: 3 },
      ),
    );
    expect(problem).toMatchObject({ status: 400, code: 'invalid-input' });
    expect(problem.faults.map(({ at }) => at)).toEqual([1, 2, 3, 4, 5, 6, 7, 8].map((n) => `events.${n}`));
    expect(problem.faults[4]!.message).toContain('2062-03-02T15:00:00.000Z');
    expect(await rig.store.shops.head(SHOP)).toEqual(before);
    expect((await statusOf(order))['state']).toBe('accepted');
  });

  it('frees the time of a cancelled order, removes a packed one from the plan, and moves no state backwards', async () => {
    const order = await placed(await rig.order(rig.slip()));
    const second = await placed(await rig.order(rig.slip()));
    const patch = (number: string, state: string) =>
      rig.own(`/orders/${number}`, { method: 'PATCH', body: JSON.stringify({ state }) });
    const planned = async () => {
      const { stations } = (await (await rig.own('/plan')).json()) as {
        stations: { days: { work: { job: string }[] }[] }[];
      };
      return new Set(stations.flatMap(({ days }) => days.flatMap(({ work }) => work.map(({ job }) => job))));
    };
    expect(await planned()).toEqual(new Set([order.number, second.number]));
    expect((await patch(order.number, 'cancelled')).status).toBe(200);
    expect(await planned()).toEqual(new Set([second.number]));
    const back = await problemOf(await patch(order.number, 'accepted'));
    expect(back).toMatchObject({
      status: 409,
      code: 'state-not-allowed',
      body: { state: 'cancelled', allowed: [] },
    });
    expect((await patch(second.number, 'packed')).status).toBe(200);
    expect((await patch(second.number, 'handed-over')).status).toBe(200);
    expect(await planned()).toEqual(new Set());
    expect((await patch('4711', 'packed')).status).toBe(404);
  });
});
