import type { OpenAPIHono } from '@hono/zod-openapi';
import type { Context } from 'hono';
import { z } from 'zod';
import { PROBLEMS, Problem, type ProblemCode } from '../../src/contract/index.ts';
import { invalidInput, parseBody, readText } from './body.ts';
import type { AppEnv } from './env.ts';
import { ProblemError } from './problem.ts';

type Nothing = z.ZodObject<Record<never, never>>;
type AnswerShape = {
  readonly description: string;
  /** of JSON. */
  readonly schema?: z.ZodType;
  /** of anything else. */
  readonly media?: string;
  readonly headers?: Readonly<Record<string, string>>;
};

/** A route: its description and its validation come from the same schemas. */
export type RouteSpec<P extends z.ZodObject, Q extends z.ZodObject, B extends z.ZodType> = {
  readonly method: 'get' | 'options' | 'post' | 'put' | 'patch' | 'delete';
  /** in OpenAPI's form: `/v1/shops/{shop}/quotes`. */
  readonly path: string;
  readonly id: string;
  readonly tag: string;
  readonly summary: string;
  readonly description?: string;
  /** besides `shop`, which middleware looks up. */
  readonly params?: P;
  readonly query?: Q;
  readonly headers?: z.ZodObject;
  readonly body?: {
    readonly schema: B;
    readonly limitBytes: number;
    /** called first, with the raw body: a cached answer, for which the body need not be parsed. */
    readonly cached?: (c: Context<AppEnv>, text: string) => Response | undefined;
  };
  /** a body that is not JSON: described here, read by the handler. */
  readonly rawBody?: Readonly<Record<string, { readonly schema: unknown }>>;
  readonly answers: Readonly<Record<number, AnswerShape>>;
  readonly problems: readonly ProblemCode[];
  readonly keyed?: boolean;
};

type Input<P extends z.ZodObject, Q extends z.ZodObject, B extends z.ZodType> = {
  readonly params: z.output<P>;
  readonly query: z.output<Q>;
  readonly body: z.output<B>;
  /** the raw JSON body; "" without one. */
  readonly text: string;
};

/** Adds routes to an app and to its OpenAPI description. */
export class RouteBook {
  readonly #app: OpenAPIHono<AppEnv>;

  constructor(app: OpenAPIHono<AppEnv>) {
    this.#app = app;
  }

  add<P extends z.ZodObject = Nothing, Q extends z.ZodObject = Nothing, B extends z.ZodType = z.ZodUndefined>(
    spec: RouteSpec<P, Q, B>,
    handler: (c: Context<AppEnv>, input: Input<P, Q, B>) => Response | Promise<Response>,
  ): void {
    this.#describe(spec);
    const path = spec.path.replace(/\{(\w+)\}/g, ':$1');
    this.#app.on(spec.method.toUpperCase(), path, async (c) => {
      const params = spec.params === undefined ? {} : checkedPath(spec.params, c.req.param());
      const query = spec.query === undefined ? {} : checkedQuery(spec.query, c);
      if (spec.body === undefined) return handler(c, { params, query, text: '' } as Input<P, Q, B>);
      const { schema, limitBytes, cached } = spec.body;
      const text = await readText(c, limitBytes);
      const answer = cached?.(c, text);
      if (answer !== undefined) return answer;
      return handler(c, { params, query, text, body: parseBody(text, schema) } as Input<P, Q, B>);
    });
  }

  #describe<P extends z.ZodObject, Q extends z.ZodObject, B extends z.ZodType>(
    spec: RouteSpec<P, Q, B>,
  ): void {
    const named = spec.path.includes('{shop}')
      ? { shop: z.string().meta({ description: 'id of the shop' }) }
      : {};
    const params = z.object({ ...named, ...spec.params?.shape });
    const content =
      spec.body === undefined ? spec.rawBody : { 'application/json': { schema: spec.body.schema } };
    this.#app.openAPIRegistry.registerPath({
      method: spec.method,
      path: spec.path,
      operationId: spec.id,
      tags: [spec.tag],
      summary: spec.summary,
      ...(spec.description === undefined ? {} : { description: spec.description }),
      ...(spec.keyed ? { security: [{ ownerKey: [] }] } : {}),
      request: {
        params,
        ...(spec.query === undefined ? {} : { query: spec.query }),
        ...(spec.headers === undefined ? {} : { headers: spec.headers }),
        // biome-ignore lint/suspicious/noExplicitAny: the library's type for content knows no plain schema object
        ...(content === undefined ? {} : { body: { required: true, content: content as any } }),
      },
      responses: { ...answersOf(spec.answers), ...problemsOf(spec) },
    });
  }
}

function answersOf(answers: Readonly<Record<number, AnswerShape>>) {
  return Object.fromEntries(
    Object.entries(answers).map(([status, { description, schema, media, headers }]) => [
      status,
      {
        description,
        ...(headers === undefined
          ? {}
          : {
              headers: Object.fromEntries(
                Object.entries(headers).map(([name, text]) => [
                  name,
                  { description: text, schema: { type: 'string' as const } },
                ]),
              ),
            }),
        ...(schema === undefined && media === undefined
          ? {}
          : {
              content:
                media === undefined
                  ? { 'application/json': { schema: schema! } }
                  : { [media]: { schema: { type: 'string' as const } } },
            }),
      },
    ]),
  );
}

/** Problems that any route may answer. */
const ALWAYS: readonly ProblemCode[] = ['too-many-requests', 'server-fault'];

function problemsOf(spec: {
  readonly problems: readonly ProblemCode[];
  readonly keyed?: boolean;
  readonly path: string;
  readonly body?: unknown;
}) {
  const codes = new Set<ProblemCode>([...spec.problems, ...ALWAYS]);
  if (spec.path.includes('{shop}')) codes.add('unknown-shop');
  if (spec.keyed) for (const code of ['missing-key', 'wrong-key', 'not-allowed'] as const) codes.add(code);
  if (spec.body !== undefined)
    for (const code of ['malformed-json', 'invalid-input', 'unsupported-media', 'too-large'] as const)
      codes.add(code);
  const byStatus = new Map<number, ProblemCode[]>();
  for (const code of codes) {
    const { status } = PROBLEMS[code];
    byStatus.set(status, [...(byStatus.get(status) ?? []), code]);
  }
  return Object.fromEntries(
    [...byStatus].map(([status, list]) => [
      status,
      {
        description: list.map((code) => `\`${code}\`: ${PROBLEMS[code].title}.`).join(' '),
        content: { 'application/problem+json': { schema: Problem } },
      },
    ]),
  );
}

/** A path whose parameters are invalid is not found. */
function checkedPath(schema: z.ZodObject, given: unknown): unknown {
  const parsed = z.object(schema.shape).safeParse(given);
  if (!parsed.success) throw new ProblemError('not-found', 'there is nothing at this address');
  return parsed.data;
}

function checkedQuery(schema: z.ZodObject, c: Context<AppEnv>): unknown {
  const given: Record<string, unknown> = {};
  for (const [name, values] of Object.entries(c.req.queries()))
    given[name] = values.length === 1 ? values[0] : values;
  const parsed = z.strictObject(schema.shape).safeParse(given);
  if (!parsed.success) throw invalidInput(parsed.error, given, 'query');
  return parsed.data;
}
