import { createHash, timingSafeEqual } from 'node:crypto';
import { canonicalJson } from '../../src/canonical-json.ts';
import type {
  Fault,
  OrderPlaced,
  OrderRequest,
  ProblemCode,
  QuoteAnswer,
  QuoteRefusal,
} from '../../src/contract/index.ts';
import { piecesOf } from '../../src/contract/index.ts';
import {
  type Booking,
  insert,
  type Job,
  type MovedOrder,
  promiseDay,
  replanForRush,
} from '../../src/promise/index.ts';
import type { ArtworkOf, QuoteInternal } from '../../src/quote/index.ts';
import { type FileRefusal, isRefusal } from '../files/index.ts';
import type { StoredOrder } from '../store/orders.ts';
import { serializeRoute } from '../store/route-record.ts';
import type { ShopHead } from '../store/shops.ts';
import type { Store, StoreParts } from '../store/store.ts';
import type { ArtworkService } from './artworks.ts';
import { orderStatus } from './order-status.ts';
import type { LivePlan } from './plan-cache.ts';
import { proofSubjectOf } from './proof-subject.ts';
import type { QuoteClaims } from './quote-token.ts';
import { type QuoteService, RUSH_MOVES, routeHash, sha256 } from './quotes.ts';

/** Why an order was not taken. */
export type OrderRefusal = {
  readonly code: ProblemCode;
  readonly detail: string;
  readonly faults?: readonly Fault[];
  /** members the problem's body has besides. */
  readonly more?: { readonly quote?: QuoteAnswer; readonly refusal?: QuoteRefusal };
};

/** What came of a request to order. `body` is the JSON text of an `OrderPlaced`. */
export type Ordering =
  | { readonly kind: 'placed'; readonly body: string; readonly again: boolean }
  | { readonly kind: 'refused'; readonly refusal: OrderRefusal }
  | { readonly kind: 'unread'; readonly refusal: FileRefusal };

/** What the order desk stands on. */
export type OrderDeskDeps = {
  readonly store: Store;
  readonly quotes: QuoteService;
  readonly shelf: ArtworkService;
  /** epoch ms. */
  readonly now: () => number;
  readonly randomBytes: (count: number) => Buffer;
  /** address of an order's status page. */
  readonly statusUrl: (shop: string, number: string, key: string) => string;
};

/** Takes orders: all of one is booked in one transaction, or nothing of it. */
export class OrderService {
  readonly #deps: OrderDeskDeps;

  constructor(deps: OrderDeskDeps) {
    this.#deps = deps;
  }

  /**
   * Orders what a quote offered. The slip is quoted again on the plan as it stands within the transaction: where the
   * same work can still be done for no more and no later, it is booked; otherwise nothing is, and the answer holds the
   * new quote.
   *
   * @param key of the request; the same key with the same request gets the first one's answer
   */
  async place(head: ShopHead, request: OrderRequest, key: string): Promise<Ordering> {
    const { store, quotes, shelf } = this.#deps;
    const { shop } = head;
    const fingerprint = sha256(canonicalJson(request));
    const earlier = await this.#earlier(store, shop, key, fingerprint);
    if (earlier !== undefined) return earlier;
    const claims = await quotes.verify(head, request.token);
    const mismatch = this.#mismatch(claims, request);
    if (mismatch !== undefined) return { kind: 'refused', refusal: mismatch };
    const artwork = await shelf.forSlip(shop, request.slip);
    if (isRefusal(artwork)) return { kind: 'unread', refusal: artwork };
    const outcome = await store.write<Ordering | 'not-kept'>(shop, async (parts) => {
      // Whoever held the lock before us may have been the same request.
      const again = await this.#earlier(parts, shop, key, fingerprint);
      if (again !== undefined) return again;
      const booked = await this.#book(parts, shop, request, claims!, artwork);
      if (booked === 'not-kept') return booked;
      if ('refusal' in booked) return { kind: 'refused', refusal: booked.refusal };
      const at = this.#instant();
      await parts.idempotency.keep(shop, key, { fingerprint, status: 201, body: booked.body }, at);
      return { kind: 'placed', body: booked.body, again: false };
    });
    // What can be had instead takes longer to work out; nobody needs to wait for that.
    if (outcome === 'not-kept')
      return { kind: 'refused', refusal: await this.#notKept(shop, request, claims!, artwork) };
    return outcome;
  }

  async #earlier(
    parts: Pick<StoreParts, 'idempotency'>,
    shop: string,
    key: string,
    fingerprint: string,
  ): Promise<Ordering | undefined> {
    const kept = await parts.idempotency.get(shop, key);
    if (kept === undefined) return undefined;
    if (kept.fingerprint === fingerprint) return { kind: 'placed', body: kept.body, again: true };
    return {
      kind: 'refused',
      refusal: {
        code: 'key-reused',
        detail: 'this Idempotency-Key came with another order before; a new order needs a new key',
      },
    };
  }

  #mismatch(claims: QuoteClaims | null, request: OrderRequest): OrderRefusal | undefined {
    if (claims === null)
      return { code: 'quote-altered', detail: 'the token is not one this shop signed; ask for a new quote' };
    if (claims.slip !== sha256(canonicalJson(request.slip)))
      return {
        code: 'slip-differs',
        detail: 'the token belongs to another slip; ask for a quote of this one',
      };
    if (claims.exp * 1000 <= this.#deps.now())
      return {
        code: 'quote-expired',
        detail: `the quote was valid until ${new Date(claims.exp * 1000).toISOString()}; ask for a new one`,
      };
    return undefined;
  }

  async #book(
    parts: StoreParts,
    shop: string,
    request: OrderRequest,
    claims: QuoteClaims,
    artwork: ArtworkOf,
  ): Promise<{ readonly body: string } | { readonly refusal: OrderRefusal } | 'not-kept'> {
    const { quotes } = this.#deps;
    const { slip } = request;
    const head = await parts.shops.head(shop);
    if (head === undefined) throw new Error(`shop '${shop}' is gone`);
    const missing = await this.#missing(parts, shop, request);
    if (missing !== undefined) return { refusal: missing };
    const quoted = await quotes.quote(parts, head, slip, artwork, {
      brief: true,
      catalogVersion: claims.catalog,
    });
    const { answer, internal } = quoted.result;
    if (answer?.kind !== 'quote' || internal === undefined || !keeps(answer, claims)) return 'not-kept';
    const work = { ...internal.job, id: 'order' };
    const placing = placeWork(quoted.live, work, internal, slip.rush);
    const { rule } = internal;
    const promised = placing && promiseDay(quoted.live.plan.shop, placing.endsAt, internal.packingS, rule);
    if (placing === undefined || promised === null || promised === undefined || promised.day > claims.day)
      return 'not-kept';

    const place = await parts.shops.takeOrderNumber(shop);
    const planVersion = await parts.shops.planChanged(shop);
    const number = String(FIRST_NUMBER + place);
    const at = this.#instant();
    const statusKey = this.#deps.randomBytes(16).toString('base64url');
    // The customer was promised the day of the quote; that the plan would keep an earlier one is slack.
    const kept: QuoteAnswer = {
      ...answer,
      promise: { ...answer.promise, day: claims.day, planVersion },
    };
    const order: StoredOrder = {
      number,
      state: 'accepted',
      placedAt: at,
      changedAt: at,
      promisedDay: claims.day,
      lateUntil: null,
      lateCause: null,
      pieces: slip.lines.reduce((sum, line) => sum + piecesOf(line), 0),
      statusKeyHash: sha256(statusKey),
      contact: request.contact,
      slip,
      answer: kept,
      bill: internal.bill.written(),
      route: serializeRoute(internal.routed),
      proofs: request.proofs,
      catalogVersion: claims.catalog,
      work: {
        number,
        job: { ...internal.job, id: number },
        notBefore: internal.notBefore,
        endsAt: placing.endsAt,
        packingS: internal.packingS,
        rule,
        promisedDay: claims.day,
        planVersion,
      },
    };
    for (const moved of placing.moved) await rebook(parts, shop, quoted.live, moved, planVersion);
    const bookings = placing.bookings.map((booking) => ({ ...booking, job: number }));
    await parts.orders.add(shop, place, order, bookings);
    const placed: OrderPlaced = {
      number,
      statusKey,
      statusUrl: this.#deps.statusUrl(shop, number, statusKey),
      status: orderStatus(order, quoted.catalog),
    };
    return { body: JSON.stringify(placed) };
  }

  /** Artworks taken away since the quote, and proofs that are not of this slip. */
  async #missing(parts: StoreParts, shop: string, request: OrderRequest): Promise<OrderRefusal | undefined> {
    const wanted = new Map<string, string>();
    request.slip.lines.forEach(({ placements }, line) => {
      placements.forEach(({ artwork }, place) => {
        wanted.set(artwork, `slip.lines.${line}.placements.${place}.artwork`);
      });
    });
    const known = await parts.artworks.known(shop, [...wanted.keys()]);
    const faults: Fault[] = [...wanted]
      .filter(([artwork]) => !known.has(artwork))
      .map(([artwork, at]) => ({
        at,
        message: 'the artwork is not known here',
        value: artwork,
        allowed: 'an artwork sent before',
      }));
    if (faults.length > 0)
      return { code: 'unknown-artwork', detail: 'an artwork of the slip is gone; send it again', faults };
    const ours = new Set(request.slip.lines.map(proofSubjectOf));
    const subjects = await parts.artworks.proofSubjects(shop, request.proofs);
    const strangers: Fault[] = request.proofs.flatMap((hash, index) =>
      [...(subjects.get(hash) ?? [])].some((subject) => ours.has(subject))
        ? []
        : [
            {
              at: `proofs.${index}`,
              message: 'this is not a proof of a line of this slip as it is now',
              value: hash,
              allowed: 'the hash of a proof drawn of this slip',
            },
          ],
    );
    if (strangers.length > 0)
      return {
        code: 'invalid-input',
        detail: 'a proof is not of this slip; draw it again',
        faults: strangers,
      };
    return undefined;
  }

  /** The quoted day, price or method can no longer be had: what can, from the newest catalog. */
  async #notKept(
    shop: string,
    request: OrderRequest,
    claims: QuoteClaims,
    artwork: ArtworkOf,
  ): Promise<OrderRefusal> {
    const { quotes, store } = this.#deps;
    const head = await store.shops.head(shop);
    if (head === undefined) throw new Error(`shop '${shop}' is gone`);
    const { result } = await quotes.quote(store, head, request.slip, artwork);
    const { answer } = result;
    if (answer === undefined)
      return {
        code: result.code,
        detail: 'the shop no longer offers what was quoted',
        faults: result.faults.map((fault) => ({ ...fault, at: `slip.${fault.at}` })),
      };
    if (answer.kind === 'refusal')
      return {
        code: 'day-not-kept',
        detail: `the order can no longer be ready on ${claims.day}, nor made as the slip says; nothing was booked`,
        more: { refusal: answer },
      };
    return {
      code: 'day-not-kept',
      detail: `${changeBetween(claims, answer)}; nothing was booked, the new quote can be ordered instead`,
      more: { quote: { ...answer, token: await quotes.sign(head, answer) } },
    };
  }

  /** The status of an order for whoever has its key; undefined when there is no such order or the key is wrong. */
  async find(shop: string, number: string, statusKey: string): Promise<StoredOrder | undefined> {
    const order = await this.#deps.store.orders.get(shop, number);
    if (order === undefined) return undefined;
    const given = createHash('sha256').update(statusKey).digest();
    return timingSafeEqual(given, Buffer.from(order.statusKeyHash, 'hex')) ? order : undefined;
  }

  #instant(): string {
    return new Date(this.#deps.now()).toISOString();
  }
}

/** Orders are numbered from here on, so that a first customer does not feel like one. */
const FIRST_NUMBER = 1000;

/** True when a new quote gives what the signed one promised: the same methods, no dearer, no later. */
function keeps(answer: QuoteAnswer, claims: QuoteClaims): boolean {
  return (
    answer.currency === claims.currency &&
    compareAmounts(answer.total, claims.total) <= 0 &&
    answer.promise.day <= claims.day &&
    routeHash(answer) === claims.route
  );
}

function changeBetween(claims: QuoteClaims, answer: QuoteAnswer): string {
  if (answer.promise.day > claims.day)
    return `the order can no longer be ready on ${claims.day}, but on ${answer.promise.day}`;
  if (compareAmounts(answer.total, claims.total) > 0)
    return `${claims.day} can no longer be kept at ${claims.total} ${claims.currency}, but at ${answer.total}`;
  return `${claims.day} can no longer be kept the way it was quoted`;
}

/** Compares two amounts of one currency, which have as many digits after the point. */
function compareAmounts(one: string, other: string): number {
  const difference = BigInt(one.replace('.', '')) - BigInt(other.replace('.', ''));
  return difference < 0n ? -1 : difference > 0n ? 1 : 0;
}

type Placing = {
  readonly bookings: readonly Booking[];
  readonly endsAt: number;
  readonly moved: readonly MovedOrder[];
};

/** Where the work goes; with rush it may use the slack of orders already promised. */
function placeWork(live: LivePlan, job: Job, internal: QuoteInternal, rush: boolean): Placing | undefined {
  const { notBefore } = internal;
  const plain = insert(live.plan, job, notBefore);
  const placing: Placing | undefined =
    plain.kind === 'placed' ? { bookings: plain.bookings, endsAt: plain.endsAt, moved: [] } : undefined;
  if (!rush || (placing !== undefined && placing.endsAt <= internal.endsAt)) return placing;
  const room = replanForRush(live.plan, [...live.orders.values()], job, {
    notBefore,
    mostMoved: RUSH_MOVES,
  });
  if (room.kind !== 'room') return placing;
  return { bookings: room.insertion.bookings, endsAt: room.insertion.endsAt, moved: room.moved };
}

async function rebook(
  parts: StoreParts,
  shop: string,
  live: LivePlan,
  moved: MovedOrder,
  planVersion: number,
): Promise<void> {
  const { job } = live.orders.get(moved.order)!;
  await parts.orders.rebook(shop, moved.order, {
    job,
    bookings: moved.after,
    endsAt: moved.endsAt,
    planVersion,
  });
}
