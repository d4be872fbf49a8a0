import fc from 'fast-check';
import {
  type Booking,
  buildPlan,
  commit,
  compileShopHours,
  type GivenPromise,
  insert,
  type Job,
  type Plan,
  type PlannedOrder,
  type ShopHours,
  type ShopSpec,
  type Step,
  type WeekHours,
  type WorkStep,
} from '../../../src/promise/index.ts';

/** Everything in these plans happens on whole minutes of one UTC day that starts at instant 0. */
export const MINUTE_S = 60;
export const MINUTES = 40;

/** Whether each minute is open. */
export type OpenMinutes = readonly boolean[];

export type SmallShop = {
  readonly spec: ShopSpec;
  readonly shop: ShopHours;
  /** by station id, one entry per unit. */
  readonly stationOpen: ReadonlyMap<string, readonly OpenMinutes[]>;
  readonly crewOpen: OpenMinutes;
  readonly crew: number;
};

const clock = (minute: number): string =>
  `${String(Math.floor(minute / 60)).padStart(2, '0')}:${String(minute % 60).padStart(2, '0')}`;

function weekOf(open: OpenMinutes): WeekHours {
  const windows: { from: string; to: string }[] = [];
  let from = -1;
  for (let minute = 0; minute <= MINUTES; minute++) {
    if (open[minute] && from < 0) from = minute;
    if (!open[minute] && from >= 0) {
      windows.push({ from: clock(from), to: clock(minute) });
      from = -1;
    }
  }
  return { mon: [], tue: [], wed: [], thu: windows, fri: [], sat: [], sun: [] };
}

const openMinutes: fc.Arbitrary<OpenMinutes> = fc
  .array(fc.tuple(fc.nat({ max: MINUTES - 1 }), fc.integer({ min: 1, max: 6 })), { maxLength: 3 })
  .map((breaks) => {
    const open = Array.from({ length: MINUTES }, () => true);
    for (const [at, length] of breaks) open.fill(false, at, Math.min(MINUTES, at + length));
    return open;
  });

/** Two stations with up to two units each, a crew of up to two, and hours with many breaks. */
export const smallShop = (options: { outages: boolean } = { outages: true }): fc.Arbitrary<SmallShop> =>
  fc
    .record({
      counts: fc.tuple(fc.integer({ min: 1, max: 2 }), fc.integer({ min: 1, max: 2 })),
      open: fc.tuple(openMinutes, openMinutes, openMinutes),
      crew: fc.integer({ min: 1, max: 2 }),
      outage: options.outages
        ? fc.option(fc.tuple(fc.nat({ max: MINUTES - 5 }), fc.integer({ min: 1, max: 5 })))
        : fc.constant(null),
    })
    .map(({ counts, open, crew, outage }) => {
      const spec: ShopSpec = {
        calendar: {
          timeZone: 'UTC',
          week: weekOf(open[2]),
          closures: [],
          extraShifts: [],
          cutoff: null,
        },
        stations: counts.map((count, i) => ({
          id: `s${i}`,
          count,
          hours: weekOf(open[i]!),
          closures:
            outage && i === 0
              ? [{ from: outage[0] * MINUTE_S, to: (outage[0] + outage[1]) * MINUTE_S, unit: 0 }]
              : [],
        })),
        crew: { count: crew },
      };
      const stationOpen = new Map(
        counts.map((count, i) => [
          `s${i}`,
          Array.from({ length: count }, (_, unit) =>
            open[i]!.map(
              (isOpen, minute) =>
                isOpen &&
                !(outage && i === 0 && unit === 0 && minute >= outage[0] && minute < outage[0] + outage[1]),
            ),
          ),
        ]),
      );
      const text = JSON.stringify({ counts, crew, outage, open: open.map((each) => weekOf(each).thu) });
      return {
        spec,
        shop: compileShopHours(spec, '1970-01-01', 1),
        stationOpen,
        crewOpen: open[2],
        crew,
        // printed with a counterexample
        [fc.toStringMethod]: () => text,
      };
    });

const share = fc.constantFrom(0, 1 / 3, 0.5, 1);

export const workStep = (likes: boolean): fc.Arbitrary<WorkStep> =>
  fc
    .record({
      station: fc.constantFrom('s0', 's1'),
      setUp: fc.integer({ min: 0, max: 3 }),
      batches: fc.integer({ min: 1, max: 3 }),
      batch: fc.integer({ min: 1, max: 3 }),
      setUpCrewShare: share,
      crewShare: share,
      flow: fc.constantFrom('on' as const, 'whole' as const),
      like: likes
        ? fc.option(fc.constantFrom('red', 'red', 'red', 'blue'), { nil: undefined, freq: 5 })
        : fc.constant(undefined),
      pieces: fc.option(fc.integer({ min: 1, max: 3 }), { nil: undefined }),
    })
    .map(({ setUp, batch, like, pieces, ...rest }) => ({
      kind: 'work',
      key: rest.station,
      setUpS: setUp * MINUTE_S,
      batchS: batch * MINUTE_S,
      ...rest,
      ...(pieces === undefined ? {} : { batchPieces: pieces }),
      ...(like === undefined ? {} : { like: { key: like, sharedSetUpS: Math.floor(setUp / 2) * MINUTE_S } }),
    }));

const waitStep: fc.Arbitrary<Step> = fc
  .integer({ min: 0, max: 4 })
  .map((minutes) => ({ kind: 'wait', key: 'wait', waitS: minutes * MINUTE_S }));

/** A job with one chain of one to three work steps, some followed by a wait. */
export const chainJob = (likes: boolean, id = 'new'): fc.Arbitrary<Job> =>
  fc
    .array(fc.tuple(workStep(likes), fc.option(waitStep, { freq: 4 })), { minLength: 1, maxLength: 3 })
    .map((pairs) => ({
      id,
      chains: [{ steps: pairs.flatMap(([work, wait]) => (wait ? [work, wait] : [work])) }],
    }));

/** A job of one to three chains, some of which wait for the one before. */
export const anyJob = (likes: boolean, id = 'new'): fc.Arbitrary<Job> =>
  fc
    .array(fc.tuple(chainJob(likes, id), fc.boolean(), fc.constantFrom('on' as const, 'whole' as const)), {
      minLength: 1,
      maxLength: 3,
    })
    .map((parts) => ({
      id,
      chains: parts.map(([job, waits, flow], c) => ({
        steps: job.chains[0]!.steps,
        after: waits && c > 0 ? [{ chain: c - 1, flow }] : [],
      })),
    }));

/** A plan with jobs inserted one after another, and its bookings. */
export function filledPlan(
  shop: ShopHours,
  jobs: readonly (readonly [Job, number])[],
): { plan: Plan; bookings: Booking[] } {
  let plan = buildPlan(shop, []);
  const bookings: Booking[] = [];
  jobs.forEach(([job, minute], i) => {
    const placed = insert(plan, { ...job, id: `old-${i}` }, minute * MINUTE_S);
    if (placed.kind === 'refused') return;
    plan = commit(plan, placed.bookings);
    bookings.push(...placed.bookings);
  });
  return { plan, bookings };
}

/** Orders inserted one after another, each promised for its end plus some slack. */
export function promisedOrders(
  shop: ShopHours,
  jobs: readonly (readonly [job: Job, fromMinute: number, slackMinutes: number])[],
): { plan: Plan; orders: PlannedOrder[] } {
  let plan = buildPlan(shop, []);
  const orders: PlannedOrder[] = [];
  jobs.forEach(([job, minute, slack], i) => {
    const mine = { ...job, id: `old-${i}` };
    const placed = insert(plan, mine, minute * MINUTE_S);
    if (placed.kind === 'refused') return;
    plan = commit(plan, placed.bookings);
    orders.push({
      job: mine,
      bookings: placed.bookings,
      notBefore: minute * MINUTE_S,
      promised: promisedBy(placed.endsAt + slack * MINUTE_S),
    });
  });
  return { plan, orders };
}

/** Several jobs, each with its release time in minutes. */
export const otherJobs = (likes: boolean): fc.Arbitrary<[Job, number][]> =>
  fc.array(fc.tuple(anyJob(likes), fc.nat({ max: MINUTES })), { maxLength: 5 });

/** A promise for the first day, which holds if production ends by an instant of that day. */
function promisedBy(instant: number): GivenPromise {
  return {
    day: '1970-01-01',
    packingS: 0,
    rule: { kind: 'pick-up', workingDays: 0, handOverBy: clock(instant / MINUTE_S) },
  };
}
