import type { OrderState } from '../../src/contract/index.ts';
import {
  applyEvents,
  type Booking,
  type FloorEvent,
  type FloorOutcome,
  type LateOrder,
  PlanInputError,
  type PlannedOrder,
  type Shop,
  withdraw,
} from '../../src/promise/index.ts';
import type { CompiledCatalog } from '../../src/quote.ts';
import type { Store, StoreParts } from '../store/store.ts';
import { isAllOn, type LivePlan, type LivePlans } from './live-plans.ts';
import type { QuoteDesk } from './quote-desk.ts';

/** What the floor's word did to the plan. */
export type FloorChange = {
  readonly planVersion: number;
  /** orders whose bookings changed. */
  readonly moved: readonly string[];
  /** orders that do not keep their day. */
  readonly late: readonly LateOrder[];
};

/** A report that cannot be; `event` is its place in the list. */
export type FloorFault = { readonly event: number; readonly message: string };

/** States an order may go to from each. */
export const NEXT_STATES: Readonly<Record<OrderState, readonly OrderState[]>> = {
  accepted: ['in-work', 'packed', 'cancelled'],
  'in-work': ['packed', 'cancelled'],
  packed: ['handed-over'],
  'handed-over': [],
  cancelled: [],
};

/** Keeps the plan in line with what happens in the shop. Promised days are never changed: what cannot be kept is flagged. */
export class FloorDesk {
  readonly #store: Store;
  readonly #quotes: QuoteDesk;
  readonly #plans: LivePlans;
  readonly #now: () => number;
  readonly #newId: () => string;

  /** @param deps.now epoch ms */
  constructor(deps: {
    readonly store: Store;
    readonly quotes: QuoteDesk;
    readonly plans: LivePlans;
    readonly now: () => number;
    readonly newId: () => string;
  }) {
    this.#store = deps.store;
    this.#quotes = deps.quotes;
    this.#plans = deps.plans;
    this.#now = deps.now;
    this.#newId = deps.newId;
  }

  /** Takes reports from the floor, all or none. */
  async report(
    shop: string,
    events: readonly FloorEvent[],
    byKey: string,
  ): Promise<FloorChange | { readonly faults: readonly FloorFault[] }> {
    return this.#store.write(shop, async (parts) => {
      const live = await this.#live(parts, shop);
      const faults = faultsOf(live, events);
      if (faults.length > 0) return { faults };
      const hours = live.plan.shop;
      let outcome: FloorOutcome;
      try {
        outcome = applyEvents(hours, ordersOn(hours, live), events, { now: this.#nowS() });
      } catch (error) {
        if (error instanceof PlanInputError) return { faults: [{ event: 0, message: error.message }] };
        throw error;
      }
      for (const event of events) {
        const id = this.#newId();
        await parts.floor.record(shop, id, this.#instant(), event, byKey);
        if (event.kind === 'down')
          await parts.floor.addOutage(shop, {
            id,
            station: event.station,
            unit: event.unit ?? null,
            from: event.from,
            to: event.to,
          });
        if (event.kind === 'started') await this.#begin(parts, shop, event.job);
      }
      return this.#keep(parts, shop, outcome);
    });
  }

  /**
   * Lays the plan out anew by the hours and stations of another catalog, in the transaction that puts it in force.
   * @returns faults when work is booked on equipment it no longer has
   */
  async realign(
    parts: StoreParts,
    shop: string,
    catalog: CompiledCatalog,
  ): Promise<FloorChange | { readonly stranded: readonly Booking[] }> {
    const live = await this.#live(parts, shop);
    const now = this.#nowS();
    const hours = await this.#plans.shopBy(parts, shop, catalog, now);
    const orders = [...live.orders.values()];
    const stranded = orders
      .flatMap(({ bookings }) => bookings)
      .filter(({ station, unit, end }) => {
        const there = hours.stations.get(station);
        return end > now && (there === undefined || unit >= there.count);
      });
    if (stranded.length > 0) return { stranded };
    return this.#keep(parts, shop, applyEvents(hours, ordersOn(hours, live), [], { now }));
  }

  /** Takes an order's work that is not done out of the plan; others whose set-up relied on it are mended. */
  async leave(parts: StoreParts, shop: string, number: string): Promise<void> {
    const live = await this.#live(parts, shop);
    const planVersion = await parts.shops.planChanged(shop);
    const order = live.orders.get(number);
    if (order !== undefined && isAllOn(live.plan.shop, order)) {
      const now = this.#nowS();
      const open = order.bookings.filter(({ end }) => end > now);
      const { changed } = withdraw(live.plan, open, now);
      const bookings = new Map<string, Booking[]>();
      for (const { before, after } of changed) {
        const own = bookings.get(after.job) ?? [...(live.orders.get(after.job)?.bookings ?? [])];
        bookings.set(after.job, [
          ...own.filter((booking) => before === null || !isSame(booking, before)),
          after,
        ]);
      }
      for (const [other, own] of bookings) {
        const planned = live.orders.get(other);
        if (planned === undefined || other === number) continue;
        await parts.orders.rebook(shop, other, {
          job: planned.job,
          bookings: own,
          endsAt: null,
          planVersion,
        });
      }
    }
    await parts.orders.leavePlan(shop, number, planVersion);
  }

  async #live(parts: StoreParts, shop: string): Promise<LivePlan> {
    const head = await parts.shops.head(shop);
    if (head === undefined) throw new Error(`shop '${shop}' is gone`);
    return this.#quotes.livePlan(parts, head);
  }

  async #begin(parts: StoreParts, shop: string, number: string): Promise<void> {
    const order = await parts.orders.get(shop, number);
    if (order?.state === 'accepted') await parts.orders.setState(shop, number, 'in-work', this.#instant());
  }

  async #keep(parts: StoreParts, shop: string, outcome: FloorOutcome): Promise<FloorChange> {
    const planVersion = await parts.shops.planChanged(shop);
    const after = new Map(outcome.orders.map((order) => [order.job.id, order]));
    for (const { order, after: bookings, endsAt } of outcome.moved)
      await parts.orders.rebook(shop, order, {
        job: after.get(order)!.job,
        bookings,
        endsAt,
        planVersion,
      });
    const wasLate = new Map((await parts.orders.late(shop)).map((late) => [late.number, late]));
    for (const late of outcome.late) {
      const before = wasLate.get(late.order);
      wasLate.delete(late.order);
      // What it was late for stays told, unless this adds to it.
      const cause = late.cause ?? before?.cause ?? null;
      await parts.orders.setLate(
        shop,
        late.order,
        { until: late.now, cause: cause && JSON.stringify(cause) },
        this.#instant(),
      );
    }
    for (const { number } of wasLate.values())
      if (after.has(number))
        await parts.orders.setLate(shop, number, { until: null, cause: null }, this.#instant());
    return { planVersion, moved: outcome.moved.map(({ order }) => order), late: outcome.late };
  }

  #nowS(): number {
    return Math.floor(this.#now() / 1000);
  }

  #instant(): string {
    return new Date(this.#now()).toISOString();
  }
}

function isSame(one: Booking, other: Booking): boolean {
  return (
    one.chain === other.chain &&
    one.step === other.step &&
    one.part === other.part &&
    one.start === other.start
  );
}

function ordersOn(hours: Shop, live: LivePlan): PlannedOrder[] {
  return [...live.orders.values()].filter((order) => isAllOn(hours, order));
}

function faultsOf(live: LivePlan, events: readonly FloorEvent[]): FloorFault[] {
  return events.flatMap((event, index) => {
    const message = faultOf(live, event);
    return message === undefined ? [] : [{ event: index, message }];
  });
}

function faultOf(live: LivePlan, event: FloorEvent): string | undefined {
  const { stations } = live.plan.shop;
  if (event.kind === 'down') {
    const station = stations.get(event.station);
    if (station === undefined)
      return `there is no station "${event.station}"; there are: ${[...stations.keys()].join(', ')}`;
    if (event.unit !== undefined && event.unit >= station.count)
      return `station "${event.station}" has units 0 to ${station.count - 1}, not ${event.unit}`;
    return event.to > event.from ? undefined : 'an outage ends after it begins';
  }
  const order = live.orders.get(event.job);
  if (order === undefined) return `order "${event.job}" has no work in the plan`;
  if (order.job.chains[event.chain]?.steps[event.step] === undefined)
    return `order "${event.job}" has no step ${event.step} in chain ${event.chain}`;
  return undefined;
}
