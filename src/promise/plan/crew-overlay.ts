import type { OpenHours } from '../calendar/open-hours.ts';
import type { EpochS } from '../calendar/time.ts';
import type { CrewProfile } from './crew-profile.ts';

/**
 * The crew load of the steps of a job placed so far, on top of a profile that does not contain them. A job has few
 * steps: scanning them costs less than working each into the profile.
 */
export class CrewOverlay {
  /** segment i runs from times[i] to times[i + 1] at levels[i]; the first and last levels are 0. */
  readonly #times: EpochS[];
  readonly #levels: number[];

  constructor(times: readonly EpochS[] = [Number.NEGATIVE_INFINITY], levels: readonly number[] = [0]) {
    this.#times = [...times];
    this.#levels = [...levels];
  }

  copy(): CrewOverlay {
    return new CrewOverlay(this.#times, this.#levels);
  }

  /** Adds a load of `parts` in [from, to). */
  add(from: EpochS, to: EpochS, parts: number): void {
    if (to <= from || parts === 0) return;
    const first = this.#splitAt(from);
    const end = this.#splitAt(to);
    for (let i = first; i < end; i++) this.#levels[i]! += parts;
  }

  /** Like `CrewProfile.firstFit`, for the sum of a profile and this overlay. */
  firstFit(crew: CrewProfile, hours: OpenHours, fromOpenS: number, lengthS: number, limit: number): number {
    let start = fromOpenS;
    for (;;) {
      start = crew.firstFit(hours, start, lengthS, limit);
      if (start + lengthS > hours.totalS) return start;
      const overloadEnd = this.#endOfLastOverload(crew, hours, start, lengthS, limit);
      if (overloadEnd === undefined) return start;
      start = overloadEnd;
    }
  }

  /** Where the last overload of the sum within `lengthS` open seconds ends, in open seconds. */
  #endOfLastOverload(
    crew: CrewProfile,
    hours: OpenHours,
    fromOpenS: number,
    lengthS: number,
    limit: number,
  ): number | undefined {
    const from = hours.startAt(fromOpenS);
    const to = hours.endAt(fromOpenS + lengthS);
    for (let i = this.#times.length - 2; i >= 0; i--) {
      const level = this.#levels[i]!;
      const start = Math.max(from, this.#times[i]!);
      const end = Math.min(to, this.#times[i + 1]!);
      if (level === 0 || end <= start) continue;
      for (const open of hours.between(start, end).reverse()) {
        const overloadEnd = crew.endOfLastOverload(open.from, open.to, limit - level);
        if (overloadEnd > open.from) return hours.openSecondsAt(Math.min(overloadEnd, open.to));
      }
    }
    return undefined;
  }

  /** Index of the segment that starts at an instant, splitting one if need be. */
  #splitAt(at: EpochS): number {
    let i = this.#times.length;
    while (this.#times[i - 1]! > at) i--;
    if (this.#times[i - 1] === at) return i - 1;
    this.#times.splice(i, 0, at);
    this.#levels.splice(i, 0, this.#levels[i - 1]!);
    return i;
  }
}
