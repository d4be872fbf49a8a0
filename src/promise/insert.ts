import { neverFits } from './check-job.ts';
import { type Feed, feedAt, firstReadyAt, runSecondsOf } from './hand-over.ts';
import { type Placing, placeOnUnit } from './place-step.ts';
import { hoursOfBooking, type Plan, unitOf, withBooking } from './plan.ts';
import {
  type Booking,
  type EpochS,
  type Insertion,
  type Job,
  type PlacedStep,
  PlanInputError,
  type PlanReason,
  type Refusal,
  type WorkStep,
} from './types.ts';

/** Placings tried before the search over units of a station that a chain visits again is given up. */
const MOST_TRIES = 400;

/**
 * Finds where a job goes among the given bookings, none of which moves, and reserves nothing: `commit` does.
 *
 * The dispatch rule: steps are placed one at a time, each on the unit and at the instant at which it ends earliest.
 * The next step placed is, of the chains whose predecessors are placed, the one whose input is ready earliest; of
 * equals the chain listed first. A step is never interrupted but by closed hours, its set-up begins no earlier than
 * the first batch of the step before, and its batches follow each other without a break.
 *
 * For a job of one chain this is the earliest end of all placings under those three conditions (`earliest` is true):
 * take any placing of the chain and move its first step to its earliest place on the same unit. Its batches get ready
 * no later, so the others' input stays in time. Wherever it now runs at the same moment as another step of the chain,
 * that other step began no earlier than the first batch of the old placing, so at that moment the old placing ran as
 * well and took the same part of the crew; so the crew still suffices. On the unit, any own booking lies after the old
 * placing, so after the new one. Repeat with the second step, and so on: the result is never later. Which unit does
 * not matter when all keep the same hours and the chain does not come back to the station; when it comes back, all
 * ways to choose the units are tried. `earliest` is false for jobs of several chains, which compete with each other;
 * for units of one station with different hours; where two steps of the chain are like work on one station; and where
 * there were too many ways to choose the units: then the result is earliest by the rule only.
 *
 * Without like work more bookings never make the end of a job of one chain earlier. Like work can, since it shortens
 * a set-up, and jobs of several chains can end earlier or later by chance, as in Graham's anomalies.
 *
 * @param notBefore nothing of it, not even a set-up, happens earlier
 * @throws PlanInputError when the job is not what its type promises, or its chains wait for each other in a circle
 * @see R. L. Graham, Bounds on multiprocessing timing anomalies, SIAM J. Applied Mathematics 17, 1969
 */
export function insert(plan: Plan, job: Job, notBefore: EpochS): Insertion | Refusal {
  return insertAround(plan, job, notBefore, []);
}

/**
 * As `insert`, for a job some of whose steps are fixed already: those are taken as they are, and the rest is placed
 * after them. The plan must hold the fixed bookings.
 */
export function insertAround(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  fixed: readonly Booking[],
): Insertion | Refusal {
  const reasons = neverFits(plan.shop, job);
  if (reasons.length > 0) return { kind: 'refused', job: job.id, reasons, certain: true };
  const single = job.chains.length === 1 && fixed.length === 0;
  const found = single ? bestOfUnits(plan, job, notBefore) : byRule(plan, job, notBefore, fixed);
  const certain = single && found.allTried && isProvable(plan, job);
  if ('refused' in found) return { kind: 'refused', job: job.id, reasons: [found.refused], certain };
  return {
    kind: 'placed',
    job: job.id,
    bookings: found.bookings,
    steps: found.steps,
    endsAt: found.endsAt,
    earliest: certain,
  };
}

/**
 * When a job would end, or Infinity when it cannot be placed. The same answer as `insert`, without its details.
 *
 * @param giveUpAfter stop as soon as it is sure to end later than this
 */
export function quickPromise(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): EpochS {
  if (neverFits(plan.shop, job).length > 0) return Number.POSITIVE_INFINITY;
  const found =
    job.chains.length === 1
      ? bestOfUnits(plan, job, notBefore, giveUpAfter)
      : byRule(plan, job, notBefore, [], giveUpAfter);
  return 'refused' in found || found.endsAt > giveUpAfter ? Number.POSITIVE_INFINITY : found.endsAt;
}

interface Found {
  readonly bookings: readonly Booking[];
  readonly steps: readonly PlacedStep[];
  readonly endsAt: EpochS;
  readonly allTried: boolean;
}

type Outcome = Found | { readonly refused: PlanReason; readonly allTried: boolean };

/** What is known while steps are being placed. */
interface State {
  readonly plan: Plan;
  readonly bookings: readonly Booking[];
  readonly steps: readonly PlacedStep[];
}

/** A job of one chain: the best over all choices of units where the choice matters. */
function bestOfUnits(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): Outcome {
  const { steps } = job.chains[0]!;
  let best: Found | null = null;
  let stuck: WorkStep | null = null;
  let tries = 0;
  let allTried = true;

  const visitAgain = (index: number, station: string): boolean =>
    steps.slice(index + 1).some((later) => later.kind === 'work' && later.station === station);

  const go = (index: number, state: State, feeds: readonly Feed[]): void => {
    const step = steps[index];
    if (!step) {
      const endsAt = endOf(feeds, notBefore);
      if (!best || endsAt < best.endsAt) best = { ...state, endsAt, allTried: true };
      return;
    }
    if (step.kind === 'wait' || isNothing(step)) {
      const waited = passThrough(step, feeds, notBefore);
      go(index + 1, { ...state, steps: [...state.steps, waited.placed(0, index)] }, waited.feeds);
      return;
    }
    const placings = placingsOf(state.plan, step, feeds, notBefore);
    if (placings.length === 0) stuck ??= step;
    // the choice matters only when a later step meets what this one leaves; the first is the earliest
    const choices = visitAgain(index, step.station) ? placings : placings.slice(0, 1);
    for (const placing of choices) {
      if (tries >= MOST_TRIES) {
        allTried = false;
        if (best) return;
      }
      tries += 1;
      if (placing.end > giveUpAfter || (best && placing.end >= best.endsAt)) return;
      const booking = bookingOf(state.plan, job, 0, index, step, placing);
      const last = index === steps.length - 1;
      go(
        index + 1,
        {
          plan: last ? state.plan : withBooking(state.plan, booking),
          bookings: [...state.bookings, booking],
          steps: [...state.steps, placedOf(booking, placing.readyAt)],
        },
        [feedOf(step, placing)],
      );
    }
  };
  go(0, { plan, bookings: [], steps: [] }, startFeeds(notBefore, []));
  if (best) return { ...(best as Found), allTried };
  return { refused: planFull(plan, stuck), allTried };
}

/** A job of several chains, or one partly fixed: by the dispatch rule. */
function byRule(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  fixed: readonly Booking[],
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): Outcome {
  let now = plan;
  const bookings: Booking[] = [];
  const steps: PlacedStep[] = [];
  /** feeds[c][s]: what step s of chain c hands over, once placed. */
  const feeds: (readonly Feed[])[][] = job.chains.map(() => []);
  let left = job.chains.reduce((sum, chain) => sum + chain.steps.length, 0);

  /** Feeds of a chain's next step; null while a chain it waits for is not that far. */
  const inputOf = (c: number): readonly Feed[] | null => {
    const chain = job.chains[c]!;
    const done = feeds[c]!.length;
    if (done > 0) return feeds[c]![done - 1]!;
    const waits: Feed[] = [];
    for (const ref of chain.after ?? []) {
      const other = job.chains[ref.chain]!;
      const step = ref.step ?? other.steps.length - 1;
      const given = step < 0 ? (inputOf(ref.chain) ?? undefined) : feeds[ref.chain]![step];
      if (!given) return null;
      for (const feed of given) waits.push(ref.flow === 'on' ? feed : { ...feed, whole: true });
    }
    return startFeeds(notBefore, waits);
  };

  while (left > 0) {
    let next = -1;
    let input: readonly Feed[] = [];
    let ready = Number.POSITIVE_INFINITY;
    for (let c = 0; c < job.chains.length; c += 1) {
      const step = job.chains[c]!.steps[feeds[c]!.length];
      const given = step ? inputOf(c) : null;
      if (!step || !given) continue;
      const at = Math.max(
        ...given.map((feed) => (step.kind === 'work' ? firstReadyAt(feed, step) : feed.runStart)),
      );
      if (next < 0 || at < ready) {
        next = c;
        input = given;
        ready = at;
      }
    }
    if (next < 0) {
      throw new PlanInputError(`job '${job.id}': its chains wait for each other in a circle`);
    }
    const index = feeds[next]!.length;
    const step = job.chains[next]!.steps[index]!;
    left -= 1;
    if (step.kind === 'wait' || isNothing(step)) {
      const waited = passThrough(step, input, notBefore);
      feeds[next]!.push(waited.feeds);
      steps.push(waited.placed(next, index));
      continue;
    }
    const held = fixed.find((each) => each.chain === next && each.step === index && each.part === 'all');
    if (held) {
      feeds[next]!.push([feedOfBooking(now, step, held)]);
      steps.push(placedOf(held, held.runStart));
      continue;
    }
    const placing = placingsOf(now, step, input, notBefore)[0];
    if (!placing) return { refused: planFull(plan, step), allTried: false };
    if (placing.end > giveUpAfter) return { refused: planFull(plan, step), allTried: false };
    const booking = bookingOf(now, job, next, index, step, placing);
    bookings.push(booking);
    steps.push(placedOf(booking, placing.readyAt));
    feeds[next]!.push([feedOf(step, placing)]);
    if (left > 0) now = withBooking(now, booking);
  }
  return {
    bookings,
    steps,
    endsAt: Math.max(notBefore, ...steps.map((placed) => placed.end)),
    allTried: false,
  };
}

/** The placings of a step on the units of its station, earliest first; alike empty units count as one. */
function placingsOf(plan: Plan, step: WorkStep, feeds: readonly Feed[], notBefore: EpochS): Placing[] {
  const station = plan.shop.stations.get(step.station)!;
  const placings: Placing[] = [];
  for (let i = 0; i < station.count; i += 1) {
    const unit = station.firstUnit + i;
    const track = plan.tracks[unit]!;
    const twin =
      track.size === 0 &&
      placings.some(
        (other) =>
          plan.tracks[other.unit]!.size === 0 &&
          plan.shop.units[other.unit]!.hours === plan.shop.units[unit]!.hours,
      );
    const placing = twin ? null : placeOnUnit(plan, unit, step, feeds, notBefore);
    if (placing) placings.push(placing);
  }
  return placings.sort(
    (a, b) => a.end - b.end || a.runStart - b.runStart || b.start - a.start || a.unit - b.unit,
  );
}

/** Whether insert's proof holds for a job of one chain. */
function isProvable(plan: Plan, job: Job): boolean {
  const likes = new Set<string>();
  for (const step of job.chains[0]!.steps) {
    if (step.kind === 'wait' || isNothing(step)) continue;
    if (!plan.shop.stations.get(step.station)!.alike) return false;
    if (!step.like) continue;
    const like = `${step.station} ${step.like.key}`;
    if (likes.has(like)) return false;
    likes.add(like);
  }
  return true;
}

/** A step without any work needs no station. */
function isNothing(step: WorkStep): boolean {
  return Math.ceil(step.setUpS) + runSecondsOf(step) === 0;
}

function startFeeds(notBefore: EpochS, waits: readonly Feed[]): readonly Feed[] {
  return waits.length > 0 ? waits : [feedAt(notBefore, notBefore)];
}

function endOf(feeds: readonly Feed[], notBefore: EpochS): EpochS {
  return Math.max(notBefore, ...feeds.map((feed) => feed.end));
}

/** What a wait (or a step without work) makes of its input. */
function passThrough(
  step: { readonly key: string; readonly waitS?: number },
  feeds: readonly Feed[],
  notBefore: EpochS,
): { feeds: readonly Feed[]; placed(chain: number, index: number): PlacedStep } {
  const waitS = Math.ceil(step.waitS ?? 0);
  const start = Math.max(notBefore, ...feeds.map((feed) => feed.runStart));
  const passed = feeds.map((feed) => ({ ...feed, waitS: feed.waitS + waitS, end: feed.end + waitS }));
  return {
    feeds: passed,
    placed: (chain, index) => ({
      chain,
      step: index,
      key: step.key,
      station: null,
      unit: 0,
      readyAt: start,
      start,
      runStart: start,
      end: endOf(passed, notBefore),
    }),
  };
}

function feedOf(step: WorkStep, placing: Placing): Feed {
  return {
    hours: placing.hours,
    runWork: placing.runWork,
    runS: placing.runS,
    batches: step.batches,
    batchS: step.batchS,
    batchPieces: step.batchPieces,
    waitS: 0,
    whole: step.flow === 'whole',
    runStart: placing.runStart,
    end: placing.end,
  };
}

/** What a step handed over by the floor or fixed before hands over: its batches evenly over the time it has. */
function feedOfBooking(plan: Plan, step: WorkStep, booking: Booking): Feed {
  const hours = hoursOfBooking(plan.shop.units[unitOf(plan.shop, booking)]!, booking);
  const runWork = hours.workAt(booking.runStart);
  const runS = hours.workAt(booking.end) - runWork;
  return {
    hours,
    runWork,
    runS,
    batches: step.batches,
    batchS: step.batches > 0 ? runS / step.batches : 0,
    batchPieces: step.batchPieces,
    waitS: 0,
    whole: step.flow === 'whole',
    runStart: booking.runStart,
    end: booking.end,
  };
}

function bookingOf(
  plan: Plan,
  job: Job,
  chain: number,
  index: number,
  step: WorkStep,
  placing: Placing,
): Booking {
  const { unit } = plan.shop.units[placing.unit]!;
  return {
    job: job.id,
    chain,
    step: index,
    key: step.key,
    part: 'all',
    station: step.station,
    unit,
    heldFrom: placing.heldFrom,
    start: placing.start,
    runStart: placing.runStart,
    end: placing.end,
    setUpS: placing.setUpS,
    runS: placing.runS,
    setUpCrewShare: step.setUpS > 0 ? step.setUpCrewShare : 0,
    crewShare: runSecondsOf(step) > 0 ? step.crewShare : 0,
    likeKey: step.like?.key ?? null,
    joined: placing.joined,
  };
}

function placedOf(booking: Booking, readyAt: EpochS): PlacedStep {
  const { chain, step, key, station, unit, start, runStart, end } = booking;
  return { chain, step, key, station, unit, readyAt, start, runStart, end };
}

function planFull(plan: Plan, step: WorkStep | null): PlanReason {
  return {
    code: 'plan-full',
    params: { horizonDays: plan.shop.days, ...(step ? { station: step.station, step: step.key } : {}) },
  };
}
