import type { AppContext } from './env.ts';
import { ProblemError } from './problem.ts';

/** Whether a list of entity tags holds one, as If-None-Match compares them (weakly). @see RFC 9110, 13.1.2 */
export function ifNoneMatchHas(list: string | undefined, etag: string): boolean {
  if (list === undefined) return false;
  if (list.trim() === '*') return true;
  return tagsOf(list).some((tag) => tag.replace(/^W\//, '') === etag);
}

/** The If-Match of a request that must have one. @throws ProblemError `precondition-required` @see RFC 6585, 3 */
export function requireIfMatch(c: AppContext): string {
  const given = c.req.header('if-match');
  if (given !== undefined) return given;
  throw new ProblemError('precondition-required', 'send If-Match with the ETag of the version that was read');
}

/** Whether If-Match means a version: by a strong comparison, so a weak tag never does. @see RFC 9110, 13.1.1 */
export function ifMatchHas(ifMatch: string, etag: string): boolean {
  return ifMatch.trim() === '*' || tagsOf(ifMatch).includes(etag);
}

/** The answer to an If-Match that means another version. */
export function preconditionFailed(ifMatch: string, etag: string): ProblemError {
  const detail = `If-Match is ${ifMatch.slice(0, 200)}; the version there is ${etag}`;
  return new ProblemError('precondition-failed', detail, { headers: { ETag: etag } });
}

function tagsOf(list: string): string[] {
  return list.match(/(W\/)?"[^"]*"/g) ?? [];
}
