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

/** Everything in these plans happens on whole minutes of one day in UTC that starts at instant 0. */
export const MINUTE_S = 60;
export const MINUTES = 40;

/** Which minutes are open, as a set of windows. */
export type OpenMinutes = readonly boolean[];

export type SmallShop = {
  readonly spec: ShopSpec;
  readonly shop: ShopHours;
  /** by station id: one list per unit. */
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

/** Two stations, up to two units each, a crew of up to two, hours full of breaks. */
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
        // a counterexample is read by people
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

/** A job of one chain of one to three steps on stations, some with a wait between. */
export const chainJob = (likes: boolean, id = 'new'): fc.Arbitrary<Job> =>
  fc
    .array(fc.tuple(workStep(likes), fc.option(waitStep, { freq: 4 })), { minLength: 1, maxLength: 3 })
    .map((pairs) => ({
      id,
      chains: [{ steps: pairs.flatMap(([work, wait]) => (wait ? [work, wait] : [work])) }],
    }));

/** A job of one to three chains, some waiting for others. */
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

/** A plan with some jobs inserted one after another, and the bookings in it. */
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

/** Jobs inserted one after another, each promised for its end and some minutes. */
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

/** Several jobs with the minute from which each may start. */
export const otherJobs = (likes: boolean): fc.Arbitrary<[Job, number][]> =>
  fc.array(fc.tuple(anyJob(likes), fc.nat({ max: MINUTES })), { maxLength: 5 });

/** A promise for the first day that holds until a moment of it, and breaks a week long after. */
function promisedBy(instant: number): GivenPromise {
  return {
    day: '1970-01-01',
    packingS: 0,
    rule: { kind: 'pick-up', workingDays: 0, handOverBy: clock(instant / MINUTE_S) },
  };
}

/**
 * Batches that start before what they need is there, worked out from the minutes of the bookings alone. Steps that the
 * floor has begun are not asked about; what they hand over in part is not known, so only their end is.
 */
export function inputFaults(small: SmallShop, job: Job, bookings: readonly Booking[]): string[] {
  const load = new MinuteLoad(small, []);
  const faults: string[] = [];
  /** The minutes in which a booking's batches run. */
  const minutesOf = (booking: Booking): number[] => {
    const open = load.openFor(booking.station, booking.unit, booking.setUpCrewShare + booking.crewShare > 0);
    const minutes: number[] = [];
    for (let minute = booking.runStart / MINUTE_S; minute < booking.end / MINUTE_S; minute++) {
      if (open[minute]) minutes.push(minute);
    }
    return minutes;
  };
  const bookingOf = (chain: number, step: number): Booking | undefined =>
    bookings.find((each) => each.chain === chain && each.step === step && each.part === 'all');

  /** The steps, with the minutes waited since, that hand over to a step. */
  const sourcesOf = (
    chain: number,
    step: number,
  ): { chain: number; step: number; wait: number; on: boolean }[] => {
    if (step === 0) {
      return (job.chains[chain]!.after ?? []).flatMap((ref) => {
        const last = ref.step ?? job.chains[ref.chain]!.steps.length - 1;
        return through(ref.chain, last, ref.flow === 'on');
      });
    }
    return through(chain, step - 1, true);
  };
  const through = (chain: number, step: number, on: boolean): ReturnType<typeof sourcesOf> => {
    const source = job.chains[chain]!.steps[step]!;
    if (source.kind === 'work') return [{ chain, step, wait: 0, on: on && source.flow !== 'whole' }];
    return sourcesOf(chain, step).map((each) => ({
      ...each,
      wait: each.wait + source.waitS / MINUTE_S,
      on: on && each.on,
    }));
  };

  job.chains.forEach((chain, c) => {
    chain.steps.forEach((step, s) => {
      const booking = bookingOf(c, s);
      if (step.kind === 'wait' || !booking || booking.state !== 'booked') return;
      const mine = minutesOf(booking);
      for (const source of sourcesOf(c, s)) {
        const from = bookingOf(source.chain, source.step);
        const feed = job.chains[source.chain]!.steps[source.step] as WorkStep;
        if (!from) {
          faults.push(`${c}.${s} is booked without ${source.chain}.${source.step}`);
          continue;
        }
        const theirs = minutesOf(from);
        for (let k = 0; k < step.batches; k++) {
          const counted = feed.batchPieces !== undefined && step.batchPieces !== undefined;
          const part = counted
            ? Math.ceil(((k + 1) * step.batchPieces!) / feed.batchPieces!)
            : Math.ceil(((k + 1) * feed.batches) / step.batches);
          const whole = !source.on || k === step.batches - 1 || part >= feed.batches;
          if (!whole && from.state !== 'booked') continue;
          const ready = whole ? from.end / MINUTE_S : theirs[(part * feed.batchS) / MINUTE_S - 1]! + 1;
          const starts = mine[(k * step.batchS) / MINUTE_S]!;
          if (starts < ready + source.wait) {
            faults.push(
              `batch ${k} of ${c}.${s} starts at ${starts}, its input is there at ${ready + source.wait}`,
            );
          }
        }
      }
    });
  });
  return faults;
}

/** What is taken in every minute, worked out minute by minute from the bookings and the open minutes alone. */
export class MinuteLoad {
  readonly crew: number[] = Array.from({ length: MINUTES }, () => 0);
  /** by `station unit`: the job in each minute, held time and closed minutes within a booking included. */
  readonly units = new Map<string, (string | null)[]>();
  readonly faults: string[] = [];
  readonly #small: SmallShop;

  constructor(small: SmallShop, bookings: readonly Booking[]) {
    this.#small = small;
    for (const [id, units] of small.stationOpen) {
      units.forEach((_, unit) => {
        this.units.set(
          `${id} ${unit}`,
          Array.from({ length: MINUTES }, () => null),
        );
      });
    }
    for (const booking of bookings) this.add(booking);
    this.crew.forEach((load, minute) => {
      if (load > small.crew + 1e-9) this.faults.push(`crew ${load} of ${small.crew} in minute ${minute}`);
    });
  }

  add(booking: Booking): void {
    const at = (instant: number): number => {
      if (instant % MINUTE_S !== 0) this.faults.push(`${instant} is not on a whole minute`);
      return instant / MINUTE_S;
    };
    const name = `${booking.job}/${booking.chain}/${booking.step}`;
    const unit = this.units.get(`${booking.station} ${booking.unit}`)!;
    for (let minute = at(booking.heldFrom); minute < at(booking.end); minute++) {
      if (unit[minute] !== null)
        this.faults.push(`${name} and ${unit[minute]} on a unit in minute ${minute}`);
      unit[minute] = name;
    }
    const open = this.openFor(booking.station, booking.unit, booking.setUpCrewShare + booking.crewShare > 0);
    let setUp = 0;
    let run = 0;
    for (let minute = at(booking.start); minute < at(booking.end); minute++) {
      if (!open[minute]) continue;
      const inRun = minute >= at(booking.runStart);
      if (inRun) run++;
      else setUp++;
      this.crew[minute]! += inRun ? booking.crewShare : booking.setUpCrewShare;
    }
    if (setUp * MINUTE_S !== booking.setUpS || run * MINUTE_S !== booking.runS) {
      this.faults.push(
        `${name} has ${setUp} and ${run} open minutes for ${booking.setUpS} s set-up and ${booking.runS} s run`,
      );
    }
  }

  openFor(station: string, unit: number, needsCrew: boolean): OpenMinutes {
    const open = this.#small.stationOpen.get(station)![unit]!;
    return needsCrew ? open.map((isOpen, minute) => isOpen && this.#small.crewOpen[minute]!) : open;
  }
}
