import { PlanInputError } from '../input-checks.ts';
import { clockMinutes, type DayNumber, dayNumber, weekdayOf } from './day.ts';
import type { OpenWindow, WeekHours, WorkingCalendar } from './shop-spec.ts';

const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** A window in minutes after midnight of the day it starts on; `toMin` over 1440 reaches into the next day. */
export type MinuteWindow = {
  readonly fromMin: number;
  readonly toMin: number;
};

/** An extra shift with its day as a number. */
export type MinuteShift = MinuteWindow & {
  readonly day: DayNumber;
  /** default all. */
  readonly stations: readonly string[] | undefined;
};

/**
 * A week in minutes, Monday first.
 *
 * @throws PlanInputError when a time is wrong
 */
export function minuteWeek(week: WeekHours, place: string): readonly (readonly MinuteWindow[])[] {
  return WEEKDAYS.map((name) =>
    week[name].map((window, i) => minuteWindow(window, `${place}.${name}[${i}]`)),
  );
}

function minuteWindow(window: OpenWindow, place: string): MinuteWindow {
  const fromMin = clockMinutes(window.from, `${place}.from`);
  const toMin = clockMinutes(window.to, `${place}.to`, true);
  return { fromMin, toMin: toMin > fromMin ? toMin : toMin + 1440 };
}

/** Which days the shop works and on which carriers do. Answers for any day, however far in the future. */
export class WorkingDays {
  readonly week: readonly (readonly MinuteWindow[])[];
  readonly shifts: readonly MinuteShift[];
  /** minutes after midnight; undefined for no cut-off. */
  readonly cutoffMin: number | undefined;
  readonly #closures: readonly { from: DayNumber; to: DayNumber; holiday: boolean }[];
  readonly #shiftDays: ReadonlySet<DayNumber>;

  /** @throws PlanInputError when a day or time is wrong, or a closure ends before it starts */
  constructor(calendar: WorkingCalendar) {
    this.week = minuteWeek(calendar.week, 'calendar.week');
    this.shifts = calendar.extraShifts.map((shift, i) => ({
      day: dayNumber(shift.day, `calendar.extraShifts[${i}].day`),
      stations: shift.stations,
      ...minuteWindow(shift, `calendar.extraShifts[${i}]`),
    }));
    this.#shiftDays = new Set(this.shifts.map((shift) => shift.day));
    this.cutoffMin =
      calendar.cutoff === null ? undefined : clockMinutes(calendar.cutoff, 'calendar.cutoff', true);
    this.#closures = calendar.closures.map((closure, i) => {
      const from = dayNumber(closure.from, `calendar.closures[${i}].from`);
      const to = dayNumber(closure.to, `calendar.closures[${i}].to`);
      if (to < from) {
        throw new PlanInputError(
          `calendar.closures[${i}].to is '${closure.to}'; it must not be before its from, '${closure.from}'`,
        );
      }
      return { from, to, holiday: closure.kind === 'holiday' };
    });
  }

  /** Whether the windows of the week stay closed on a day. */
  isClosed(day: DayNumber): boolean {
    return this.#closures.some(({ from, to }) => from <= day && day <= to);
  }

  /** Whether some shift of the shop starts on a day. */
  isWorking(day: DayNumber): boolean {
    if (this.#shiftDays.has(day)) return true;
    return this.week[weekdayOf(day)]!.length > 0 && !this.isClosed(day);
  }

  /** Whether orders reach customers on a day: by a carrier Monday to Friday without holidays, else when the shop works. */
  isDeliveryDay(kind: 'pick-up' | 'carrier', day: DayNumber): boolean {
    if (kind === 'pick-up') return this.isWorking(day);
    if (weekdayOf(day) > 4) return false;
    return !this.#closures.some(({ from, to, holiday }) => holiday && from <= day && day <= to);
  }
}

/** How far to search for a day: a shop that is closed for good has no next working day. */
const MAX_SEARCH_DAYS = 3_660;

/** The first day from `day` on that matches; undefined when there is none within ten years. */
export function firstDayFrom(day: DayNumber, matches: (day: DayNumber) => boolean): DayNumber | undefined {
  for (let i = 0; i <= MAX_SEARCH_DAYS; i++) if (matches(day + i)) return day + i;
  return undefined;
}

/** The `count`th day after `day` that matches (`day` itself for 0); undefined when there is none within ten years. */
export function nthDayAfter(
  day: DayNumber,
  count: number,
  matches: (day: DayNumber) => boolean,
): DayNumber | undefined {
  let at: DayNumber | undefined = day;
  for (let i = 0; i < count && at !== undefined; i++) at = firstDayFrom(at + 1, matches);
  return at;
}
