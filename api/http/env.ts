import type { HttpBindings } from '@hono/node-server';
import type { Context } from 'hono';
import type { ProblemCode } from '../../src/contract/index.ts';
import type { Role } from '../store/keys.ts';
import type { ShopHead } from '../store/shops.ts';

/** What middleware sets for the routes. */
export type AppVariables = {
  requestId: string;
  /** code of the problem in the answer, for the log. */
  problem: ProblemCode | undefined;
  /** the shop in the path; set under `/v1/shops/:shop/`. */
  head: ShopHead;
  /** the key of the request; set under `owner/`. */
  key: { readonly id: string; readonly name: string; readonly role: Role };
};

/** node:http's request is bound when a server runs the app, not when it is called in process. */
export type AppEnv = { Variables: AppVariables; Bindings: Partial<HttpBindings> };
export type AppContext = Context<AppEnv>;
