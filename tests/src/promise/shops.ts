import {
  compileShopHours,
  type Day,
  type EpochS,
  type Job,
  type OpenWindow,
  type ShopHours,
  type ShopSpec,
  type Step,
  type WeekHours,
  type WorkingCalendar,
  type WorkStep,
} from '../../../src/promise/index.ts';

/** An instant written in ISO 8601. */
export function at(text: string): EpochS {
  const ms = Date.parse(text);
  if (Number.isNaN(ms)) throw new RangeError(`'${text}' is no instant`);
  return ms / 1000;
}

export function iso(instant: EpochS): string {
  return new Date(instant * 1000).toISOString().replace('.000Z', 'Z');
}

/** Windows written as `08:00-12:00`. */
export function windows(...texts: string[]): OpenWindow[] {
  return texts.map((text) => ({ from: text.slice(0, 5), to: text.slice(6) }));
}

export function week(days: Partial<Record<keyof WeekHours, OpenWindow[]>>): WeekHours {
  return { mon: [], tue: [], wed: [], thu: [], fri: [], sat: [], sun: [], ...days };
}

export const OFFICE = windows('08:00-12:00', '13:00-17:00');

export const MONDAY_TO_FRIDAY: WeekHours = week({
  mon: OFFICE,
  tue: OFFICE,
  wed: OFFICE,
  thu: OFFICE,
  fri: OFFICE,
});

export function calendar(changes: Partial<WorkingCalendar> = {}): WorkingCalendar {
  return {
    timeZone: 'UTC',
    week: MONDAY_TO_FRIDAY,
    closures: [],
    extraShifts: [],
    cutoff: null,
    ...changes,
  };
}

/** A UTC shop with a printer, a press and a crew of two, from Monday 2 March 2026 on, unless changed. */
export function shopOf(
  changes: Partial<Omit<ShopSpec, 'calendar'>> & { calendar?: Partial<WorkingCalendar> } = {},
  firstDay: Day = '2026-03-02',
  days = 60,
): ShopHours {
  return compileShopHours(
    {
      stations: changes.stations ?? [
        { id: 'printer', count: 1 },
        { id: 'press', count: 1 },
      ],
      crew: changes.crew ?? { count: 2 },
      calendar: calendar(changes.calendar),
    },
    firstDay,
    days,
  );
}

/** Work of one batch that needs one person. */
export function work(station: string, minutes: number, more: Partial<WorkStep> = {}): WorkStep {
  return {
    kind: 'work',
    key: `on ${station}`,
    station,
    setUpS: 0,
    batches: 1,
    batchS: minutes * 60,
    setUpCrewShare: 1,
    crewShare: 1,
    ...more,
  };
}

export function chain(id: string, ...steps: Step[]): Job {
  return { id, chains: [{ steps }] };
}
