import type { Day } from '../../src/promise/index.ts';

/** Formats days, times and numbers in a language and a time zone. */
export type ClockWords = {
  /** such as "Monday, March 2". */
  day(day: Day): string;
  /** such as "Mon 2". */
  shortDay(day: Day): string;
  /** day and year. */
  fullDay(day: Day): string;
  /** an hour for an axis, such as "8 AM" or "08:00". @param at epoch seconds */
  hour(at: number): string;
  time(at: number): string;
  /** day and time. */
  moment(at: number): string;
  number(value: number): string;
  /** such as "5 min". */
  minutes(value: number): string;
  percent(share: number): string;
};

/** @param language a tag of BCP 47 @param timeZone its IANA name */
export function clockWords(language: string, timeZone: string): ClockWords {
  const format = (options: Intl.DateTimeFormatOptions, zone = timeZone): Intl.DateTimeFormat =>
    new Intl.DateTimeFormat(language, { calendar: 'gregory', timeZone: zone, ...options });
  const ofDay = (options: Intl.DateTimeFormatOptions): ((day: Day) => string) => {
    const days = format(options, 'UTC');
    return (day) => days.format(Date.parse(day));
  };
  const ofInstant = (formatter: Intl.DateTimeFormat): ((at: number) => string) => {
    return (at) => formatter.format(at * 1000);
  };
  const halves = format({ hour: 'numeric' }).resolvedOptions().hourCycle?.startsWith('h1') ?? false;
  const time = format({ hour: halves ? 'numeric' : '2-digit', minute: '2-digit' });
  const numbers = new Intl.NumberFormat(language, { maximumFractionDigits: 2 });
  const minutes = new Intl.NumberFormat(language, {
    style: 'unit',
    unit: 'minute',
    unitDisplay: 'short',
    maximumFractionDigits: 0,
  });
  const percents = new Intl.NumberFormat(language, { style: 'percent', maximumFractionDigits: 0 });
  return {
    day: ofDay({ weekday: 'long', month: 'long', day: 'numeric' }),
    shortDay: ofDay({ weekday: 'short', day: 'numeric' }),
    fullDay: ofDay({ year: 'numeric', month: 'long', day: 'numeric' }),
    hour: ofInstant(halves ? format({ hour: 'numeric' }) : time),
    time: ofInstant(time),
    moment: ofInstant(
      format({ weekday: 'short', month: 'short', day: 'numeric', hour: '2-digit', minute: '2-digit' }),
    ),
    minutes: (value) => minutes.format(value),
    number: (value) => numbers.format(value),
    percent: (share) => percents.format(share),
  };
}
