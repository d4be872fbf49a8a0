import type { EpochS } from '../calendar/time.ts';
import { insertAround } from '../insert/insert.ts';
import type { PlanReason, Refusal } from '../insert/insertion.ts';
import { commit, type Plan } from '../plan/plan.ts';
import { type MovableOrder, ordersInTheWay, type RoomRequest } from './movable-orders.ts';
import { moveOrders, type Room } from './move-orders.ts';
import type { PlannedOrder } from './planned-order.ts';

const DEFAULT_MAX_ATTEMPTS = 60;

/**
 * Places a job, moving other orders later where their promises leave slack. Orders in the way are taken out, most slack
 * first, in growing numbers; the job is placed; they are put back in order of deadline. An order that would break its
 * promise stays where it was, and the rest is tried again. Of all that works, takes the fewest moved orders that let
 * the job end by `dueBy`, else the earliest end. This is a search, not a proof: what it finds is checked, but a refusal
 * does not mean that there is no way.
 *
 * @param deadlineOf the latest end of an order that keeps its promise
 */
export function makeRoom(
  plan: Plan,
  request: RoomRequest,
  deadlineOf: (order: PlannedOrder) => EpochS,
): Room | Refusal {
  const { job, notBefore, dueBy, fixed } = request;
  const direct = insertAround(plan, job, notBefore, fixed);
  if (direct.kind === 'refused' && direct.reasons.some((reason) => reason.code !== 'plan-full'))
    return direct;
  const unmoved: Room | undefined =
    direct.kind === 'placed'
      ? { kind: 'room', insertion: direct, plan: commit(plan, direct.bookings), moved: [], fixed }
      : undefined;
  if (unmoved && isGoodEnough(unmoved, dueBy)) return unmoved;

  const until = direct.kind === 'placed' ? direct.endsAt : Number.POSITIVE_INFINITY;
  const candidates = ordersInTheWay(request, until, deadlineOf);
  const { best, stuck } = searchRoom(plan, request, candidates, unmoved);
  if (best && best.insertion.endsAt <= dueBy) return best;
  const reasons: readonly PlanReason[] = best
    ? [{ code: 'ends-too-late', params: { endsAt: best.insertion.endsAt, by: dueBy } }]
    : direct.kind === 'refused'
      ? direct.reasons
      : [];
  return { kind: 'refused', job: job.id, reasons: [...reasons, ...stuck], certain: false };
}

/** Whether the search can stop. Without a due date it never stops early. */
function isGoodEnough({ insertion }: Room, dueBy: EpochS): boolean {
  return insertion.endsAt <= dueBy && dueBy < Number.POSITIVE_INFINITY;
}

/** The best room found by moving candidates, or `unmoved`; and a reason for every candidate that could not be moved. */
function searchRoom(
  plan: Plan,
  request: RoomRequest,
  candidates: readonly MovableOrder[],
  unmoved: Room | undefined,
): { best: Room | undefined; stuck: readonly PlanReason[] } {
  const { dueBy, maxMoved, maxAttempts = DEFAULT_MAX_ATTEMPTS } = request;
  let best = unmoved;
  const stuck = new Map<string, PlanReason>();
  const tried = new Set<string>();
  let attempts = 0;
  for (let count = 1; count <= candidates.length; count = Math.min(count * 2, candidates.length)) {
    let displaced = candidates.slice(0, count).filter(({ order }) => !stuck.has(order.job.id));
    while (displaced.length > 0 && attempts < maxAttempts) {
      attempts++;
      // without the orders that cannot move, the set may be one that was tried before
      const key = displaced.map(({ order }) => order.job.id).join();
      if (tried.has(key)) break;
      tried.add(key);
      const outcome = moveOrders(plan, displaced, request);
      if (outcome.kind === 'room') {
        if (!best || outcome.insertion.endsAt < best.insertion.endsAt) best = outcome;
        break;
      }
      if (!outcome.stuck) break;
      stuck.set(outcome.stuck.order.job.id, slackTooSmall(outcome.stuck, outcome.endsAt));
      displaced = displaced.filter((each) => each !== outcome.stuck);
    }
    if ((best && isGoodEnough(best, dueBy)) || attempts >= maxAttempts) break;
    if (count === candidates.length || count >= maxMoved) break;
  }
  return { best, stuck: [...stuck.values()] };
}

function slackTooSmall({ order, deadline }: MovableOrder, endsAt: EpochS | undefined): PlanReason {
  return {
    code: 'slack-too-small',
    params: { order: order.job.id, keepBy: deadline, ...(endsAt === undefined ? {} : { endsAt }) },
  };
}
