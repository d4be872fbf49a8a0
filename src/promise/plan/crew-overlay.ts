import type { OpenHours } from '../calendar/open-time.ts';
import type { EpochS } from '../types.ts';
import type { CrewProfile } from './crew-profile.ts';

/**
 * What the steps of a job placed so far take of the crew, on top of a profile they are not in: while a job is placed its
 * own steps are few, and to work each into the profile would cost more than to look at them.
 */
export class CrewOverlay {
  /** segment i runs from times[i] to times[i + 1] at levels[i]; the first level is 0, the last too. */
  readonly #times: EpochS[];
  readonly #levels: number[];

  constructor(times: readonly EpochS[] = [Number.NEGATIVE_INFINITY], levels: readonly number[] = [0]) {
    this.#times = [...times];
    this.#levels = [...levels];
  }

  copy(): CrewOverlay {
    return new CrewOverlay(this.#times, this.#levels);
  }

  /** Takes `parts` more in [from, to). */
  add(from: EpochS, to: EpochS, parts: number): void {
    if (to <= from || parts === 0) return;
    const first = this.#edge(from);
    const end = this.#edge(to);
    for (let i = first; i < end; i++) this.#levels[i]! += parts;
  }

  /** As `CrewProfile.firstUnder`, of a profile with this on top. */
  firstUnder(crew: CrewProfile, hours: OpenHours, fromWork: number, lengthS: number, limit: number): number {
    let free = fromWork;
    for (;;) {
      free = crew.firstUnder(hours, free, lengthS, limit);
      if (free + lengthS > hours.totalS) return free;
      const over = this.#lastOver(crew, hours, free, lengthS, limit);
      if (over === undefined) return free;
      free = over;
    }
  }

  /** Of the last stretch in so many seconds in which both together take more than `limit`, the end, in open seconds. */
  #lastOver(
    crew: CrewProfile,
    hours: OpenHours,
    fromWork: number,
    lengthS: number,
    limit: number,
  ): number | undefined {
    const from = hours.startAt(fromWork);
    const to = hours.endAt(fromWork + lengthS);
    for (let i = this.#times.length - 2; i >= 0; i--) {
      const level = this.#levels[i]!;
      const begin = Math.max(from, this.#times[i]!);
      const end = Math.min(to, this.#times[i + 1]!);
      if (level === 0 || end <= begin) continue;
      for (const open of hours.between(begin, end).reverse()) {
        const until = crew.lastOver(open.from, open.to, limit - level);
        if (until > open.from) return hours.workAt(Math.min(until, open.to));
      }
    }
    return undefined;
  }

  /** The segment that begins at an instant, made where there is none. */
  #edge(at: EpochS): number {
    let i = this.#times.length;
    while (this.#times[i - 1]! > at) i--;
    if (this.#times[i - 1] === at) return i - 1;
    this.#times.splice(i, 0, at);
    this.#levels.splice(i, 0, this.#levels[i - 1]!);
    return i;
  }
}
