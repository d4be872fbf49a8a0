import { Temporal } from 'temporal-polyfill';
import { PlanInputError } from '../input-checks.ts';
import { type DayNumber, dayNumber, dayOfNumber } from './day.ts';
import type { Day, EpochS } from './time.ts';

const DAY_S = 86_400;

/** The clock of one time zone. The slow part of the arithmetic is done once per day, when first needed. */
export class ZoneClock {
  readonly timeZone: string;
  readonly #starts = new Map<DayNumber, EpochS>();
  readonly #isRegular = new Map<DayNumber, boolean>();

  /** @throws PlanInputError when the runtime does not know the zone */
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
   * The first instant of a day at which the clock shows `minutes` after midnight or later: for a time that is skipped
   * in spring the moment of the change, for one that comes twice in autumn the first.
   */
  at(day: DayNumber, minutes: number): EpochS {
    const start = this.startOf(day);
    if (minutes >= 1440) return this.startOf(day + 1);
    if (this.#isRegularDay(day)) return start + minutes * 60;
    const wall = Temporal.PlainDate.from(dayOfNumber(day)).toPlainDateTime({
      hour: Math.floor(minutes / 60),
      minute: minutes % 60,
    });
    const first = wall.toZonedDateTime(this.timeZone, { disambiguation: 'earlier' });
    if (first.toPlainDateTime().equals(wall)) return Math.max(start, first.epochMilliseconds / 1000);
    const change = first.getTimeZoneTransition('next');
    return change === null ? start : change.epochMilliseconds / 1000;
  }

  /** Whether the clock is not changed on a day. */
  #isRegularDay(day: DayNumber): boolean {
    let regular = this.#isRegular.get(day);
    if (regular === undefined) {
      const start = this.startOf(day);
      regular = this.startOf(day + 1) - start === DAY_S;
      if (regular) {
        const change = Temporal.Instant.fromEpochMilliseconds(start * 1000)
          .toZonedDateTimeISO(this.timeZone)
          .getTimeZoneTransition('next');
        regular = change === null || change.epochMilliseconds / 1000 >= start + DAY_S;
      }
      this.#isRegular.set(day, regular);
    }
    return regular;
  }
}

/** When the clock of a zone is changed, from one day up to but not including another, and by how many seconds. */
export function clockChanges(timeZone: string, from: Day, to: Day): { at: EpochS; shiftS: number }[] {
  const clock = new ZoneClock(timeZone);
  const end = clock.startOf(dayNumber(to));
  const changes: { at: EpochS; shiftS: number }[] = [];
  let at = Temporal.Instant.fromEpochMilliseconds(clock.startOf(dayNumber(from)) * 1000 - 1);
  for (;;) {
    const before = at.toZonedDateTimeISO(timeZone);
    const next = before.getTimeZoneTransition('next');
    if (next === null || next.epochMilliseconds / 1000 >= end) return changes;
    const last = next.subtract({ nanoseconds: 1 });
    changes.push({
      at: next.epochMilliseconds / 1000,
      shiftS: (next.offsetNanoseconds - last.offsetNanoseconds) / 1e9,
    });
    at = next.toInstant();
  }
}
