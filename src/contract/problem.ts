import { z } from 'zod';

/**
 * Every problem that the API may answer, by the last part of its `type` (RFC 9457), with status and title. Closed: a new
 * code needs a text in every language.
 */
export const PROBLEMS = {
  'malformed-json': { status: 400, title: 'The body is not one JSON value' },
  'invalid-input': { status: 400, title: 'Something in the request is not as it must be' },
  'missing-key': { status: 401, title: 'A key is needed' },
  'wrong-key': { status: 401, title: 'The key is not valid' },
  'not-allowed': { status: 403, title: 'The key does not allow this' },
  'not-found': { status: 404, title: 'There is nothing here' },
  'method-not-allowed': { status: 405, title: 'This address does not take that method' },
  'unknown-shop': { status: 404, title: 'No such shop' },
  'unknown-artwork': { status: 422, title: 'An artwork of the slip is not known' },
  'unknown-id': { status: 422, title: 'The slip names something the catalog does not have' },
  'artwork-in-use': { status: 409, title: 'The artwork belongs to an order' },
  'quote-expired': { status: 409, title: 'The quote is no longer valid' },
  'quote-altered': { status: 422, title: 'The quote is not as this shop signed it' },
  'slip-differs': { status: 422, title: 'The slip is not the one that was quoted' },
  'day-not-kept': { status: 409, title: 'The promised day can no longer be kept' },
  'key-reused': { status: 422, title: 'This Idempotency-Key was used for another request' },
  'still-running': { status: 409, title: 'The first request with this Idempotency-Key is still running' },
  'precondition-failed': { status: 412, title: 'The thing has changed since it was read' },
  'precondition-required': { status: 428, title: 'Say which version is meant with If-Match' },
  'catalog-faulty': { status: 422, title: 'The catalog has faults' },
  'too-large': { status: 413, title: 'The body is over the limit' },
  'upload-protocol': { status: 412, title: 'This version of the upload protocol is not spoken here' },
  'upload-offset': { status: 409, title: 'The part does not start where the last one ended' },
  'upload-altered': { status: 460, title: 'What arrived is not what was sent' },
  'unsupported-file': { status: 415, title: 'This kind of file cannot be printed from' },
  'unreadable-file': { status: 422, title: 'The file cannot be read' },
  'unsupported-media': { status: 415, title: 'This content type is not taken here' },
  'too-many-requests': { status: 429, title: 'Too many requests' },
  'state-not-allowed': { status: 409, title: 'The order cannot go to that state' },
  busy: { status: 503, title: 'Too much to do at once' },
  'server-fault': { status: 500, title: 'A fault in the server' },
} as const satisfies Record<string, { status: number; title: string }>;

export type ProblemCode = keyof typeof PROBLEMS;

/** One fault of a request: where it is (dotted path or header), the value found there, and what is allowed. */
export const Fault = z.strictObject({
  at: z.string(),
  message: z.string(),
  value: z.unknown().optional(),
  allowed: z.string().optional(),
});
export type Fault = z.infer<typeof Fault>;

/** An RFC 9457 problem body, `application/problem+json`. */
export const Problem = z.looseObject({
  type: z.string(),
  title: z.string(),
  status: z.int(),
  detail: z.string().optional(),
  instance: z.string().optional(),
  code: z.string(),
  faults: z.array(Fault).optional(),
});
export type Problem = z.infer<typeof Problem>;
