import { z } from 'zod';
import { Closure } from '../../../src/catalog/index.ts';
import { faultAt, ProblemError } from '../../http/problem.ts';
import { requireRole } from '../../middleware/owner-key.ts';
import { holidayClosures, loadHolidays } from '../../services/holidays.ts';
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

/** Holidays as closures that an owner may copy into the catalog. */
export function calendarRoutes({ book, deps }: RouteContext): void {
  book.add(
    {
      method: 'post',
      path: `${SHOP}/owner/calendar/holidays/import`,
      id: 'proposeHolidays',
      tag: 'Owners',
      summary: 'Holidays of a country as closures; nothing is changed',
      description:
        'Add those that apply to `calendar.closures` of the catalog. From the open data of date-holidays, where that package is installed beside the server.',
      body: { schema: HolidayRequest, limitBytes: 10_000 },
      answers: {
        200: { description: 'The closures', schema: z.strictObject({ closures: z.array(Closure) }) },
      },
      problems: ['not-found'],
      keyed: true,
    },
    async (c, { body }) => {
      requireRole('owner', c.get('key').role);
      const data = await (deps.loadHolidays ?? loadHolidays)();
      if (data === undefined)
        throw new ProblemError(
          'not-found',
          'holidays need the optional package date-holidays: run "npm install date-holidays" where the server is installed, and start it again',
        );
      const found = holidayClosures(data, body);
      if ('fault' in found) {
        const { at, message, value, allowed } = found.fault;
        throw faultAt(at, message, value, allowed);
      }
      return c.json(found);
    },
  );
}
