import type { Week } from '../shop.ts';
import type { FaultList, Sections } from './sections.ts';

const DAYS = ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const;
const DAY_MIN = 24 * 60;

/** Checks the shop's time zone, hours and days. */
export function checkTime(sections: Sections, list: FaultList): void {
  const { shop, calendar, crew } = sections;
  if (shop !== undefined && !isTimeZone(shop.timeZone))
    list.add(
      'shop.timeZone',
      shop.timeZone,
      `there is no time zone "${shop.timeZone}"`,
      'a name of the IANA time zone database, such as "Europe/Lisbon"',
    );
  if (calendar !== undefined) {
    checkWeek('calendar.week', calendar.week, list);
    const open = DAYS.some((day) => calendar.week[day].length > 0) || calendar.extraShifts.length > 0;
    if (!open)
      list.add('calendar.week', 'no hours', 'the shop is never open', 'at least one interval on one day');
    calendar.closures.forEach(({ from, to }, index) => {
      if (from > to)
        list.add(
          `calendar.closures.${index}.to`,
          to,
          'the closure ends before it begins',
          `${from} or later`,
        );
    });
    calendar.extraShifts.forEach(({ from, to }, index) => {
      if (from === to)
        list.add(
          `calendar.extraShifts.${index}.to`,
          to,
          'the shift has no length',
          `a time other than ${from}`,
        );
    });
  }
  if (crew?.week !== undefined) checkWeek('crew.week', crew.week, list);
  for (const { index, item } of sections.stations)
    if (item.week !== undefined) checkWeek(`stations.${index}.week`, item.week, list);
}

function checkWeek(at: string, week: Week, list: FaultList): void {
  for (const day of DAYS) checkHours(`${at}.${day}`, week[day], list);
}

function checkHours(at: string, hours: Week['mon'], list: FaultList): void {
  const spans = hours.map(({ from, to }, index) => {
    const start = minutes(from);
    const end = minutes(to);
    return { index, start, end: end > start ? end : end + DAY_MIN, from, to };
  });
  for (const { index, from, to } of spans)
    if (from === to || from === '24:00')
      list.add(
        `${at}.${index}`,
        `${from}-${to}`,
        'the interval has no length',
        'an end other than its start',
      );
  const sorted = [...spans].sort((one, other) => one.start - other.start);
  sorted.forEach((span, place) => {
    const before = sorted[place - 1];
    if (before !== undefined && span.start < before.end)
      list.add(
        `${at}.${span.index}`,
        `${span.from}-${span.to}`,
        `the interval overlaps ${before.from}-${before.to}`,
        `hours outside ${before.from}-${before.to}`,
      );
  });
}

function minutes(time: string): number {
  const [hours, mins] = time.split(':');
  return Number(hours) * 60 + Number(mins);
}

/** Whether the runtime knows a time zone. Offsets such as "+02:00" are refused: they have no daylight saving time. */
export function isTimeZone(name: string): boolean {
  if (!/^[A-Za-z][A-Za-z0-9_+\-/]*$/.test(name)) return false;
  try {
    new Intl.DateTimeFormat('en', { timeZone: name });
    return true;
  } catch {
    return false;
  }
}
