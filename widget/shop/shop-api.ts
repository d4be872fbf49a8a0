import type { PublicCatalog } from '../../src/catalog/index.ts';
import type {
  ArtworkAnswer,
  Fault,
  OrderPlaced,
  OrderRequest,
  OrderStatus,
  ProblemCode,
  QuoteResponse,
  Remedy,
  Slip,
} from '../../src/contract/index.ts';
import type { EarlyAnswer } from './prefetched-catalog.ts';

/** A code of the API, `offline` when there was no response, or `asset-unavailable` when a file of ours did not load. */
export type ShopProblemCode = ProblemCode | 'offline' | 'asset-unavailable';

/** What kept something from being done. */
export class ShopProblem extends Error {
  readonly code: ShopProblemCode;
  readonly faults: readonly Fault[];
  readonly body: Record<string, unknown>;
  readonly retryAfterS: number | null;

  constructor(
    code: ShopProblemCode,
    detail: string,
    body: Record<string, unknown> = {},
    retryAfterS: number | null = null,
  ) {
    super(detail);
    this.name = 'ShopProblem';
    this.code = code;
    this.body = body;
    this.faults = Array.isArray(body.faults) ? (body.faults as Fault[]) : [];
    this.retryAfterS = retryAfterS;
  }
}

/** Any thrown value as a problem the slip has a message for. */
export const asProblem = (error: unknown): ShopProblem =>
  error instanceof ShopProblem ? error : new ShopProblem('server-fault', String(error));

/** A picture of the artwork on the blank, and the hash that approves it. */
export type ProofAnswer = {
  line: string;
  view: string;
  hash: string;
  url: string;
  name?: { text: string; pieces: number };
};

/** The problem of an error response; one that is not the API's gets the nearest code for its status. */
export function problemFrom(response: {
  status: number;
  text: string;
  retryAfter: string | null;
}): ShopProblem {
  let body: Record<string, unknown> = {};
  try {
    body = JSON.parse(response.text) as Record<string, unknown>;
  } catch {
    // not the API's response, but a proxy's page, for example
  }
  const code =
    typeof body.code === 'string'
      ? (body.code as ProblemCode)
      : response.status >= 500
        ? 'server-fault'
        : 'not-found';
  const detail = typeof body.detail === 'string' ? body.detail : `HTTP ${response.status}`;
  const retry = Number(response.retryAfter);
  return new ShopProblem(code, detail, body, Number.isFinite(retry) && retry > 0 ? retry : null);
}

/** Client of one shop's API. `src/contract` describes what it sends and receives. */
export class ShopApi {
  readonly #base: string;

  /** @param api address of the API, such as `https://print.example` @param shop id of the shop */
  constructor(api: string, shop: string) {
    this.#base = `${api.replace(/\/+$/, '')}/v1/shops/${encodeURIComponent(shop)}`;
  }

  get base(): string {
    return this.#base;
  }

  /** The absolute form of an address in a response, which may be relative to the API. */
  resolve(address: string): string {
    return new URL(address, new URL(this.#base, globalThis.location?.href)).href;
  }

  async #json<T>(path: string, init: RequestInit = {}, early?: EarlyAnswer): Promise<T> {
    const address = `${this.#base}${path}`;
    let response: Response;
    try {
      response = await (early?.address === address
        ? early.answer
        : fetch(address, { ...init, credentials: 'omit' }));
    } catch (error) {
      if (init.signal?.aborted) throw error;
      throw new ShopProblem('offline', error instanceof Error ? error.message : 'no answer');
    }
    if (!response.ok)
      throw problemFrom({
        status: response.status,
        text: await response.text(),
        retryAfter: response.headers.get('retry-after'),
      });
    return (await response.json()) as T;
  }

  #post<T>(
    path: string,
    body: unknown,
    signal?: AbortSignal,
    headers: Record<string, string> = {},
  ): Promise<T> {
    return this.#json<T>(path, {
      method: 'POST',
      headers: { 'content-type': 'application/json', ...headers },
      body: JSON.stringify(body),
      signal: signal ?? null,
    });
  }

  catalog(signal: AbortSignal, early?: EarlyAnswer): Promise<PublicCatalog> {
    return this.#json('/catalog', { signal }, early);
  }

  quote(slip: Slip, signal?: AbortSignal, brief = false): Promise<QuoteResponse> {
    return this.#post('/quotes', { slip, brief }, signal);
  }

  artwork(id: string, signal?: AbortSignal): Promise<ArtworkAnswer> {
    return this.#json(`/artworks/${id}`, { signal: signal ?? null });
  }

  applyRemedies(id: string, remedies: readonly Remedy[], signal?: AbortSignal): Promise<ArtworkAnswer> {
    return this.#post(`/artworks/${id}/mended`, { remedies }, signal);
  }

  proof(slip: Slip, line: string, view: string, signal?: AbortSignal): Promise<ProofAnswer> {
    return this.#post('/proofs', { slip, line, view }, signal);
  }

  order(request: OrderRequest, key: string, signal?: AbortSignal): Promise<OrderPlaced> {
    return this.#post('/orders', request, signal, { 'idempotency-key': `"${key}"` });
  }

  status(number: string, key: string, signal?: AbortSignal): Promise<OrderStatus> {
    return this.#json(`/orders/${encodeURIComponent(number)}?key=${encodeURIComponent(key)}`, {
      signal: signal ?? null,
    });
  }
}
