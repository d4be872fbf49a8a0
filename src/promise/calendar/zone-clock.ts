import { Temporal } from 'temporal-polyfill';
import { type Day, type EpochS, PlanInputError } from '../types.ts';
import { type DayNumber, dayNumber, dayOfNumber } from './day.ts';

const DAY_S = 86_400;

/**
 * Clock of one time zone over a run of days. Slow work is done once per day when first asked; after that everything
 * is number arithmetic. Days outside the run are worked out on demand.
 */
export class ZoneClock {
  readonly timeZone: string;
  readonly #starts = new Map<DayNumber, EpochS>();
  /** whether the clock runs through a day without a change. */
  readonly #even = new Map<DayNumber, boolean>();

  /** @throws PlanInputError when the zone is not known to the runtime */
  constructor(timeZone: string) {
    this.timeZone = timeZone;
    try {
      Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(timeZone);
    } catch {
      throw new PlanInputError(
        `timeZone is '${timeZone}'; it must be an IANA time zone name such as Europe/Berlin`,
      );
    }
  }

  /** The first instant of a day. */
  startOf(day: DayNumber): EpochS {
    let start = this.#starts.get(day);
    if (start === undefined) {
      start =
        Temporal.PlainDate.from(dayOfNumber(day)).toZonedDateTime(this.timeZone).epochMilliseconds / 1000;
      this.#starts.set(day, start);
    }
    return start;
  }

  /** The day an instant falls on. */
  dayAt(at: EpochS): DayNumber {
    let day = Math.floor(at / DAY_S);
    while (this.startOf(day) > at) day--;
    while (this.startOf(day + 1) <= at) day++;
    return day;
  }

  /**
   * The first instant of a day at which the clock shows `minutes` after midnight, or later. So a time skipped in
   * spring is the moment of the change, and of a time that comes twice in autumn the first is taken.
   */
  at(day: DayNumber, minutes: number): EpochS {
    const start = this.startOf(day);
    if (minutes >= 1440) return this.startOf(day + 1);
    if (this.#isEven(day)) return start + minutes * 60;
    const wall = Temporal.PlainDate.from(dayOfNumber(day)).toPlainDateTime({
      hour: Math.floor(minutes / 60),
      minute: minutes % 60,
    });
    const first = wall.toZonedDateTime(this.timeZone, { disambiguation: 'earlier' });
    if (first.toPlainDateTime().equals(wall)) return Math.max(start, first.epochMilliseconds / 1000);
    const change = first.getTimeZoneTransition('next');
    return change === null ? start : change.epochMilliseconds / 1000;
  }

  /** Whether the clock runs through the day without a change. */
  #isEven(day: DayNumber): boolean {
    let even = this.#even.get(day);
    if (even === undefined) {
      const start = this.startOf(day);
      even = this.startOf(day + 1) - start === DAY_S;
      if (even) {
        const change = Temporal.Instant.fromEpochMilliseconds(start * 1000)
          .toZonedDateTimeISO(this.timeZone)
          .getTimeZoneTransition('next');
        even = change === null || change.epochMilliseconds / 1000 >= start + DAY_S;
      }
      this.#even.set(day, even);
    }
    return even;
  }
}

/** The instants at which the clock of a zone is changed, from one day up to and without another. */
export function clockChanges(timeZone: string, from: Day, to: Day): { at: EpochS; shiftS: number }[] {
  const clock = new ZoneClock(timeZone);
  const end = clock.startOf(dayNumber(to));
  const changes: { at: EpochS; shiftS: number }[] = [];
  let at = Temporal.Instant.fromEpochMilliseconds(clock.startOf(dayNumber(from)) * 1000 - 1);
  for (;;) {
    const before = at.toZonedDateTimeISO(timeZone);
    const next = before.getTimeZoneTransition('next');
    if (next === null || next.epochMilliseconds / 1000 >= end) return changes;
    const eve = next.subtract({ nanoseconds: 1 });
    changes.push({
      at: next.epochMilliseconds / 1000,
      shiftS: (next.offsetNanoseconds - eve.offsetNanoseconds) / 1e9,
    });
    at = next.toInstant();
  }
}
