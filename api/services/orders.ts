import { canonicalJson } from '../../src/canonical-json.ts';
import { type OrderPlaced, type OrderRequest, piecesOf } from '../../src/contract/index.ts';
import { type DeliveryRule, promiseDay } from '../../src/promise/index.ts';
import type { ArtworkOf } from '../../src/quote/index.ts';
import { type FileRefusal, isRefusal } from '../files/index.ts';
import { hasHash, sha256 } from '../sha256.ts';
import type { StoredOrder } from '../store/order-record.ts';
import { serializeRoute } from '../store/route-record.ts';
import type { ShopHead } from '../store/shops.ts';
import type { Store, StoreParts } from '../store/store.ts';
import type { ArtworkService } from './artworks.ts';
import { checkReferences, checkToken, describeChange, honors, type OrderRefusal } from './order-checks.ts';
import { orderStatus } from './order-status.ts';
import type { QuoteClaims } from './quote-token.ts';
import type { QuoteService } from './quotes.ts';
import { saveMove, scheduleWork } from './schedule-order.ts';

/** What came of a request to order. `body` is the JSON text of an `OrderPlaced`; `again`: of an earlier request. */
export type OrderOutcome =
  | { readonly kind: 'placed'; readonly body: string; readonly again: boolean }
  | { readonly kind: 'refused'; readonly refusal: OrderRefusal }
  /** an artwork could not be read. */
  | { readonly kind: 'unread'; readonly refusal: FileRefusal };

export type OrderServiceDeps = {
  readonly store: Store;
  readonly quotes: QuoteService;
  readonly artworks: ArtworkService;
  /** epoch ms. */
  readonly now: () => number;
  readonly randomBytes: (count: number) => Buffer;
  /** address of an order's status page. */
  readonly statusUrl: (shop: string, number: string, key: string) => string;
};

type Booked = { readonly body: string } | { readonly refusal: OrderRefusal } | 'not-kept';

/** Orders are numbered from here, so that early customers do not see how few came before them. */
const FIRST_NUMBER = 1000;

/** Takes orders. The work of an order is booked in one transaction, or not at all. */
export class OrderService {
  readonly #deps: OrderServiceDeps;

  constructor(deps: OrderServiceDeps) {
    this.#deps = deps;
  }

  /**
   * Orders what a quote offered. The slip is quoted again on the current plan, within the transaction: if the same work
   * can still be done at no higher price and no later, it is booked; if not, nothing is, and the answer holds the new
   * quote.
   *
   * @param key of the request; the same key with the same request gets the first answer again
   */
  async place(head: ShopHead, request: OrderRequest, key: string): Promise<OrderOutcome> {
    const { store, quotes, artworks } = this.#deps;
    const { shop } = head;
    const fingerprint = sha256(canonicalJson(request));
    const earlier = await this.#storedAnswer(store, shop, key, fingerprint);
    if (earlier !== undefined) return earlier;
    const claims = await quotes.verify(head, request.token);
    const refusal = checkToken(claims, request, this.#deps.now());
    if (refusal !== undefined) return { kind: 'refused', refusal };
    const artwork = await artworks.forSlip(shop, request.slip);
    if (isRefusal(artwork)) return { kind: 'unread', refusal: artwork };
    const outcome = await store.write<OrderOutcome | 'not-kept'>(shop, async (parts) => {
      // The same request may have been handled while we waited for the lock.
      const again = await this.#storedAnswer(parts, shop, key, fingerprint);
      if (again !== undefined) return again;
      const booked = await this.#book(parts, shop, request, claims!, artwork);
      if (booked === 'not-kept') return booked;
      if ('refusal' in booked) return { kind: 'refused', refusal: booked.refusal };
      await parts.idempotency.add(
        shop,
        key,
        { fingerprint, status: 201, body: booked.body },
        this.#instant(),
      );
      return { kind: 'placed', body: booked.body, again: false };
    });
    // A new quote takes longer, so it is made outside the transaction.
    if (outcome === 'not-kept')
      return { kind: 'refused', refusal: await this.#requote(shop, request, claims!, artwork) };
    return outcome;
  }

  /** The order, for whoever has its status key; undefined if there is no such order or the key is wrong. */
  async find(shop: string, number: string, statusKey: string): Promise<StoredOrder | undefined> {
    const order = await this.#deps.store.orders.get(shop, number);
    if (order === undefined) return undefined;
    return hasHash(statusKey, order.statusKeyHash) ? order : undefined;
  }

  async #storedAnswer(
    parts: Pick<StoreParts, 'idempotency'>,
    shop: string,
    key: string,
    fingerprint: string,
  ): Promise<OrderOutcome | undefined> {
    const stored = await parts.idempotency.get(shop, key);
    if (stored === undefined) return undefined;
    if (stored.fingerprint === fingerprint) return { kind: 'placed', body: stored.body, again: true };
    return {
      kind: 'refused',
      refusal: {
        code: 'key-reused',
        detail: 'this Idempotency-Key came with another order before; a new order needs a new key',
      },
    };
  }

  async #book(
    parts: StoreParts,
    shop: string,
    request: OrderRequest,
    claims: QuoteClaims,
    artwork: ArtworkOf,
  ): Promise<Booked> {
    const { slip } = request;
    const head = await parts.shops.head(shop);
    if (head === undefined) throw new Error(`shop '${shop}' is gone`);
    const refusal = await checkReferences(parts, shop, request);
    if (refusal !== undefined) return { refusal };
    const { result, snapshot, catalog } = await this.#deps.quotes.quote(parts, head, slip, artwork, {
      brief: true,
      catalogVersion: claims.catalog,
    });
    const { answer, internal } = result;
    if (answer?.kind !== 'quote' || internal === undefined || !honors(answer, claims)) return 'not-kept';
    const scheduled = scheduleWork(snapshot, { ...internal.job, id: 'order' }, internal, slip.rush);
    if (scheduled === undefined) return 'not-kept';
    const delivery = catalog.deliveries.get(slip.delivery)!;
    const rule: DeliveryRule = {
      kind: delivery.kind,
      workingDays: delivery.workingDays,
      handOverBy: null,
    };
    const promised = promiseDay(snapshot.plan.shop, scheduled.endsAt, internal.packingS, rule);
    if (promised === undefined || promised.day > claims.day) return 'not-kept';

    const place = await parts.shops.takeOrderNumber(shop);
    const planVersion = await parts.shops.planChanged(shop);
    const number = String(FIRST_NUMBER + place);
    const at = this.#instant();
    const statusKey = this.#deps.randomBytes(16).toString('base64url');
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
      // The day of the quote was promised; if the plan would keep an earlier one, that is slack.
      answer: { ...answer, promise: { ...answer.promise, day: claims.day, planVersion } },
      bill: internal.bill.written(),
      route: serializeRoute(internal.routed),
      proofs: request.proofs,
      catalogVersion: claims.catalog,
      work: {
        number,
        job: { ...internal.job, id: number },
        notBefore: internal.notBefore,
        endsAt: scheduled.endsAt,
        packingS: internal.packingS,
        rule,
        promisedDay: claims.day,
        planVersion,
      },
    };
    for (const moved of scheduled.moved) await saveMove(parts, shop, snapshot, moved, planVersion);
    const bookings = scheduled.bookings.map((booking) => ({ ...booking, job: number }));
    await parts.orders.add(shop, place, order, bookings);
    const placed: OrderPlaced = {
      number,
      statusKey,
      statusUrl: this.#deps.statusUrl(shop, number, statusKey),
      status: orderStatus(order, catalog),
    };
    return { body: JSON.stringify(placed) };
  }

  /** What can be had now that the quoted day, price or method cannot, from the newest catalog. */
  async #requote(
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
      detail: `${describeChange(claims, answer)}; nothing was booked, the new quote can be ordered instead`,
      more: { quote: { ...answer, token: await quotes.sign(head, answer) } },
    };
  }

  #instant(): string {
    return new Date(this.#deps.now()).toISOString();
  }
}
