import { z } from 'zod';
import { Id, Instant } from '../../../src/contract/index.ts';
import { ProblemError } from '../../http/problem.ts';
import type { FloorReport } from '../../services/floor-report.ts';
import { type RouteContext, SHOP } from '../context.ts';
import { LateOrderAnswer, lateAnswer } from './schemas.ts';

const Place = z.int().min(0).max(1000);
/** The step of an order, by its places in the order's bookings. */
const step = { order: z.string().regex(/^\d{1,12}$/), chain: Place, step: Place };
const Unit = z.int().min(0).max(1000).optional();

const Report = z.discriminatedUnion('kind', [
  /** `unit`: where it was really begun; left out: where it was booked. `at`: left out: now. */
  z.strictObject({ kind: z.literal('started'), ...step, unit: Unit, at: Instant.optional() }),
  z.strictObject({ kind: z.literal('finished'), ...step, at: Instant.optional() }),
  z.strictObject({
    kind: z.literal('spoiled'),
    ...step,
    /** how many must be made again. */
    pieces: z.int().min(1).max(1_000_000),
    /** of how many that go through the chain. */
    ofPieces: z.int().min(1).max(1_000_000),
    at: Instant.optional(),
    /** when work on them can begin, such as the day a new blank arrives. */
    againFrom: Instant.optional(),
  }),
  z.strictObject({
    kind: z.literal('down'),
    station: Id,
    /** left out: all of them. */
    unit: Unit,
    from: Instant.optional(),
    /** when it is expected to work again. */
    to: Instant,
  }),
  /** it works again, earlier than was expected; what is late takes the time that comes free. */
  z.strictObject({ kind: z.literal('up'), station: Id, unit: Unit, at: Instant.optional() }),
]);
type Report = z.infer<typeof Report>;

const Change = z.strictObject({
  planVersion: z.int(),
  /** orders whose bookings changed. */
  moved: z.array(z.string()),
  /** orders that do not keep their day, with the cause. */
  late: z.array(LateOrderAnswer),
});

/** What the floor says. */
export function floorRoutes({ book, deps, floor }: RouteContext): void {
  book.add(
    {
      method: 'post',
      path: `${SHOP}/owner/floor-events`,
      id: 'reportFromFloor',
      tag: 'Floor',
      summary: 'Steps started and finished, pieces spoiled, stations down and up again',
      description:
        'All are taken, or none. The plan moves accordingly; promised days are never changed: orders that cannot keep theirs are flagged, with the new day and the cause.',
      body: { schema: z.strictObject({ events: z.array(Report).min(1).max(500) }), limitBytes: 500_000 },
      answers: { 200: { description: 'What it did to the plan', schema: Change } },
      problems: ['busy'],
      keyed: true,
    },
    async (c, { body }) => {
      const nowS = Math.floor(deps.now() / 1000);
      const change = await floor.report(
        c.get('head').shop,
        body.events.map((report) => eventOf(report, nowS)),
        c.get('key').name,
      );
      if ('faults' in change)
        throw new ProblemError('invalid-input', change.faults[0]?.message ?? 'a report cannot be', {
          faults: change.faults.map(({ event, message }) => ({ at: `events.${event}`, message })),
        });
      return c.json({ ...change, moved: [...change.moved], late: change.late.map(lateAnswer) });
    },
  );
}

function eventOf(report: Report, nowS: number): FloorReport {
  if (report.kind === 'up') return { ...report, at: epochS(report.at) ?? nowS };
  if (report.kind === 'down')
    return {
      kind: 'down',
      station: report.station,
      unit: report.unit,
      from: epochS(report.from) ?? nowS,
      to: epochS(report.to)!,
    };
  const { order, ...rest } = report;
  const at = epochS(report.at) ?? nowS;
  if (rest.kind === 'spoiled') return { ...rest, job: order, at, againFrom: epochS(rest.againFrom) };
  return { ...rest, job: order, at };
}

function epochS(instant: string | undefined): number | undefined {
  return instant === undefined ? undefined : Math.floor(Date.parse(instant) / 1000);
}
