import Holidays from 'date-holidays';
import { z } from 'zod';
import { Closure } from '../../../src/catalog/index.ts';
import { faultAt } from '../../http/problem.ts';
import { requireRole } from '../../middleware/owner-key.ts';
import { type RouteContext, SHOP } from '../context.ts';

const HolidayRequest = z.strictObject({
  /** ISO 3166-1, two letters. */
  country: z.string().regex(/^[A-Z]{2}$/, 'a country is two capital letters of ISO 3166-1'),
  /** code of a state, as the list of holidays knows it. */
  state: z.string().min(1).max(10).optional(),
  region: z.string().min(1).max(10).optional(),
  years: z.array(z.int().min(2000).max(2100)).min(1).max(5),
  kinds: z
    .array(z.enum(['public', 'bank', 'optional', 'school', 'observance']))
    .min(1)
    .default(['public']),
});

/** On other days a shop may close, but parcels move. */
const STOPS_CARRIERS: ReadonlySet<string> = new Set(['public', 'bank']);
const DAY_MS = 86_400_000;

/** Holidays as closures an owner may take into the catalog. */
export function calendarRoutes({ book }: RouteContext): void {
  book.add(
    {
      method: 'post',
      path: `${SHOP}/owner/calendar/holidays/import`,
      id: 'proposeHolidays',
      tag: 'Owners',
      summary: 'Holidays of a country as closures; nothing is changed',
      description:
        'Add those that apply to `calendar.closures` of the catalog. From the open data of date-holidays.',
      body: { schema: HolidayRequest, limitBytes: 10_000 },
      answers: {
        200: { description: 'The closures', schema: z.strictObject({ closures: z.array(Closure) }) },
      },
      problems: [],
      keyed: true,
    },
    (c, { body }) => {
      requireRole('owner', c.get('key').role);
      return c.json({ closures: closuresOf(body) });
    },
  );
}

function closuresOf(request: z.infer<typeof HolidayRequest>): z.infer<typeof Closure>[] {
  const { country, state, region, years, kinds } = request;
  const known = new Holidays();
  const listed = (at: string, value: string, among: Record<string, string> | undefined): void => {
    if (among === undefined || !Object.hasOwn(among, value))
      throw faultAt(
        at,
        `no holidays are known for "${value}"`,
        value,
        among === undefined ? 'nothing: none are known here' : `one of: ${Object.keys(among).join(', ')}`,
      );
  };
  listed('country', country, known.getCountries('en'));
  if (state !== undefined) listed('state', state, known.getStates(country, 'en'));
  if (region !== undefined) {
    if (state === undefined) throw faultAt('region', 'a region needs its state', region, 'with `state`');
    listed('region', region, known.getRegions(country, state, 'en'));
  }
  const holidays =
    state === undefined
      ? new Holidays(country)
      : region === undefined
        ? new Holidays(country, state)
        : new Holidays(country, state, region);
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
  return closures.sort((one, other) => (one.from < other.from ? -1 : one.from > other.from ? 1 : 0));
}
