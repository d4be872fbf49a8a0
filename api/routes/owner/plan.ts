import { z } from 'zod';
import { pickText } from '../../../src/pick-text.ts';
import {
  dayNumber,
  dayOfNumber,
  planAsICalendar,
  planByStationAndDay,
  shopDays,
} from '../../../src/promise/index.ts';
import { faultAt } from '../../http/problem.ts';
import { planPage } from '../../plan-page/page.ts';
import { planPageModel } from '../../plan-page/page-model.ts';
import { PLAN_PAGE_POLICY } from '../../plan-page/style.ts';
import type { PlanSnapshot } from '../../services/plan-cache.ts';
import { type RouteContext, SHOP } from '../context.ts';
import { LateOrderAnswer, lateAnswer } from './schemas.ts';

const MAX_DAYS = 62;
const DAYS_USUAL = 14;
const DAYS_ON_PAGE = 7;

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
  /** orders that do not keep their day, whichever days are shown. */
  late: z.array(LateOrderAnswer),
});

const Range = z.object({
  /** first day shown; left out: today. */
  from: z.iso.date().optional(),
  days: z
    .string()
    .regex(/^\d{1,2}$/, `a whole number from 1 to ${MAX_DAYS}`)
    .transform(Number)
    .pipe(z.number().min(1).max(MAX_DAYS))
    .optional(),
});

/** The plan as its shop sees it. */
export function planRoutes({ book, deps, quotes }: RouteContext): void {
  const { store } = deps;
  /** Bookings on equipment the shop still has. */
  const bookingsIn = ({ plan, orders }: PlanSnapshot) =>
    [...orders.values()]
      .flatMap(({ bookings }) => bookings)
      .filter(({ station, unit }) => unit < (plan.shop.stations.get(station)?.count ?? 0));
  const rangeOf = ({ plan: { shop } }: PlanSnapshot, query: z.infer<typeof Range>, usualDays: number) => {
    const known = shopDays(shop);
    const now = quotes.nowS();
    const today = dayOfNumber(shop.clock.dayAt(now));
    const from = query.from ?? today;
    const days = query.days ?? usualDays;
    if (from < known.from || dayNumber(from) + days > dayNumber(known.to))
      throw faultAt(
        'query.from',
        'the plan does not reach there',
        from,
        `${days} days from ${known.from} to ${known.to}`,
      );
    return { from, days, now, today };
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
      const head = c.get('head');
      const snapshot = await quotes.currentPlan(store, head);
      const { from, days } = rangeOf(snapshot, query, DAYS_USUAL);
      const late = await store.orders.late(head.shop);
      return c.json({
        version: snapshot.version,
        ...planByStationAndDay(snapshot.plan.shop, bookingsIn(snapshot), from, days),
        late: late.map(({ number, promised, until, cause }) =>
          lateAnswer({ order: number, promised, now: until, cause }),
        ),
      });
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/plan.html`,
      id: 'getPlanPage',
      tag: 'Floor',
      summary: 'What is booked, as a page with a chart of every day',
      description:
        "In the shop's language. A browser may open it by itself: it asks for a name (any) and a password (the key).",
      query: Range,
      answers: { 200: { description: 'The page; it needs no script', media: 'text/html' } },
      problems: ['invalid-input'],
      keyed: true,
    },
    async (c, { query }) => {
      const head = c.get('head');
      const snapshot = await quotes.currentPlan(store, head);
      const { compiled } = await quotes.currentCatalog(store, head);
      const range = rangeOf(snapshot, query, DAYS_ON_PAGE);
      const model = planPageModel(snapshot, compiled, await store.orders.late(head.shop), range);
      const view = planByStationAndDay(snapshot.plan.shop, bookingsIn(snapshot), range.from, range.days);
      c.header('Content-Security-Policy', PLAN_PAGE_POLICY);
      c.header('Cross-Origin-Resource-Policy', 'same-origin');
      return c.html(planPage(model, view));
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
      const snapshot = await quotes.currentPlan(store, head);
      const { catalog } = (await quotes.currentCatalog(store, head)).compiled;
      const text = planAsICalendar(snapshot.plan.shop, bookingsIn(snapshot), {
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
