import { type OpenWindow, PlanInputError, type WeekHours, type WorkingCalendar } from '../types.ts';
import { clockMinutes, type DayNumber, dayNumber, weekdayOf } from './day.ts';

const WEEKDAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;

/** A window in minutes after midnight of the day it starts on; `toMin` over 1440 reaches into the next day. */
export type MinuteWindow = {
  readonly fromMin: number;
  readonly toMin: number;
};

/** An extra shift with its day as a number. */
export type MinuteShift = MinuteWindow & {
  readonly day: DayNumber;
  readonly stations: readonly string[] | null;
};

/** Checks a week and turns it into minutes, Monday first. */
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

/** The days of a working calendar: which are worked, and which stop carriers. Knows every day, however far. */
export class WorkingDays {
  readonly week: readonly (readonly MinuteWindow[])[];
  readonly shifts: readonly MinuteShift[];
  /** minutes after midnight; null: none. */
  readonly cutoffMin: number | null;
  readonly #closed: readonly { from: DayNumber; to: DayNumber; holiday: boolean }[];
  readonly #shiftDays: ReadonlySet<DayNumber>;

  /** @throws PlanInputError when a day, a time or an order of days is wrong */
  constructor(calendar: WorkingCalendar) {
    this.week = minuteWeek(calendar.week, 'calendar.week');
    this.shifts = calendar.extraShifts.map((shift, i) => ({
      day: dayNumber(shift.day, `calendar.extraShifts[${i}].day`),
      stations: shift.stations ?? null,
      ...minuteWindow(shift, `calendar.extraShifts[${i}]`),
    }));
    this.#shiftDays = new Set(this.shifts.map((shift) => shift.day));
    this.cutoffMin = calendar.cutoff === null ? null : clockMinutes(calendar.cutoff, 'calendar.cutoff', true);
    this.#closed = calendar.closures.map((closure, i) => {
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

  /** Whether no window of the week opens on a day. */
  isClosed(day: DayNumber): boolean {
    return this.#closed.some((closure) => closure.from <= day && day <= closure.to);
  }

  /** Whether some shift of the shop starts on a day. */
  isWorking(day: DayNumber): boolean {
    if (this.#shiftDays.has(day)) return true;
    return this.week[weekdayOf(day)]!.length > 0 && !this.isClosed(day);
  }

  /** Whether a carrier moves on a day: Monday to Friday without holidays. */
  isCarrierDay(day: DayNumber): boolean {
    if (weekdayOf(day) > 4) return false;
    return !this.#closed.some((closure) => closure.holiday && closure.from <= day && day <= closure.to);
  }
}

/** The furthest a search for a working day looks, days: a shop that never opens again has none. */
const FURTHEST_DAYS = 3_660;

/** The first day from `day` on that passes; null when there is none within ten years. */
export function firstDay(day: DayNumber, passes: (day: DayNumber) => boolean): DayNumber | null {
  for (let i = 0; i <= FURTHEST_DAYS; i++) if (passes(day + i)) return day + i;
  return null;
}

/** The `count`th day after `day` that passes (`day` itself for 0); null when there is none within ten years. */
export function daysLater(
  day: DayNumber,
  count: number,
  passes: (day: DayNumber) => boolean,
): DayNumber | null {
  let at: DayNumber | null = day;
  for (let i = 0; i < count && at !== null; i++) at = firstDay(at + 1, passes);
  return at;
}
