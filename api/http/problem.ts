import type { Context } from 'hono';
import type { ContentfulStatusCode } from 'hono/utils/http-status';
import { type Fault, PROBLEMS, type ProblemCode } from '../../src/contract/index.ts';
import type { FileRefusal } from '../files/index.ts';
import type { AppEnv } from './env.ts';

/** Thrown by routes to answer with a problem. */
export class ProblemError extends Error {
  override name = 'ProblemError';
  readonly code: ProblemCode;
  readonly more: ProblemMore;

  constructor(code: ProblemCode, detail: string, more: ProblemMore = {}) {
    super(detail);
    this.code = code;
    this.more = more;
  }
}

/** Further parts of a problem. */
export type ProblemMore = {
  readonly faults?: readonly Fault[] | undefined;
  /** extension members of the body. */
  readonly members?: Readonly<Record<string, unknown>> | undefined;
  readonly headers?: Readonly<Record<string, string>> | undefined;
};

/** A problem as a response. @see RFC 9457 */
export function problem(
  c: Context<AppEnv>,
  code: ProblemCode,
  detail: string,
  more: ProblemMore = {},
): Response {
  const { status } = PROBLEMS[code];
  for (const [name, value] of Object.entries(more.headers ?? {})) c.header(name, value);
  c.header('Content-Type', 'application/problem+json; charset=utf-8');
  c.header('Cache-Control', 'no-store');
  c.set('problem', code);
  return c.body(problemBody(code, detail, c.get('requestId'), more), status as ContentfulStatusCode);
}

/** The body of a problem as JSON text. */
export function problemBody(
  code: ProblemCode,
  detail: string,
  requestId: string | undefined,
  more: ProblemMore = {},
): string {
  const { status, title } = PROBLEMS[code];
  return JSON.stringify({
    type: `/v1/problems/${code}`,
    title,
    status,
    detail,
    ...(requestId === undefined ? {} : { instance: `urn:uuid:${requestId}` }),
    code,
    ...(more.faults === undefined ? {} : { faults: more.faults }),
    ...more.members,
  });
}

/** A problem with one fault in the request. */
export function faultAt(at: string, message: string, value: unknown, allowed: string): ProblemError {
  return new ProblemError('invalid-input', `${at}: ${message}`, {
    faults: [{ at, message, value, allowed }],
  });
}

/** A problem for a file that was refused, with the figures. */
export function fileProblem(refusal: FileRefusal): ProblemError {
  const { refused, params } = refusal;
  const members = { refused, params };
  switch (refusal.refused) {
    case 'empty-file':
      return new ProblemError('invalid-input', 'the file has no bytes', {
        members,
        faults: [{ at: 'file', message: 'the file has no bytes', value: 0, allowed: 'at least 1 byte' }],
      });
    case 'too-large':
      return tooLarge(refusal.params.limitBytes, members);
    case 'unsupported-kind':
    case 'not-a-picture':
      return new ProblemError(
        'unsupported-file',
        `${refusal.params.kind} cannot be printed from; send ${refusal.params.send.join(', ')}`,
        { members },
      );
    case 'incomplete-file':
      return new ProblemError(
        'unreadable-file',
        `incomplete file: the end of the ${refusal.params.kind} is missing`,
        {
          members,
        },
      );
    case 'damaged-file':
      return new ProblemError('unreadable-file', `the ${refusal.params.kind} is damaged`, { members });
    case 'locked-file':
      return new ProblemError('unreadable-file', `the ${refusal.params.kind} needs a password`, { members });
    case 'too-many-pixels':
      return new ProblemError(
        'unreadable-file',
        `the picture is ${refusal.params.widthPx} x ${refusal.params.heightPx} px; at most ${refusal.params.limitPx} px in all and ${refusal.params.limitSidePx} px a side are taken`,
        { members },
      );
    case 'too-complex':
      return new ProblemError(
        'unreadable-file',
        `the drawing has too much of one thing (${refusal.params.what}); at most ${refusal.params.limit} are taken`,
        { members },
      );
    case 'entities-in-drawing':
      return new ProblemError(
        'unreadable-file',
        'the drawing defines entities of its own; save it without them',
        {
          members,
        },
      );
    case 'took-too-long':
      return new ProblemError('unreadable-file', `reading the file took over ${refusal.params.limitS} s`, {
        members,
      });
    case 'too-much-memory':
      return new ProblemError(
        'unreadable-file',
        `reading the file took over ${refusal.params.limitMiB} MiB`,
        {
          members,
        },
      );
    case 'nothing-to-print':
      return new ProblemError('unreadable-file', 'nothing to print: the file holds no ink at all', {
        members,
      });
    case 'reader-failed':
      return new ProblemError(
        'unreadable-file',
        'the file could not be read; save it anew and send it again',
        {
          members,
        },
      );
    case 'busy':
      return new ProblemError('busy', 'too many files are being read; send it again shortly', {
        members,
        headers: { 'Retry-After': String(refusal.params.retryAfterS) },
      });
  }
}

/** The problem for a body that ended early. */
export function truncatedBody(): ProblemError {
  return new ProblemError('invalid-input', 'the body ended before it was whole');
}

/** The problem for a body over the limit. */
export function tooLarge(limitBytes: number, members: Readonly<Record<string, unknown>> = {}): ProblemError {
  return new ProblemError('too-large', `the body is over the limit of ${limitBytes} bytes`, {
    members: { limitBytes, ...members },
  });
}
