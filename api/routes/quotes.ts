import { QuoteRequest, QuoteResponse } from '../../src/contract/index.ts';
import { isRefusal } from '../files/index.ts';
import { fileProblem, ProblemError } from '../http/problem.ts';
import { QuoteAnswerCache } from '../services/quote-answer-cache.ts';
import { type RouteContext, SHOP } from './context.ts';

const HEADERS = { 'Content-Type': 'application/json', 'Cache-Control': 'no-store' } as const;

/** Quotes: price, method and day of a slip. */
export function quoteRoutes({ book, deps, metrics, quotes, artworks }: RouteContext): void {
  const cache = new QuoteAnswerCache();
  book.add(
    {
      method: 'post',
      path: `${SHOP}/quotes`,
      id: 'quote',
      tag: 'Customers',
      summary: 'Method, price and day for a slip, with the reasons',
      description:
        'A quote with the token to order with, or a refusal with the nearest changes that would make the slip possible. Nothing is booked.',
      body: {
        schema: QuoteRequest,
        limitBytes: deps.limits.jsonBytes,
        cached(c, text) {
          const startMs = performance.now();
          const response = cache.get(QuoteAnswerCache.key(c.get('head'), text), deps.now());
          if (response === undefined) return undefined;
          metrics.quoted('again', (performance.now() - startMs) / 1000);
          return c.body(response, 200, HEADERS);
        },
      },
      answers: { 200: { description: 'A quote or a refusal', schema: QuoteResponse } },
      problems: ['unknown-artwork', 'unknown-id', 'unreadable-file', 'busy'],
    },
    async (c, { body, text }) => {
      const startMs = performance.now();
      const head = c.get('head');
      const artwork = await artworks.forSlip(head.shop, body.slip);
      if (isRefusal(artwork)) throw fileProblem(artwork);
      const { result } = await quotes.quote(deps.store, head, body.slip, artwork, { brief: body.brief });
      const { answer } = result;
      metrics.quoted(answer?.kind ?? 'faulty', (performance.now() - startMs) / 1000);
      if (answer === undefined)
        throw new ProblemError(result.code, result.faults[0]?.message ?? 'the slip names something unknown', {
          faults: result.faults.map((fault) => ({ ...fault, at: `slip.${fault.at}` })),
        });
      const whole =
        answer.kind === 'refusal' ? answer : { ...answer, token: await quotes.sign(head, answer) };
      const bytes = new TextEncoder().encode(JSON.stringify(whole));
      cache.set(QuoteAnswerCache.key(head, text), bytes, deps.now());
      return c.body(bytes, 200, HEADERS);
    },
  );
}
