import { z } from 'zod';
import { Day, Id, OrderState } from '../../../src/contract/index.ts';
import { CAUTION_DEFERS, careCard, ticketOf } from '../../../src/production/index.ts';
import { ProblemError } from '../../http/problem.ts';
import { deserializeRoute } from '../../store/route-record.ts';
import { type RouteContext, SHOP } from '../context.ts';
import { noOrder } from './orders.ts';
import { BookingAnswer, bookingAnswer } from './schemas.ts';

const Named = z.looseObject({ id: Id, name: z.unknown() });

/** What the floor works from. The parts of a step, a sheet and a caution are those of the ticket's own shapes. */
const TicketAnswer = z.strictObject({
  number: z.string(),
  /** nothing is to be made for an order that is cancelled. */
  state: OrderState,
  packedDay: Day,
  promisedDay: Day,
  delivery: Id,
  pieces: z.int(),
  lines: z.array(
    z.looseObject({
      id: Id,
      blank: Named,
      color: Named,
      finish: Named,
      pieces: z.int(),
      placements: z.array(Named),
    }),
  ),
  /** in working order: what is run as one, with its steps and their settings. */
  work: z.array(z.looseObject({ method: Named, steps: z.array(z.looseObject({ id: Id })) })),
  sheets: z.array(z.looseObject({ method: Named, consumable: Named, sheets: z.int() })),
  cautions: z.array(z.looseObject({ code: z.string() })),
  /** what every caution defers to. */
  cautionsDefer: z.string(),
  /** the card that goes with each line. */
  care: z.array(z.looseObject({ line: Id, text: z.array(z.string()) })),
  bookings: z.array(BookingAnswer),
});

/** Tickets of orders; a key of the floor opens them, and nothing of prices or customers is on them. */
export function ticketRoutes({ book, deps, catalogs }: RouteContext): void {
  const { store } = deps;
  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/tickets/{number}`,
      id: 'getTicket',
      tag: 'Floor',
      summary:
        'What the floor works from: pieces, placements, steps with their settings, sheets, cautions, care',
      params: z.object({ number: z.string().regex(/^\d{1,12}$/) }),
      answers: { 200: { description: 'The ticket', schema: TicketAnswer } },
      problems: ['not-found'],
      keyed: true,
    },
    async (c, { params }) => {
      const { shop } = c.get('head');
      const order = await store.orders.get(shop, params.number);
      if (order === undefined) throw noOrder(params.number);
      if (order.route === null)
        throw new ProblemError(
          'not-found',
          `order ${params.number} was taken before routes were kept: it has no ticket`,
        );
      const { compiled } = await catalogs.get(store, shop, order.catalogVersion);
      const routed = deserializeRoute(compiled, order.slip, order.route);
      const bookings = (await store.orders.bookings(shop, [order.number])).get(order.number) ?? [];
      const { language } = compiled.catalog.shop;
      return c.json({
        ...ticketOf(routed, {
          number: order.number,
          packedDay: order.answer.promise.packedDay,
          promisedDay: order.promisedDay,
        }),
        state: order.state,
        cautionsDefer: CAUTION_DEFERS,
        care: routed.lines.map((line) => careCard(line, language)),
        bookings: bookings.map(bookingAnswer),
      });
    },
  );
}
