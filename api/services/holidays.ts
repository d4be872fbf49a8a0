import type Holidays from 'date-holidays';
import type { z } from 'zod';
import type { Closure } from '../../src/catalog/index.ts';

/** The holidays of which place, which years and of which kinds. */
export type HolidayRequest = {
  /** ISO 3166-1, two letters. */
  readonly country: string;
  /** code of a state, as the package lists it. */
  readonly state?: string | undefined;
  readonly region?: string | undefined;
  readonly years: readonly number[];
  readonly kinds: readonly string[];
};

/** What of a request names no known place, as the fault of a problem. */
export type UnknownPlace = {
  readonly at: string;
  readonly message: string;
  readonly value: string;
  readonly allowed: string;
};

/** On other days a shop may close, but parcels move. */
const STOPS_CARRIERS: ReadonlySet<string> = new Set(['public', 'bank']);
const DAY_MS = 86_400_000;

/**
 * The data of the optional package date-holidays; undefined if it is not installed. It is no dependency because it takes
 * 37 MB for one route, and its data is licensed CC BY 3.0.
 */
export function loadHolidays(): Promise<typeof Holidays | undefined> {
  return ifInstalled(async () => (await import('date-holidays')).default);
}

/** What an optional package gives; undefined if it is not installed. */
export async function ifInstalled<T>(load: () => Promise<T>): Promise<T | undefined> {
  try {
    return await load();
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ERR_MODULE_NOT_FOUND') return undefined;
    throw error;
  }
}

/** Holidays as closures, by day; or what names no known place. */
export function holidayClosures(
  HolidayData: typeof Holidays,
  request: HolidayRequest,
): { readonly closures: z.infer<typeof Closure>[] } | { readonly fault: UnknownPlace } {
  const { country, state, region, years, kinds } = request;
  const unknown = findUnknownPlace(new HolidayData(), request);
  if (unknown !== undefined) return { fault: unknown };
  const holidays =
    state === undefined
      ? new HolidayData(country)
      : region === undefined
        ? new HolidayData(country, state)
        : new HolidayData(country, state, region);
  holidays.setLanguages('en');
  const closures = years.flatMap((year) =>
    holidays
      .getHolidays(year)
      .filter(({ type }) => kinds.includes(type))
      .map(({ date, start, end, name, type }) => {
        const from = date.slice(0, 10);
        const days = Math.max(1, Math.round((end.getTime() - start.getTime()) / DAY_MS));
        const to = new Date(Date.parse(from) + (days - 1) * DAY_MS).toISOString().slice(0, 10);
        return { from, to, name, kind: STOPS_CARRIERS.has(type) ? ('holiday' as const) : ('own' as const) };
      }),
  );
  closures.sort((one, other) => (one.from < other.from ? -1 : one.from > other.from ? 1 : 0));
  return { closures };
}

function findUnknownPlace(
  known: Holidays,
  { country, state, region }: HolidayRequest,
): UnknownPlace | undefined {
  const unless = (at: string, value: string, among: Record<string, string> | undefined) =>
    among !== undefined && Object.hasOwn(among, value)
      ? undefined
      : {
          at,
          message: `no holidays are known for "${value}"`,
          value,
          allowed:
            among === undefined ? 'nothing: none are known here' : `one of: ${Object.keys(among).join(', ')}`,
        };
  const fault =
    unless('country', country, known.getCountries('en')) ??
    (state === undefined ? undefined : unless('state', state, known.getStates(country, 'en')));
  if (fault !== undefined || region === undefined) return fault;
  if (state === undefined)
    return { at: 'region', message: 'a region needs its state', value: region, allowed: 'with `state`' };
  return unless('region', region, known.getRegions(country, state, 'en'));
}
