import { z } from 'zod';
import { OrderState } from '../../../src/contract/index.ts';
import { ProblemError } from '../../http/problem.ts';
import { requireRole } from '../../middleware/owner-key.ts';
import { NEXT_STATES } from '../../services/order-status.ts';
import type { StoredOrder } from '../../store/order-record.ts';
import { type RouteContext, SHOP } from '../context.ts';
import { bookingAnswer, instantOf, OrderHeadAnswer, OwnerOrder } from './schemas.ts';

const Numbered = z.object({ number: z.string().regex(/^\d{1,12}$/) });
const MAX_LISTED = 200;

/** Orders as their shop sees them. */
export function ownerOrderRoutes({ book, deps, floor }: RouteContext): void {
  const { store } = deps;
  const answerOf = async (shop: string, order: StoredOrder): Promise<z.infer<typeof OwnerOrder>> => {
    const bookings = (await store.orders.bookings(shop, [order.number])).get(order.number) ?? [];
    return {
      number: order.number,
      state: order.state,
      placedAt: order.placedAt,
      changedAt: order.changedAt,
      promisedDay: order.promisedDay,
      lateUntil: order.lateUntil,
      lateCause: order.lateCause === null ? null : JSON.parse(order.lateCause),
      pieces: order.pieces,
      contact: order.contact,
      slip: order.slip,
      quote: order.answer,
      bill: order.bill as z.infer<typeof OwnerOrder>['bill'],
      proofs: [...order.proofs],
      catalogVersion: order.catalogVersion,
      notBefore: instantOf(order.work.notBefore),
      endsAt: instantOf(order.work.endsAt),
      bookings: bookings.map(bookingAnswer),
    };
  };

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/orders`,
      id: 'listOrders',
      tag: 'Owners',
      summary: 'Orders, newest first',
      query: z.object({
        state: OrderState.optional(),
        /** number of an order: only older ones. */
        before: z
          .string()
          .regex(/^\d{1,12}$/)
          .optional(),
        most: z
          .string()
          .regex(/^\d{1,3}$/, `a whole number from 1 to ${MAX_LISTED}`)
          .transform(Number)
          .pipe(z.number().min(1).max(MAX_LISTED))
          .optional(),
      }),
      answers: {
        200: {
          description: 'Some of them',
          schema: z.strictObject({
            orders: z.array(OrderHeadAnswer),
            /** to send as `before` for the next ones; null: there are no more. */
            next: z.string().nullable(),
          }),
        },
      },
      problems: ['invalid-input'],
      keyed: true,
    },
    async (c, { query }) => {
      requireRole('owner', c.get('key').role);
      const most = query.most ?? 50;
      const orders = await store.orders.list(c.get('head').shop, {
        state: query.state,
        before: query.before,
        most: most + 1,
      });
      const page = orders.slice(0, most);
      return c.json({ orders: page, next: orders.length > most ? (page.at(-1)?.number ?? null) : null });
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/owner/orders/{number}`,
      id: 'getOrder',
      tag: 'Owners',
      summary: 'An order with its route, its bill of cost and its bookings',
      params: Numbered,
      answers: { 200: { description: 'The order', schema: OwnerOrder } },
      problems: ['not-found'],
      keyed: true,
    },
    async (c, { params }) => {
      requireRole('owner', c.get('key').role);
      const { shop } = c.get('head');
      const order = await store.orders.get(shop, params.number);
      if (order === undefined) throw noOrder(params.number);
      return c.json(await answerOf(shop, order));
    },
  );

  book.add(
    {
      method: 'patch',
      path: `${SHOP}/owner/orders/{number}`,
      id: 'setOrderState',
      tag: 'Owners',
      summary: 'Say where an order stands',
      description:
        'An order that is packed or cancelled leaves the plan: work of it that is not done makes room for others.',
      params: Numbered,
      body: { schema: z.strictObject({ state: OrderState }), limitBytes: 10_000 },
      answers: { 200: { description: 'The order', schema: OwnerOrder } },
      problems: ['not-found', 'state-not-allowed', 'busy'],
      keyed: true,
    },
    async (c, { params, body }) => {
      const { shop } = c.get('head');
      const { role } = c.get('key');
      if (body.state === 'cancelled') requireRole('owner', role);
      const refused = await store.write(shop, async (parts) => {
        const order = await parts.orders.get(shop, params.number);
        if (order === undefined) return noOrder(params.number);
        if (order.state === body.state) return null;
        const next = NEXT_STATES[order.state];
        if (!next.includes(body.state))
          return new ProblemError(
            'state-not-allowed',
            `order ${params.number} is ${order.state}; it can go to ${next.join(', ') || 'no other state'}, not to ${body.state}`,
            { members: { state: order.state, allowed: next } },
          );
        // Before its row is touched: only what is committed may be remembered of the plan.
        if (body.state === 'packed' || body.state === 'cancelled')
          await floor.removeFromPlan(parts, shop, params.number);
        await parts.orders.setState(shop, params.number, body.state, new Date(deps.now()).toISOString());
        return null;
      });
      if (refused !== null) throw refused;
      const order = await store.orders.get(shop, params.number);
      if (order === undefined) throw noOrder(params.number);
      return c.json(
        role === 'owner' ? await answerOf(shop, order) : { number: order.number, state: order.state },
      );
    },
  );
}

export function noOrder(number: string): ProblemError {
  return new ProblemError('not-found', `there is no order ${number} here`);
}
