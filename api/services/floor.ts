import {
  applyEvents,
  type Booking,
  type FloorOutcome,
  type LateOrder,
  PlanInputError,
  type PlannedOrder,
  type ShopHours,
  withChanges,
  withdraw,
} from '../../src/promise/index.ts';
import type { CompiledCatalog } from '../../src/quote/index.ts';
import type { Store, StoreParts } from '../store/store.ts';
import { type FloorFault, type FloorReport, findFaults } from './floor-report.ts';
import { hasAllStations, type PlanCache, type PlanSnapshot } from './plan-cache.ts';
import type { QuoteService } from './quotes.ts';

/** What a report from the floor changed in the plan. */
export type PlanChange = {
  readonly planVersion: number;
  /** orders whose bookings changed. */
  readonly moved: readonly string[];
  /** orders that will miss their promised day. */
  readonly late: readonly LateOrder[];
};

/** Keeps the plan in line with what happens in the shop. A promised day never changes: an order that will miss it is flagged. */
export class FloorService {
  readonly #store: Store;
  readonly #quotes: QuoteService;
  readonly #plans: PlanCache;
  readonly #now: () => number;
  readonly #newId: () => string;

  /** @param deps.now epoch ms */
  constructor(deps: {
    readonly store: Store;
    readonly quotes: QuoteService;
    readonly plans: PlanCache;
    readonly now: () => number;
    readonly newId: () => string;
  }) {
    this.#store = deps.store;
    this.#quotes = deps.quotes;
    this.#plans = deps.plans;
    this.#now = deps.now;
    this.#newId = deps.newId;
  }

  /** Applies reports from the floor, all or none. */
  async report(
    shop: string,
    reports: readonly FloorReport[],
    byKey: string,
  ): Promise<PlanChange | { readonly faults: readonly FloorFault[] }> {
    return this.#store.write(shop, async (parts) => {
      const snapshot = await this.#currentPlan(parts, shop);
      const faults = findFaults(snapshot, reports, this.#nowS());
      if (faults.length > 0) return { faults };
      const events = reports.filter((report) => report.kind !== 'up');
      const hours = await this.#hoursAfter(parts, shop, snapshot, reports);
      let outcome: FloorOutcome;
      try {
        outcome = applyEvents(hours, ordersOnStations(hours, snapshot), events, { now: this.#nowS() });
      } catch (error) {
        if (error instanceof PlanInputError) return { faults: [{ event: 0, message: error.message }] };
        throw error;
      }
      for (const event of reports) {
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
        if (event.kind === 'started') await this.#markInWork(parts, shop, event.job);
      }
      return this.#save(parts, shop, outcome);
    });
  }

  /**
   * Replans for the hours and stations of another catalog, in the transaction that puts it in force.
   * @returns `stranded`: bookings on equipment the catalog no longer has; nothing was changed then
   */
  async replanForCatalog(
    parts: StoreParts,
    shop: string,
    catalog: CompiledCatalog,
  ): Promise<PlanChange | { readonly stranded: readonly Booking[] }> {
    const snapshot = await this.#currentPlan(parts, shop);
    const now = this.#nowS();
    const hours = await this.#plans.shopHours(parts, shop, catalog, now);
    const orders = [...snapshot.orders.values()];
    const stranded = orders
      .flatMap(({ bookings }) => bookings)
      .filter(({ station, unit, end }) => {
        const there = hours.stations.get(station);
        return end > now && (there === undefined || unit >= there.count);
      });
    if (stranded.length > 0) return { stranded };
    return this.#save(parts, shop, applyEvents(hours, ordersOnStations(hours, snapshot), [], { now }));
  }

  /** Removes an order's unfinished work from the plan; orders whose short set-up relied on it get their full one. */
  async removeFromPlan(parts: StoreParts, shop: string, number: string): Promise<void> {
    const snapshot = await this.#currentPlan(parts, shop);
    const planVersion = await parts.shops.planChanged(shop);
    const order = snapshot.orders.get(number);
    if (order !== undefined && hasAllStations(snapshot.plan.shop, order)) {
      const now = this.#nowS();
      const open = order.bookings.filter(({ end }) => end > now);
      const { changed } = withdraw(snapshot.plan, open, now);
      for (const other of new Set(changed.map(({ after }) => after.job))) {
        const planned = snapshot.orders.get(other);
        if (planned === undefined || other === number) continue;
        const changes = changed.filter(({ after }) => after.job === other);
        await parts.orders.rebook(shop, other, {
          job: planned.job,
          bookings: withChanges(planned.bookings, changes),
          endsAt: null,
          planVersion,
        });
      }
    }
    await parts.orders.removeFromPlan(shop, number, planVersion);
  }

  /** The hours of the shop after outages that are over have ended. */
  async #hoursAfter(
    parts: StoreParts,
    shop: string,
    snapshot: PlanSnapshot,
    reports: readonly FloorReport[],
  ): Promise<ShopHours> {
    const working = reports.filter((report) => report.kind === 'up');
    if (working.length === 0) return snapshot.plan.shop;
    for (const { station, unit, at } of working) {
      const units = snapshot.plan.shop.stations.get(station)?.count ?? 1;
      for (const outage of await parts.floor.outages(shop, at)) {
        if (outage.station !== station) continue;
        if (unit !== undefined && outage.unit !== null && outage.unit !== unit) continue;
        await parts.floor.endOutage(shop, outage.id, at);
        if (unit === undefined || outage.unit !== null) continue;
        // All units were down and one works again: the others are still down.
        for (let other = 0; other < units; other++)
          if (other !== unit)
            await parts.floor.addOutage(shop, {
              ...outage,
              id: this.#newId(),
              unit: other,
              from: Math.max(outage.from, at),
            });
      }
    }
    const head = await parts.shops.head(shop);
    const { compiled } = await this.#quotes.currentCatalog(parts, head!);
    return this.#plans.shopHours(parts, shop, compiled, this.#nowS());
  }

  async #currentPlan(parts: StoreParts, shop: string): Promise<PlanSnapshot> {
    const head = await parts.shops.head(shop);
    if (head === undefined) throw new Error(`shop '${shop}' is gone`);
    return this.#quotes.currentPlan(parts, head);
  }

  async #markInWork(parts: StoreParts, shop: string, number: string): Promise<void> {
    const order = await parts.orders.get(shop, number);
    if (order?.state === 'accepted') await parts.orders.setState(shop, number, 'in-work', this.#instant());
  }

  async #save(parts: StoreParts, shop: string, outcome: FloorOutcome): Promise<PlanChange> {
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
      // An order that was late before keeps its cause, unless there is a new one.
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

function ordersOnStations(hours: ShopHours, snapshot: PlanSnapshot): PlannedOrder[] {
  return [...snapshot.orders.values()].filter((order) => hasAllStations(hours, order));
}
