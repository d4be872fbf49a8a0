import type { AppContext } from './env.ts';
import { ProblemError } from './problem.ts';

/**
 * Whether an If-None-Match header has an entity tag, by weak comparison. Not `hono/etag`: it makes and hashes the body
 * first, and takes the headers for other origins off a 304.
 * @see RFC 9110, 13.1.2
 */
export function ifNoneMatchHas(list: string | undefined, etag: string): boolean {
  if (list === undefined) return false;
  if (list.trim() === '*') return true;
  return tagsOf(list).some((tag) => tag.replace(/^W\//, '') === etag);
}

/** The required If-Match header of a request. @throws ProblemError `precondition-required` @see RFC 6585, 3 */
export function requireIfMatch(c: AppContext): string {
  const given = c.req.header('if-match');
  if (given !== undefined) return given;
  throw new ProblemError('precondition-required', 'send If-Match with the ETag of the version that was read');
}

/** Whether an If-Match header has an entity tag, by strong comparison: a weak tag never matches. @see RFC 9110, 13.1.1 */
export function ifMatchHas(ifMatch: string, etag: string): boolean {
  return ifMatch.trim() === '*' || tagsOf(ifMatch).includes(etag);
}

/** The problem for an If-Match that names another version. */
export function preconditionFailed(ifMatch: string, etag: string): ProblemError {
  const detail = `If-Match is ${ifMatch.slice(0, 200)}; the version there is ${etag}`;
  return new ProblemError('precondition-failed', detail, { headers: { ETag: etag } });
}

function tagsOf(list: string): string[] {
  return list.match(/(W\/)?"[^"]*"/g) ?? [];
}
