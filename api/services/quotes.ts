import { LRUCache } from 'lru-cache';
import type { QuoteAnswer, Slip } from '../../src/contract/index.ts';
import { LETTERING_FONTS, lettering, missingLetters } from '../../src/production/index.ts';
import { type EpochS, type Job, type RushOptions, replanForRush } from '../../src/promise/index.ts';
import {
  type ArtworkOf,
  type CompiledCatalog,
  type Lettering,
  type QuoteResult,
  quote,
} from '../../src/quote/index.ts';
import { sha256 } from '../sha256.ts';
import type { ShopHead } from '../store/shops.ts';
import type { Store, StoreParts } from '../store/store.ts';
import type { CachedCatalog, CatalogCache } from './catalog-cache.ts';
import type { PlanCache, PlanSnapshot } from './plan-cache.ts';
import {
  keyIdOf,
  type QuoteClaims,
  type SigningKey,
  signingKey,
  signQuote,
  verifyQuote,
} from './quote-token.ts';

const MAX_CACHED_KEYS = 500;
/** Orders that may move within their slack for a rush order. The search grows with it. */
export const MAX_RUSH_MOVES = 12;
/** For customers who did not choose rush: a smaller search, for a day that is possible if not always the earliest. */
const RUSH_PREVIEW = { maxMoved: 2, maxAttempts: 3 };

/** A quoted slip, and the catalog and plan it was quoted on. */
export type Quoted = {
  readonly result: QuoteResult;
  readonly catalog: CompiledCatalog;
  readonly snapshot: PlanSnapshot;
};

/** The bundled fonts. */
const LETTERING: Lettering = {
  fonts: LETTERING_FONTS.map(({ id }) => id),
  missing: missingLetters,
  measure: lettering,
};

/** Quotes slips; signs and verifies quotes. */
export class QuoteService {
  readonly #store: Store;
  readonly #catalogs: CatalogCache;
  readonly #plans: PlanCache;
  readonly #now: () => number;
  /** keys by shop and id; a key never changes. */
  readonly #keys = new LRUCache<string, SigningKey>({ max: MAX_CACHED_KEYS });

  /** @param deps.now epoch ms */
  constructor(deps: {
    readonly store: Store;
    readonly catalogs: CatalogCache;
    readonly plans: PlanCache;
    readonly now: () => number;
  }) {
    this.#store = deps.store;
    this.#catalogs = deps.catalogs;
    this.#plans = deps.plans;
    this.#now = deps.now;
  }

  /** Epoch seconds. */
  nowS(): EpochS {
    return Math.floor(this.#now() / 1000);
  }

  currentCatalog(parts: Pick<StoreParts, 'catalogs'>, head: ShopHead): Promise<CachedCatalog> {
    return this.#catalogs.get(parts, head.shop, head.catalogVersion);
  }

  async currentPlan(parts: StoreParts, head: ShopHead): Promise<PlanSnapshot> {
    const { compiled } = await this.currentCatalog(parts, head);
    return this.#plans.get(parts, head, compiled, this.nowS());
  }

  /**
   * Quotes a slip.
   * @param options.catalogVersion the version to take methods and prices from; absent: the newest. The plan is always the
   * current one.
   */
  async quote(
    parts: StoreParts,
    head: ShopHead,
    slip: Slip,
    artwork: ArtworkOf,
    options: { readonly brief?: boolean; readonly catalogVersion?: number } = {},
  ): Promise<Quoted> {
    const version = options.catalogVersion ?? head.catalogVersion;
    const { compiled } = await this.#catalogs.get(parts, head.shop, version);
    const snapshot = await this.currentPlan(parts, head);
    const result = quote({
      catalog: compiled,
      slip,
      artwork,
      plan: snapshot.plan,
      planVersion: snapshot.version,
      now: this.nowS(),
      hash: sha256,
      brief: options.brief,
      lettering: LETTERING,
      rushEnd: (job, notBefore) =>
        rushEnd(snapshot, job, notBefore, slip.rush ? { maxMoved: MAX_RUSH_MOVES } : RUSH_PREVIEW),
    });
    return { result, catalog: compiled, snapshot };
  }

  /** Signs a quote with the shop's key. */
  async sign(head: ShopHead, answer: QuoteAnswer): Promise<string> {
    const key = await this.#key(head.shop, head.signingKey);
    if (key === undefined) throw new Error(`the signing key of shop '${head.shop}' is missing`);
    return signQuote(
      {
        iss: head.shop,
        slip: answer.slipHash,
        currency: answer.currency,
        total: answer.total,
        day: answer.promise.day,
        catalog: answer.catalogVersion,
        route: routeHash(answer),
        iat: epochS(answer.at),
        exp: epochS(answer.validUntil),
      },
      key,
    );
  }

  /** The claims of a token; null if this shop did not sign it. */
  async verify(head: ShopHead, token: string): Promise<QuoteClaims | null> {
    const { shop } = head;
    const id = keyIdOf(token);
    if (id === null) return null;
    // An older key may have been deleted by another process: ask the store.
    if (id !== head.signingKey) this.#keys.delete(`${shop} ${id}`);
    const key = await this.#key(shop, id);
    const claims = key === undefined ? null : await verifyQuote(token, key);
    return claims?.iss === shop ? claims : null;
  }

  async #key(shop: string, id: string): Promise<SigningKey | undefined> {
    const cached = this.#keys.get(`${shop} ${id}`);
    if (cached !== undefined) return cached;
    const secret = await this.#store.keys.signingSecret(shop, id);
    if (secret === undefined) return undefined;
    const key = await signingKey(id, secret);
    this.#keys.set(`${shop} ${id}`, key);
    return key;
  }
}

/** A hash of the methods and treatments of every placement. */
export function routeHash(answer: QuoteAnswer): string {
  const route = answer.lines.map(({ id, placements }) => [
    id,
    placements.map((placement) => [placement.id, placement.method.id, ...placement.treatments]),
  ]);
  return sha256(JSON.stringify(route));
}

function rushEnd(
  snapshot: PlanSnapshot,
  job: Job,
  notBefore: EpochS,
  limits: Pick<RushOptions, 'maxMoved' | 'maxAttempts'>,
): EpochS | undefined {
  const room = replanForRush(snapshot.plan, [...snapshot.orders.values()], job, { notBefore, ...limits });
  return room.kind === 'room' ? room.insertion.endsAt : undefined;
}

function epochS(instant: string): EpochS {
  return Math.floor(Date.parse(instant) / 1000);
}
