import type { Booking, Chain, WorkStep } from '../../../../src/promise/index.ts';
import { MinuteLoad } from '../minute-checks.ts';
import { MINUTE_S, MINUTES, type SmallShop } from '../small-plans.ts';

/** The minutes at which the batches of the previous step are ready; `runStart` is when its first batch began. */
type Ready = {
  readonly at: readonly number[];
  readonly runStart: number;
  readonly whole: boolean;
  readonly pieces: number | undefined;
};

/**
 * The earliest end of a chain, found by trying every start of every step on every unit, minute by minute, without an
 * index or a rule. Infinity when nothing fits.
 */
export function earliestEnd(
  small: SmallShop,
  bookings: readonly Booking[],
  chain: Chain,
  notBefore: number,
): number {
  const load = new MinuteLoad(small, bookings);
  const likeBefore = new Map<string, (string | null)[]>();
  for (const name of load.units.keys())
    likeBefore.set(
      name,
      Array.from({ length: MINUTES }, () => null),
    );
  for (const booking of bookings) {
    likeBefore
      .get(`${booking.station} ${booking.unit}`)!
      .fill(booking.likeKey, booking.start / MINUTE_S, booking.end / MINUTE_S);
  }
  let best = Number.POSITIVE_INFINITY;

  const go = (index: number, ready: Ready): void => {
    const step = chain.steps[index];
    const last = Math.max(...ready.at);
    if (last >= best) return;
    if (!step) {
      best = last;
      return;
    }
    if (step.kind === 'wait') {
      go(index + 1, { ...ready, at: ready.at.map((minute) => minute + step.waitS / MINUTE_S) });
      return;
    }
    small.stationOpen.get(step.station)!.forEach((_, unit) => {
      for (let start = Math.max(notBefore, ready.runStart); start < MINUTES; start++) {
        for (const shared of [false, true]) tryAt(index, step, unit, start, shared, ready);
      }
    });
  };

  const tryAt = (
    index: number,
    step: WorkStep,
    unit: number,
    start: number,
    shared: boolean,
    ready: Ready,
  ): void => {
    const fullSetUp = step.setUpS / MINUTE_S;
    const setUp = shared ? (step.like?.sharedSetUpS ?? 0) / MINUTE_S : fullSetUp;
    const batch = step.batchS / MINUTE_S;
    const name = `${step.station} ${unit}`;
    const taken = load.units.get(name)!;
    const likes = likeBefore.get(name)!;
    const open = load.openFor(
      step.station,
      unit,
      step.setUpCrewShare * step.setUpS + step.crewShare * step.batches * step.batchS > 0,
    );
    let held = start;
    if (shared) {
      if (!step.like || setUp >= fullSetUp) return;
      while (held > 0 && taken[held - 1] === null) held--;
      if (held === 0 || likes[held - 1] !== step.like.key) return;
      const idle = open.slice(held, start).filter(Boolean).length;
      if (idle > fullSetUp - setUp) return;
    }
    if (!open[start]) return;
    const work = setUp + step.batches * batch;
    const minutes: number[] = [];
    let end = start;
    for (; minutes.length < work; end++) {
      if (end >= MINUTES || taken[end] !== null) return;
      if (!open[end]) continue;
      const need = minutes.length < setUp ? step.setUpCrewShare : step.crewShare;
      if (load.crew[end]! + need > small.crew + 1e-9) return;
      minutes.push(end);
    }
    for (let k = 0; k < step.batches; k++) {
      if (minutes[setUp + k * batch]! < readyFor(ready, step, k)) return;
    }
    if (end >= best) return;
    minutes.forEach((minute, i) => {
      load.crew[minute]! += i < setUp ? step.setUpCrewShare : step.crewShare;
    });
    taken.fill('new', held, end);
    const before = likes.slice(start, end);
    likes.fill(step.like?.key ?? null, start, end);
    go(index + 1, {
      at: Array.from({ length: step.batches }, (_, k) => minutes[setUp + (k + 1) * batch - 1]! + 1),
      runStart: minutes[setUp]!,
      whole: step.flow === 'whole',
      pieces: step.batchPieces,
    });
    before.forEach((like, i) => {
      likes[start + i] = like;
    });
    taken.fill(null, held, end);
    minutes.forEach((minute, i) => {
      load.crew[minute]! -= i < setUp ? step.setUpCrewShare : step.crewShare;
    });
  };

  go(0, { at: [notBefore], runStart: notBefore, whole: true, pieces: undefined });
  return best * MINUTE_S;
}

/** When batch k may start: the last when all input is ready, others once enough pieces (or shares) are. */
function readyFor(ready: Ready, step: WorkStep, k: number): number {
  if (ready.whole || k === step.batches - 1) return Math.max(...ready.at);
  const counted = ready.pieces !== undefined && step.batchPieces !== undefined;
  for (let done = 1; done < ready.at.length; done++) {
    const enough = counted
      ? done * ready.pieces! >= (k + 1) * step.batchPieces!
      : done * step.batches >= (k + 1) * ready.at.length;
    if (enough) return ready.at[done - 1]!;
  }
  return Math.max(...ready.at);
}
