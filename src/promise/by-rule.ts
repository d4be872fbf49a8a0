import { placingsOf } from './choose-unit.ts';
import { type Feed, firstReadyAt, isNothing } from './hand-over.ts';
import { feedOf, feedOfBooking, JobFeeds, passThrough } from './job-feeds.ts';
import { bookingOf, type Outcome, placedOf, planFull } from './placed.ts';
import { type Plan, withBooking } from './plan.ts';
import type { Booking, EpochS, Job, PlacedStep } from './types.ts';

/** A job of several chains, or one partly fixed: by the dispatch rule. */
export function byRule(
  plan: Plan,
  job: Job,
  notBefore: EpochS,
  fixed: readonly Booking[],
  giveUpAfter: EpochS = Number.POSITIVE_INFINITY,
): Outcome {
  let now = plan;
  const bookings: Booking[] = [];
  const steps: PlacedStep[] = [];
  const feeds = new JobFeeds(job, notBefore);
  let left = job.chains.reduce((sum, chain) => sum + chain.steps.length, 0);

  while (left > 0) {
    let next = -1;
    let input: readonly Feed[] = [];
    let ready = Number.POSITIVE_INFINITY;
    for (let c = 0; c < job.chains.length; c += 1) {
      const step = feeds.nextStep(c);
      const given = step ? feeds.inputOf(c) : null;
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
    const index = feeds.placedIn(next);
    const step = feeds.nextStep(next)!;
    left -= 1;
    if (step.kind === 'wait' || isNothing(step)) {
      const waited = passThrough(step, input, notBefore);
      feeds.put(next, waited.feeds);
      steps.push(waited.placed(next, index));
      continue;
    }
    const held = fixed.find((each) => each.chain === next && each.step === index && each.part === 'all');
    if (held) {
      feeds.put(next, [feedOfBooking(now, step, held)]);
      steps.push(placedOf(held, held.runStart));
      continue;
    }
    const placing = placingsOf(now, step, input, notBefore, false)[0];
    if (!placing) return { refused: planFull(plan, step), allTried: false };
    if (placing.end > giveUpAfter) return { refused: planFull(plan, step), allTried: false };
    const booking = bookingOf(now, job, next, index, step, placing);
    bookings.push(booking);
    steps.push(placedOf(booking, placing.readyAt));
    feeds.put(next, [feedOf(step, placing)]);
    if (left > 0) now = withBooking(now, booking);
  }
  return {
    bookings,
    steps,
    endsAt: Math.max(notBefore, ...steps.map((placed) => placed.end)),
    allTried: false,
  };
}
