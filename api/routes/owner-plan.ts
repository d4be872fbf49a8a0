import { z } from 'zod';
import { pickText } from '../../src/contract/index.ts';
import {
  dayNumber,
  dayOfNumber,
  type PlanView,
  planAsICalendar,
  planByStationAndDay,
  shopDays,
} from '../../src/promise/index.ts';
import { faultAt } from '../middleware/problem.ts';
import type { LivePlan } from '../shop/live-plans.ts';
import { type RouteContext, SHOP } from './context.ts';

const DAYS_MOST = 62;
const DAYS_USUAL = 14;

const Work = z.strictObject({
  job: z.string(),
  step: z.string(),
  part: z.enum(['set-up', 'run']),
  unit: z.int(),
  from: z.string(),
  to: z.string(),
  crewShare: z.number(),
  state: z.enum(['booked', 'started', 'finished']),
});
const PlanAnswer = z.strictObject({
  version: z.int(),
  from: z.string(),
  to: z.string(),
  timeZone: z.string(),
  stations: z.array(
    z.strictObject({
      station: z.string(),
      count: z.int(),
      days: z.array(
        z.strictObject({ day: z.string(), openS: z.number(), bookedS: z.number(), work: z.array(Work) }),
      ),
    }),
  ),
  crew: z.array(z.strictObject({ day: z.string(), openS: z.number(), bookedS: z.number() })),
});

const Range = z.object({
  /** first day shown; left out: today. */
  from: z.iso.date().optional(),
  days: z
    .string()
    .regex(/^\d{1,2}$/, `a whole number from 1 to ${DAYS_MOST}`)
    .transform(Number)
    .pipe(z.number().min(1).max(DAYS_MOST))
    .optional(),
});

/** The plan as its shop sees it. */
export function planRoutes({ book, deps, quotes }: RouteContext): void {
  const { store } = deps;
  const bookingsIn = (live: LivePlan) => [...live.orders.values()].flatMap(({ bookings }) => bookings);
  const view = (live: LivePlan, range: z.infer<typeof Range>): PlanView => {
    const { shop } = live.plan;
    const known = shopDays(shop);
    const from = range.from ?? dayOfNumber(shop.clock.dayAt(quotes.nowS()));
    const days = range.days ?? DAYS_USUAL;
    if (from < known.from || dayNumber(from) + days > dayNumber(known.to))
      throw faultAt(
        'query.from',
        'the plan does not reach there',
        from,
        `${days} days from ${known.from} to ${known.to}`,
      );
    const there = bookingsIn(live).filter(
      ({ station, unit }) => unit < (shop.stations.get(station)?.count ?? 0),
    );
    return planByStationAndDay(shop, there, from, days);
  };

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/plan`,
      id: 'getPlan',
      tag: 'Floor',
      summary: 'What is booked, by station and day',
      query: Range,
      answers: { 200: { description: 'The plan', schema: PlanAnswer } },
      problems: ['invalid-input'],
      keyed: true,
    },
    async (c, { query }) => {
      const live = await quotes.livePlan(store, c.get('head'));
      return c.json({ version: live.version, ...view(live, query) });
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/plan.ics`,
      id: 'getPlanCalendar',
      tag: 'Floor',
      summary: 'What is booked, as an iCalendar',
      answers: { 200: { description: 'The plan', media: 'text/calendar' } },
      problems: [],
      keyed: true,
    },
    async (c) => {
      const head = c.get('head');
      const live = await quotes.livePlan(store, head);
      const { catalog } = (await quotes.liveCatalog(store, head)).compiled;
      const { shop } = live.plan;
      const there = bookingsIn(live).filter(
        ({ station, unit }) => unit < (shop.stations.get(station)?.count ?? 0),
      );
      const text = planAsICalendar(shop, there, {
        now: quotes.nowS(),
        host: `${head.shop}.platen.invalid`,
        name: pickText(catalog.shop.name, catalog.shop.language),
      });
      c.header('Content-Type', 'text/calendar; charset=utf-8');
      c.header('Content-Disposition', 'attachment; filename="plan.ics"');
      return c.body(text);
    },
  );
}
