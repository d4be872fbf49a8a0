import {
  type Booking,
  buildPlan,
  commit,
  compileShopHours,
  insert,
  type Job,
  type ShopHours,
} from '../../../src/promise/index.ts';

const DAY_AND_NIGHT = [{ from: '00:00', to: '24:00' }];

/** A shop that never closes and whose steps need no crew, like the machines of the literature. Starts at second 0. */
export function machineShop(machines: readonly number[]): ShopHours {
  return compileShopHours(
    {
      calendar: {
        timeZone: 'UTC',
        week: {
          mon: DAY_AND_NIGHT,
          tue: DAY_AND_NIGHT,
          wed: DAY_AND_NIGHT,
          thu: DAY_AND_NIGHT,
          fri: DAY_AND_NIGHT,
          sat: DAY_AND_NIGHT,
          sun: DAY_AND_NIGHT,
        },
        closures: [],
        extraShifts: [],
        cutoff: null,
      },
      stations: machines.map((count, i) => ({ id: `m${i + 1}`, count })),
      crew: { count: 1 },
    },
    '1970-01-01',
    7,
  );
}

/** A job as in the literature: one operation per machine, in order, each handed over as a whole. */
export function flowJob(id: string, times: readonly number[]): Job {
  return {
    id,
    chains: [
      {
        steps: times.map((batchS, i) => ({
          kind: 'work',
          key: `m${i + 1}`,
          station: `m${i + 1}`,
          setUpS: 0,
          batches: 1,
          batchS,
          setUpCrewShare: 0,
          crewShare: 0,
        })),
      },
    ],
  };
}

/**
 * The makespan when jobs are inserted one after another, as orders come in.
 *
 * @param order job numbers from 1
 * @param isPermutation every machine keeps the order (a permutation schedule); otherwise a later job may use a gap
 */
export function makespan(
  shop: ShopHours,
  times: readonly (readonly number[])[],
  order: readonly number[],
  isPermutation = false,
): number {
  let plan = buildPlan(shop, []);
  let end = 0;
  const free = new Map<string, number>();
  for (const number of order) {
    const job = flowJob(`${number}`, times[number - 1]!);
    const inserted = isPermutation ? afterOthers(job, free) : job;
    const placed = insert(plan, inserted, 0);
    if (placed.kind === 'refused')
      throw new Error(`job ${number} was refused: ${JSON.stringify(placed.reasons)}`);
    for (const booking of placed.bookings as Booking[]) free.set(booking.station, booking.end);
    plan = commit(plan, placed.bookings);
    end = Math.max(end, placed.endsAt);
  }
  return end;
}

function afterOthers(job: Job, free: ReadonlyMap<string, number>): Job {
  return {
    ...job,
    chains: job.chains.map((chain) => ({
      steps: chain.steps.map((step) =>
        step.kind === 'work' ? { ...step, notBefore: free.get(step.station) ?? 0 } : step,
      ),
    })),
  };
}

/** All permutations of 1 to n. */
export function* permutations(count: number): Generator<number[]> {
  const order = Array.from({ length: count }, (_, i) => i + 1);
  function* go(from: number): Generator<number[]> {
    if (from === count) {
      yield [...order];
      return;
    }
    for (let i = from; i < count; i++) {
      [order[from], order[i]] = [order[i]!, order[from]!];
      yield* go(from + 1);
      [order[from], order[i]] = [order[i]!, order[from]!];
    }
  }
  yield* go(0);
}
