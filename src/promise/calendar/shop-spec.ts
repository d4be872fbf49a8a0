import type { ClockTime, Day, EpochS } from './time.ts';

/** Open from one clock time to another. `to` at or before `from` means the next day: 22:00 to 02:00 is a night shift. */
export type OpenWindow = {
  readonly from: ClockTime;
  readonly to: ClockTime;
};

/** Open windows of each weekday; the gaps between them are breaks. A window belongs to the day on which it starts. */
export type WeekHours = {
  readonly mon: readonly OpenWindow[];
  readonly tue: readonly OpenWindow[];
  readonly wed: readonly OpenWindow[];
  readonly thu: readonly OpenWindow[];
  readonly fri: readonly OpenWindow[];
  readonly sat: readonly OpenWindow[];
  readonly sun: readonly OpenWindow[];
};

/** Whole days, first and last included, on which no window of the week opens. */
export type Closure = {
  readonly from: Day;
  readonly to: Day;
  readonly name: string;
  /** `holiday` also stops carriers; `own` (the default) closes only the shop. */
  readonly kind?: 'holiday' | 'own' | undefined;
};

/** A window in addition to the week's. It opens even on a closed day. */
export type ExtraShift = {
  readonly day: Day;
  readonly from: ClockTime;
  readonly to: ClockTime;
  /** ids of the stations that work it; default all. The crew always works it. */
  readonly stations?: readonly string[] | undefined;
};

/** When the shop works. */
export type WorkingCalendar = {
  /** IANA name, such as `America/Chicago`. */
  readonly timeZone: string;
  readonly week: WeekHours;
  readonly closures: readonly Closure[];
  readonly extraShifts: readonly ExtraShift[];
  /** orders from this clock time on count as the next working day's; null for no cut-off. */
  readonly cutoff: ClockTime | null;
};

/** A time in which something is out of use: [from, to). */
export type Outage = {
  readonly from: EpochS;
  readonly to: EpochS;
};

/** Equipment of one kind. */
export type StationSpec = {
  readonly id: string;
  /** number of units, 1 to 1000. */
  readonly count: number;
  /** its own week; default the shop's. Closures and extra shifts of the shop apply either way. */
  readonly hours?: WeekHours | undefined;
  /** maintenance of one `unit` (from 0), or of all units. */
  readonly closures?: readonly (Outage & { readonly unit?: number | undefined })[] | undefined;
};

/** The people, shared by all stations. */
export type CrewSpec = {
  /** how many work at once, 0 to 1000. */
  readonly count: number;
  /** default the shop's week. */
  readonly hours?: WeekHours | undefined;
  /** how many of them are away, and when. */
  readonly away?: readonly (Outage & { readonly count: number })[] | undefined;
};

/** All that planning needs to know about a shop. */
export type ShopSpec = {
  readonly calendar: WorkingCalendar;
  readonly stations: readonly StationSpec[];
  readonly crew: CrewSpec;
};
