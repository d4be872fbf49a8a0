import { z } from 'zod';
import { OrderPlaced, OrderRequest, OrderStatus } from '../../src/contract/index.ts';
import { fileProblem, ProblemError } from '../http/problem.ts';
import { orderStatus } from '../services/order-status.ts';
import { type RouteContext, SHOP } from './context.ts';

/** A structured-field string (RFC 9651), or leniently the same without quotes. */
const KEY = /^(?:"([\x20-\x21\x23-\x5b\x5d-\x7e]{1,255})"|([A-Za-z0-9._~:+/=-]{1,255}))$/;

/** Placing an order and reading its status. */
export function orderRoutes({ book, deps, metrics, orders, catalogs }: RouteContext): void {
  book.add(
    {
      method: 'post',
      path: `${SHOP}/orders`,
      id: 'order',
      tag: 'Customers',
      summary: 'Order what a quote offered',
      description:
        'The slip is quoted again on the plan as it stands. Where the quoted methods, price and day still hold, all its work is booked in one transaction. Where they do not, nothing is: the answer is `day-not-kept` with the new quote in `quote`. The same Idempotency-Key with the same body gets the first answer again, for 30 days.',
      headers: z.object({
        'idempotency-key': z.string().meta({
          description:
            'a string of the sender\'s own, in quotes, such as "8e03978e-40d5-43e8-bc93-6894a57f9324"; one for each order',
        }),
      }),
      body: { schema: OrderRequest, limitBytes: deps.limits.jsonBytes },
      answers: { 201: { description: 'The order is booked', schema: OrderPlaced } },
      problems: [
        'quote-altered',
        'quote-expired',
        'slip-differs',
        'day-not-kept',
        'key-reused',
        'unknown-artwork',
        'unknown-id',
        'unreadable-file',
        'busy',
      ],
    },
    async (c, { body }) => {
      const key = idempotencyKey(c.req.header('idempotency-key'));
      const ordering = await orders.place(c.get('head'), body, key);
      if (ordering.kind === 'unread') throw fileProblem(ordering.refusal);
      if (ordering.kind === 'refused') {
        metrics.ordered('refused');
        const { code, detail, faults, more } = ordering.refusal;
        throw new ProblemError(code, detail, { faults, members: more });
      }
      metrics.ordered(ordering.again ? 'again' : 'placed');
      c.header('Cache-Control', 'no-store');
      c.header('Content-Type', 'application/json');
      return c.body(ordering.body, 201);
    },
  );

  book.add(
    {
      method: 'get',
      path: `${SHOP}/orders/{number}`,
      id: 'orderStatus',
      tag: 'Customers',
      summary: 'How an order stands',
      params: z.object({ number: z.string().regex(/^\d{1,12}$/) }),
      query: z.object({ key: z.string().min(1).max(100) }),
      answers: { 200: { description: 'Its status', schema: OrderStatus } },
      problems: ['not-found', 'invalid-input'],
    },
    async (c, { params, query }) => {
      const { shop } = c.get('head');
      const order = await orders.find(shop, params.number, query.key);
      if (order === undefined)
        throw new ProblemError(
          'not-found',
          'there is no such order, or the key in its address is not its own',
        );
      const { compiled } = await catalogs.get(deps.store, shop, order.catalogVersion);
      c.header('Cache-Control', 'no-store');
      return c.json(orderStatus(order, compiled));
    },
  );
}

function idempotencyKey(header: string | undefined): string {
  const match = header === undefined ? null : KEY.exec(header.trim());
  const key = match?.[1] ?? match?.[2];
  if (key !== undefined) return key;
  const message =
    header === undefined
      ? 'an order needs an Idempotency-Key, so that it is never made twice'
      : 'this is not an Idempotency-Key';
  throw new ProblemError('invalid-input', message, {
    faults: [
      {
        at: 'headers.Idempotency-Key',
        message,
        ...(header === undefined ? {} : { value: header.slice(0, 200) }),
        allowed: '1 to 255 printable ASCII characters in quotes',
      },
    ],
  });
}
