import { insertAround } from '../insert/insert.ts';
import { commit, type Plan } from '../plan/plan.ts';
import { isSame } from '../plan/unit-schedule.ts';
import { type ChangedBooking, mostCrewParts, withdraw } from '../plan/withdraw.ts';
import type {
  Booking,
  EpochS,
  Insertion,
  Job,
  MovedOrder,
  PlannedOrder,
  PlanReason,
  Refusal,
} from '../types.ts';

/** Ways tried to choose the orders that make room, at most, unless told otherwise. */
const MOST_ATTEMPTS = 60;

/** An order that may be moved, as far as it may be. */
type Movable = {
  readonly order: PlannedOrder;
  /** the latest end that keeps its promise. */
  readonly keepBy: EpochS;
  /** what stays: begun, done, or too near. */
  readonly fixed: readonly Booking[];
  readonly movable: readonly Booking[];
};

/** What is asked of `makeRoom`. */
export type RoomRequest = {
  /** all orders in the plan. */
  readonly orders: readonly PlannedOrder[];
  /** ids of orders that must not be moved. */
  readonly immovable: ReadonlySet<string>;
  readonly job: Job;
  /** bookings of the job that stand already. */
  readonly fixed: readonly Booking[];
  readonly notBefore: EpochS;
  /** it is enough to end by then; Infinity: as early as can be found. */
  readonly by: EpochS;
  /** bookings that begin before this instant stay where they are. */
  readonly frozenUntil: EpochS;
  /** orders moved at most. */
  readonly mostMoved: number;
  /** ways tried to choose the orders that make room, at most; absent: `MOST_ATTEMPTS`. */
  readonly mostAttempts?: number | undefined;
};

/** A plan in which a job found room. */
export type Room = {
  readonly kind: 'room';
  readonly insertion: Insertion;
  /** the plan with everything in its new place. */
  readonly plan: Plan;
  readonly moved: readonly MovedOrder[];
  /** the bookings of the job that stood already, as they stand now: a set-up may have had to be mended. */
  readonly fixed: readonly Booking[];
};

/**
 * Places a job, moving other orders later where their promises leave slack. Orders in the way are taken out, most slack
 * first, in growing numbers; the job is placed; they are put back, the one that must be ready first first; an order
 * that would break its promise is left where it was and the rest tried again. Of all that works, the fewest moved
 * orders that let the job end by `by`, else the earliest end. A search, not a proof: what it gives is checked, and
 * a refusal does not mean that there is no way.
 *
 * @param keepByOf the latest end of an order that keeps its promise
 */
export function makeRoom(
  plan: Plan,
  request: RoomRequest,
  keepByOf: (order: PlannedOrder) => EpochS,
): Room | Refusal {
  const { job, notBefore, by, fixed, mostAttempts = MOST_ATTEMPTS } = request;
  const direct = insertAround(plan, job, notBefore, fixed);
  let best: Room | null =
    direct.kind === 'placed'
      ? { kind: 'room', insertion: direct, plan: commit(plan, direct.bookings), moved: [], fixed }
      : null;
  if (best && best.insertion.endsAt <= by && by < Number.POSITIVE_INFINITY) return best;
  if (direct.kind === 'refused' && direct.reasons.some((reason) => reason.code !== 'plan-full'))
    return direct;

  const until = direct.kind === 'placed' ? direct.endsAt : Number.POSITIVE_INFINITY;
  const inTheWay = movablesInTheWay(request, until, keepByOf);
  const reasons = new Map<string, PlanReason>();
  const pinned = new Set<string>();
  const tried = new Set<string>();
  let attempts = 0;
  for (let count = 1; count <= inTheWay.length; count = Math.min(count * 2, inTheWay.length)) {
    let victims = inTheWay.slice(0, count).filter((each) => !pinned.has(each.order.job.id));
    while (victims.length > 0 && attempts < mostAttempts) {
      attempts++;
      // Those left when one that cannot move is out may be those of an earlier try.
      const who = victims.map(({ order }) => order.job.id).join();
      if (tried.has(who)) break;
      tried.add(who);
      const outcome = attempt(plan, victims, request);
      if (outcome.kind === 'room') {
        if (!best || outcome.insertion.endsAt < best.insertion.endsAt) best = outcome;
        break;
      }
      if (!outcome.stuck) break;
      const { job: stuckJob } = outcome.stuck.order;
      pinned.add(stuckJob.id);
      reasons.set(stuckJob.id, {
        code: 'slack-too-small',
        params: {
          order: stuckJob.id,
          keepBy: outcome.stuck.keepBy,
          ...(outcome.endsAt === null ? {} : { endsAt: outcome.endsAt }),
        },
      });
      victims = victims.filter((each) => each !== outcome.stuck);
    }
    if ((best && best.insertion.endsAt <= by && by < Number.POSITIVE_INFINITY) || attempts >= mostAttempts)
      break;
    if (count === inTheWay.length || count >= request.mostMoved) break;
  }
  if (best && best.insertion.endsAt <= by) return best;
  const late: PlanReason[] = best
    ? [{ code: 'ends-too-late', params: { endsAt: best.insertion.endsAt, by } }]
    : direct.kind === 'refused'
      ? [...direct.reasons]
      : [];
  return { kind: 'refused', job: job.id, reasons: [...late, ...reasons.values()], certain: false };
}

/** Orders with bookings the job could use instead, most slack first. */
function movablesInTheWay(
  request: RoomRequest,
  until: EpochS,
  keepByOf: (order: PlannedOrder) => EpochS,
): Movable[] {
  const stations = new Set<string>();
  let needsCrew = false;
  for (const chain of request.job.chains) {
    for (const step of chain.steps) {
      if (step.kind === 'wait') continue;
      stations.add(step.station);
      if (step.crewShare > 0 || step.setUpCrewShare > 0) needsCrew = true;
    }
  }
  const mayMove = (booking: Booking): boolean =>
    booking.state === 'booked' && booking.start >= request.frozenUntil;
  const found: (Pick<Movable, 'order' | 'keepBy'> & { readonly slackS: number })[] = [];
  for (const order of request.orders) {
    if (order.job.id === request.job.id || request.immovable.has(order.job.id)) continue;
    const inTheWay = order.bookings.some(
      (booking) =>
        booking.start < until &&
        mayMove(booking) &&
        (stations.has(booking.station) || (needsCrew && mostCrewParts(booking) > 0)),
    );
    if (!inTheWay) continue;
    const keepBy = keepByOf(order);
    const slackS = keepBy - endOfBookings(order);
    if (slackS > 0) found.push({ order, keepBy, slackS });
  }
  return found
    .sort((a, b) => b.slackS - a.slackS)
    .slice(0, request.mostMoved)
    .map(({ order, keepBy }) => ({
      order,
      keepBy,
      movable: order.bookings.filter(mayMove),
      fixed: order.bookings.filter((booking) => !mayMove(booking)),
    }));
}

type Attempt =
  | Room
  | { readonly kind: 'failed'; readonly stuck: Movable | null; readonly endsAt: EpochS | null };

function attempt(plan: Plan, victims: readonly Movable[], request: RoomRequest): Attempt {
  const out = withdraw(
    plan,
    victims.flatMap((each) => each.movable),
    request.frozenUntil,
  );
  const insertion = insertAround(out.plan, request.job, request.notBefore, request.fixed);
  if (insertion.kind === 'refused') return { kind: 'failed', stuck: null, endsAt: null };
  let now = commit(out.plan, insertion.bookings);
  const moved: MovedOrder[] = [];
  for (const victim of [...victims].sort((a, b) => a.keepBy - b.keepBy)) {
    const { job, notBefore, bookings } = victim.order;
    const again = insertAround(now, job, Math.max(notBefore, request.frozenUntil), victim.fixed);
    if (again.kind === 'refused') return { kind: 'failed', stuck: victim, endsAt: null };
    if (again.endsAt > victim.keepBy) return { kind: 'failed', stuck: victim, endsAt: again.endsAt };
    now = commit(now, again.bookings);
    moved.push({
      order: job.id,
      before: bookings,
      after: [...victim.fixed, ...again.bookings],
      endsAt: again.endsAt,
    });
  }
  return {
    kind: 'room',
    insertion,
    plan: now,
    moved: withChanges(request.orders, moved, out.changed).filter(isMoved),
    fixed: changedIn(
      request.fixed,
      out.changed.filter((change) => change.after.job === request.job.id),
    ),
  };
}

/** Orders moved, and those whose set-ups had to be mended because like work before them went. */
function withChanges(
  orders: readonly PlannedOrder[],
  moved: readonly MovedOrder[],
  changed: readonly ChangedBooking[],
): MovedOrder[] {
  const all = [...moved];
  for (const id of new Set(changed.map((change) => change.after.job))) {
    const order = orders.find((each) => each.job.id === id);
    if (!order) continue;
    const at = all.findIndex((each) => each.order === id);
    const was = all[at]?.after ?? order.bookings;
    const mine = changed.filter((change) => change.after.job === id);
    const after = changedIn(was, mine);
    const entry: MovedOrder = {
      order: id,
      before: order.bookings,
      after,
      endsAt: all[at]?.endsAt ?? endOfBookings(order),
    };
    if (at < 0) all.push(entry);
    else all[at] = entry;
  }
  return all;
}

function changedIn(bookings: readonly Booking[], changes: readonly ChangedBooking[]): Booking[] {
  return [
    ...bookings.filter(
      (booking) => !changes.some((change) => change.before && isSame(change.before, booking)),
    ),
    ...changes.map((change) => change.after),
  ];
}

function isMoved(order: MovedOrder): boolean {
  return (
    order.before.length !== order.after.length ||
    order.after.some(
      (booking) =>
        !order.before.some(
          (was) => isSame(was, booking) && was.unit === booking.unit && was.end === booking.end,
        ),
    )
  );
}

const ends = new WeakMap<PlannedOrder, EpochS>();

/** When an order's last step is done, waits after it included; asked of every order in the way of a rush. */
function endOfBookings(order: PlannedOrder): EpochS {
  let end = ends.get(order);
  if (end === undefined) {
    end = order.notBefore;
    for (const booking of order.bookings) {
      const steps = order.job.chains[booking.chain]?.steps ?? [];
      let waitS = 0;
      for (let later = booking.step + 1; later < steps.length; later++) {
        const step = steps[later]!;
        if (step.kind === 'wait') waitS += Math.ceil(step.waitS);
      }
      end = Math.max(end, booking.end + waitS);
    }
    ends.set(order, end);
  }
  return end;
}
