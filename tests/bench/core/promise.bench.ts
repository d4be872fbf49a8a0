import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import {
  applyEvents,
  type Booking,
  bookingsOf,
  buildPlan,
  commit,
  compileShopHours,
  completionTime,
  insert,
  type Job,
  type Plan,
  type PlannedOrder,
  type ShopHours,
} from '../../../src/promise/index.ts';
import { type Benchmark, median, timed } from '../harness.ts';

const DAYS = 60;
const HORIZON_DAYS = 120;
const DAY_S = 86_400;

/** The minimal standard generator (Park and Miller 1988), so that every run has the same plan. */
function randomFrom(seed: number): () => number {
  let x = seed;
  return () => {
    x = (16_807 * x) % 2_147_483_647;
    return x / 2_147_483_647;
  };
}

/** A shop of twelve units and six people, or `times` as many of each. */
function shopOf(times: number): ShopHours {
  const day = [
    { from: '08:00', to: '12:00' },
    { from: '12:30', to: '17:00' },
  ];
  return compileShopHours(
    {
      calendar: {
        timeZone: 'America/Chicago',
        week: { mon: day, tue: day, wed: day, thu: day, fri: day, sat: [], sun: [] },
        closures: [],
        extraShifts: [],
        cutoff: null,
      },
      stations: [
        { id: 'prepare', count: 2 * times },
        { id: 'print', count: 4 * times },
        { id: 'press', count: 4 * times },
      ],
      crew: { count: 6 * times },
    },
    '2026-03-02',
    HORIZON_DAYS,
  );
}

/** An order of 1 to 22 pieces through three stations with drying between; `size` stretches its times. */
function jobOf(id: string, random: () => number, size: number): Job {
  const batches = 1 + Math.floor(random() * 22);
  const work = { kind: 'work' as const, batches, setUpCrewShare: 1 };
  return {
    id,
    chains: [
      {
        steps: [
          {
            ...work,
            key: 'prepare',
            station: 'prepare',
            setUpS: 60 * size,
            batchS: 25 * size,
            crewShare: 0.5,
          },
          { kind: 'wait', key: 'dry', waitS: 600 },
          {
            ...work,
            key: 'print',
            station: 'print',
            setUpS: 120 * size,
            batchS: 100 * size,
            crewShare: 0.35,
          },
          { ...work, key: 'cure', station: 'press', setUpS: 30 * size, batchS: 60 * size, crewShare: 0.5 },
        ],
      },
    ],
  };
}

/** Bookings of orders that arrived evenly over sixty days and were inserted one by one. */
function fill(shop: ShopHours, count: number, size: number): PlannedOrder[] {
  const random = randomFrom(42);
  const orders: PlannedOrder[] = [];
  let plan = buildPlan(shop, []);
  const jobs = Math.ceil(count / 3);
  for (let i = 0; i < jobs; i++) {
    const notBefore = shop.from + Math.floor((i / jobs) * DAYS * DAY_S);
    const job = jobOf(`order-${i}`, random, size);
    const placed = insert(plan, job, notBefore);
    if (placed.kind === 'refused') throw new Error(`the plan was full after ${i} orders`);
    plan = commit(plan, placed.bookings);
    const promised = {
      day: '2026-12-31',
      packingS: 0,
      rule: { kind: 'pick-up' as const, workingDays: 0, handOverBy: null },
    };
    orders.push({ job, bookings: placed.bookings, notBefore, promised });
  }
  return orders;
}

function bookingsIn(orders: readonly PlannedOrder[]): Booking[] {
  return orders.flatMap((order) => order.bookings);
}

/** The median, in ms, of promising each of 300 new orders by itself; half arrive today, half on any day. */
function promiseMs(plan: Plan, promise: (plan: Plan, job: Job, notBefore: number) => unknown): number {
  const random = randomFrom(7);
  const times = Array.from({ length: 300 }, (_, i) => {
    const job = jobOf(`new-${i}`, random, 1);
    const later = Math.floor(random() * (DAYS - 5) * DAY_S);
    const notBefore = plan.shop.from + 8 * 3600 + (i % 2 === 0 ? 0 : later);
    const start = performance.now();
    promise(plan, job, notBefore);
    return performance.now() - start;
  });
  return median(times);
}

/** Bytes that the result of `make` holds on the heap and in typed arrays. */
async function bytesOf(make: () => unknown): Promise<number> {
  setFlagsFromString('--expose-gc');
  const collect = runInNewContext('gc') as () => void;
  const used = async (): Promise<number> => {
    // Buffers are released in a later turn than the objects that held them.
    for (let i = 0; i < 4; i++) {
      collect();
      await new Promise((resolve) => setImmediate(resolve));
    }
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return heapUsed + arrayBuffers;
  };
  const before = await used();
  const made = make();
  const bytes = (await used()) - before;
  if (made === undefined) throw new Error('nothing was made');
  return Math.max(1, bytes);
}

function promiseAt10k(): Benchmark {
  let plan: Plan;
  let empty: Plan;
  return {
    name: 'promise-10000-bookings',
    unit: 'ms per new order',
    goal: { valueAtMost: 2 },
    setUp() {
      const shop = shopOf(1);
      plan = buildPlan(shop, bookingsIn(fill(shop, 10_000, 1)));
      empty = buildPlan(shop, []);
    },
    subject: () => promiseMs(plan, insert),
    // An empty plan of the same shop.
    baseline: () => promiseMs(empty, insert),
  };
}

/** Ten times the bookings: orders a tenth as large in the same shop, or a shop ten times as large. */
function promiseAt100k(name: string, times: number, size: number): Benchmark {
  let many: Plan;
  let few: Plan;
  return {
    name,
    unit: 'ms per new order',
    goal: { ratioAtMost: 3 },
    setUp() {
      const shop = shopOf(1);
      few = buildPlan(shop, bookingsIn(fill(shop, 10_000, 1)));
      const big = shopOf(times);
      many = buildPlan(big, bookingsIn(fill(big, 100_000, size)));
    },
    subject: () => promiseMs(many, insert),
    baseline: () => promiseMs(few, insert),
  };
}

function quickAgainstInsert(): Benchmark {
  let plan: Plan;
  return {
    name: 'promise-quick',
    unit: 'ms per new order',
    goal: { ratioAtMost: 1.1 },
    setUp() {
      const shop = shopOf(1);
      plan = buildPlan(shop, bookingsIn(fill(shop, 10_000, 1)));
    },
    subject: () => promiseMs(plan, completionTime),
    baseline: () => promiseMs(plan, insert),
  };
}

function building(): Benchmark {
  let shop: ShopHours;
  let bookings: Booking[];
  return {
    name: 'promise-build-plan',
    unit: 'ms',
    goal: { ratioAtMost: 40, growthAtMost: 1.2 },
    grow: [1, 3, 10],
    setUp(scale) {
      shop = shopOf(1);
      bookings = bookingsIn(fill(shop, 10_000 * scale, 1 / scale));
    },
    subject: () => timed(() => buildPlan(shop, bookings)),
    // The least that any index must do: sort them.
    baseline: () => timed(() => bookings.toSorted((a, b) => a.start - b.start)),
  };
}

function memory(): Benchmark {
  let few: { shop: ShopHours; bookings: Booking[] };
  let many: { shop: ShopHours; bookings: Booking[] };
  // The same number of bookings in all, so that the rest of the process weighs the same.
  const perBooking = async ({ shop, bookings }: typeof few, plans: number): Promise<number> => {
    const bytes = await bytesOf(() =>
      Array.from({ length: plans }, () => {
        const plan = buildPlan(shop, bookings);
        promiseMs(plan, insert);
        return plan;
      }),
    );
    return bytes / (plans * bookings.length);
  };
  return {
    name: 'promise-memory',
    unit: 'bytes per booking, 100,000 against 10,000',
    goal: { ratioAtMost: 1.2 },
    rounds: 3,
    warmUps: 1,
    setUp() {
      const shop = shopOf(1);
      few = { shop, bookings: bookingsIn(fill(shop, 10_000, 1)) };
      many = { shop, bookings: bookingsIn(fill(shop, 100_000, 0.1)) };
    },
    subject: () => perBooking(many, 1),
    baseline: () => perBooking(few, 10),
  };
}

function floorEvents(): Benchmark {
  let shop: ShopHours;
  let orders: PlannedOrder[];
  return {
    name: 'promise-floor-events',
    unit: 'ms for a station down half a day, 10,000 bookings',
    goal: { ratioAtMost: 60 },
    rounds: 5,
    warmUps: 1,
    setUp() {
      shop = shopOf(1);
      orders = fill(shop, 10_000, 1);
    },
    subject: () =>
      timed(() => {
        const from = shop.from + 8 * 3600;
        const down = { kind: 'down' as const, station: 'print', unit: 0, from, to: from + 4 * 3600 };
        const outcome = applyEvents(shop, orders, [down], { now: from });
        if (outcome.moved.length === 0) throw new Error('nothing moved');
      }),
    // Building the plan again, which is the least it must do.
    baseline: () => timed(() => [...bookingsOf(buildPlan(shop, bookingsIn(orders)))].length),
  };
}

export const benchmarks: readonly Benchmark[] = [
  promiseAt10k(),
  promiseAt100k('promise-100000-smaller-orders', 1, 0.1),
  promiseAt100k('promise-100000-bigger-shop', 10, 1),
  quickAgainstInsert(),
  building(),
  memory(),
  floorEvents(),
];
