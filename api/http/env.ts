import type { HttpBindings } from '@hono/node-server';
import type { Context } from 'hono';
import type { ProblemCode } from '../../src/contract/index.ts';
import type { Role } from '../store/keys.ts';
import type { ShopHead } from '../store/shops.ts';

/** What middleware tells the routes. */
export type AppVariables = {
  requestId: string;
  /** the problem that was answered, for the log. */
  problem: ProblemCode | undefined;
  /** the shop in the path; there under `/v1/shops/:shop/`. */
  head: ShopHead;
  /** the key a request came with; there under `owner/`. */
  key: { readonly id: string; readonly name: string; readonly role: Role };
};

/** Where node:http runs us, its request is at hand; in process it is not. */
export type AppEnv = { Variables: AppVariables; Bindings: Partial<HttpBindings> };
export type AppContext = Context<AppEnv>;
