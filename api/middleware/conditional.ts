import type { AppContext } from './env.ts';
import { Refused } from './problem.ts';

/** Whether a list of entity tags holds one, as If-None-Match compares them (weakly). @see RFC 9110, 13.1.2 */
export function holdsTag(list: string | undefined, etag: string): boolean {
  if (list === undefined) return false;
  if (list.trim() === '*') return true;
  return tagsOf(list).some((tag) => tag.replace(/^W\//, '') === etag);
}

/**
 * Makes sure that a request means the version there is, by a strong comparison.
 *
 * @throws Refused `precondition-required` without If-Match, `precondition-failed` for any other version
 * @see RFC 9110, 13.1.1; RFC 6585, 3
 */
export function requireMatch(c: AppContext, etag: string): void {
  const given = c.req.header('if-match');
  if (given === undefined)
    throw new Refused('precondition-required', 'send If-Match with the ETag of the version that was read', {
      headers: { ETag: etag },
    });
  if (given.trim() === '*' || tagsOf(given).includes(etag)) return;
  throw new Refused(
    'precondition-failed',
    `If-Match is ${given.slice(0, 200)}; the version there is ${etag}`,
    {
      headers: { ETag: etag },
    },
  );
}

function tagsOf(list: string): string[] {
  return list.match(/(W\/)?"[^"]*"/g) ?? [];
}
