import { PlanInputError } from '../input-checks.ts';
import type { ClockTime, Day } from './time.ts';

/** Days since 1970-01-01; a whole number. */
export type DayNumber = number;

const DAY_PATTERN = /^(\d{4})-(\d{2})-(\d{2})$/;
const CLOCK_PATTERN = /^([01]\d|2[0-3]):([0-5]\d)$/;

/**
 * The number of a day in the proleptic Gregorian calendar.
 *
 * @throws PlanInputError unless it is a day from 0000-01-01 to 9999-12-31
 */
export function dayNumber(day: Day, place = 'day'): DayNumber {
  const parts = DAY_PATTERN.exec(day);
  const ms = parts ? Date.UTC(2000, Number(parts[2]) - 1, Number(parts[3])) : Number.NaN;
  if (!parts || Number.isNaN(ms)) {
    throw new PlanInputError(`${place} is '${day}'; it must be a day written YYYY-MM-DD`);
  }
  const number = dayNumberOf(Number(parts[1]), Number(parts[2]), Number(parts[3]));
  if (dayOfNumber(number) !== day) {
    throw new PlanInputError(`${place} is '${day}', which is not in the calendar`);
  }
  return number;
}

/** The inverse of `dayNumber`. */
export function dayOfNumber(number: DayNumber): Day {
  return new Date(number * 86_400_000).toISOString().slice(0, 10);
}

/** 0 for Monday to 6 for Sunday. */
export function weekdayOf(number: DayNumber): number {
  // 1970-01-01 was a Thursday
  return (((number + 3) % 7) + 7) % 7;
}

/** The ISO 8601 week of a day: the week with the first Thursday of the year is its week 1. */
export function isoWeekOf(day: Day): { year: number; week: number; weekday: number } {
  const number = dayNumber(day);
  const weekday = weekdayOf(number);
  const thursday = number - weekday + 3;
  const year = Number(dayOfNumber(thursday).slice(0, 4));
  return { year, week: Math.floor((thursday - dayNumberOf(year, 1, 1)) / 7) + 1, weekday: weekday + 1 };
}

/**
 * Minutes after midnight on the clock, 0 to 1440.
 *
 * @throws PlanInputError unless it is `HH:MM`; `24:00` is allowed only where `endAllowed`
 */
export function clockMinutes(time: ClockTime, place: string, endAllowed = false): number {
  if (endAllowed && time === '24:00') return 1440;
  const parts = CLOCK_PATTERN.exec(time);
  if (!parts) {
    throw new PlanInputError(
      `${place} is '${time}'; it must be a time from 00:00 to ${endAllowed ? '24:00' : '23:59'}`,
    );
  }
  return Number(parts[1]) * 60 + Number(parts[2]);
}

function dayNumberOf(year: number, month: number, day: number): DayNumber {
  // Date.UTC takes years 0 to 99 for 1900 to 1999; setUTCFullYear does not
  return new Date(0).setUTCFullYear(year, month - 1, day) / 86_400_000;
}
