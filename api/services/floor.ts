import type { OrderState } from '../../src/contract/index.ts';
import {
  applyEvents,
  type Booking,
  type FloorEvent,
  type FloorOutcome,
  type LateOrder,
  PlanInputError,
  type PlannedOrder,
  type ShopHours,
  withdraw,
} from '../../src/promise/index.ts';
import type { CompiledCatalog } from '../../src/quote/index.ts';
import type { Store, StoreParts } from '../store/store.ts';
import { hasAllStations, type PlanCache, type PlanSnapshot } from './plan-cache.ts';
import type { QuoteService } from './quotes.ts';

/** What the floor's word did to the plan. */
export type PlanChange = {
  readonly planVersion: number;
  /** orders whose bookings changed. */
  readonly moved: readonly string[];
  /** orders that do not keep their day. */
  readonly late: readonly LateOrder[];
};

/** A report from the floor: something happened to a step or a station, or a station works again. */
export type FloorReport =
  | FloorEvent
  | {
      readonly kind: 'up';
      readonly station: string;
      readonly unit?: number | undefined;
      readonly at: number;
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

  /** Takes reports from the floor, all or none. */
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
   * Lays the plan out anew by the hours and stations of another catalog, in the transaction that puts it in force.
   * @returns faults when work is booked on equipment it no longer has
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

  /** Takes an order's work that is not done out of the plan; others whose set-up relied on it are mended. */
  async removeFromPlan(parts: StoreParts, shop: string, number: string): Promise<void> {
    const snapshot = await this.#currentPlan(parts, shop);
    const planVersion = await parts.shops.planChanged(shop);
    const order = snapshot.orders.get(number);
    if (order !== undefined && hasAllStations(snapshot.plan.shop, order)) {
      const now = this.#nowS();
      const open = order.bookings.filter(({ end }) => end > now);
      const { changed } = withdraw(snapshot.plan, open, now);
      const bookings = new Map<string, Booking[]>();
      for (const { before, after } of changed) {
        const own = bookings.get(after.job) ?? [...(snapshot.orders.get(after.job)?.bookings ?? [])];
        bookings.set(after.job, [
          ...own.filter((booking) => before === undefined || !isSame(booking, before)),
          after,
        ]);
      }
      for (const [other, own] of bookings) {
        const planned = snapshot.orders.get(other);
        if (planned === undefined || other === number) continue;
        await parts.orders.rebook(shop, other, {
          job: planned.job,
          bookings: own,
          endsAt: null,
          planVersion,
        });
      }
    }
    await parts.orders.removeFromPlan(shop, number, planVersion);
  }

  /** The hours of the shop once stations that work again do. */
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
        // all of them were down, and one works again: the others still do not
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

function ordersOnStations(hours: ShopHours, snapshot: PlanSnapshot): PlannedOrder[] {
  return [...snapshot.orders.values()].filter((order) => hasAllStations(hours, order));
}

/** A clock of the floor may be ahead of ours by so much, s. */
const MAX_CLOCK_SKEW_S = 300;

function findFaults(snapshot: PlanSnapshot, reports: readonly FloorReport[], nowS: number): FloorFault[] {
  return reports.flatMap((report, index) => {
    const message = findFault(snapshot, report, nowS);
    return message === undefined ? [] : [{ event: index, message }];
  });
}

function findFault(snapshot: PlanSnapshot, report: FloorReport, nowS: number): string | undefined {
  const { stations, from } = snapshot.plan.shop;
  if (report.kind !== 'down' && (report.at < from || report.at > nowS + MAX_CLOCK_SKEW_S))
    return `"at" is ${instantOf(report.at)}; what is reported has happened, from ${instantOf(from)} to now, ${instantOf(nowS)}`;
  if (report.kind === 'down' || report.kind === 'up') {
    const station = stations.get(report.station);
    if (station === undefined)
      return `there is no station "${report.station}"; there are: ${[...stations.keys()].join(', ')}`;
    if (report.unit !== undefined && report.unit >= station.count)
      return `station "${report.station}" has units 0 to ${station.count - 1}, not ${report.unit}`;
    return report.kind === 'up' || report.to > report.from ? undefined : 'an outage ends after it begins';
  }
  const order = snapshot.orders.get(report.job);
  if (order === undefined) return `order "${report.job}" has no work in the plan`;
  const step = order.job.chains[report.chain]?.steps[report.step];
  if (step === undefined) return `order "${report.job}" has no step ${report.step} in chain ${report.chain}`;
  if (report.kind === 'spoiled')
    return report.pieces <= report.ofPieces
      ? undefined
      : `"pieces" is ${report.pieces}; of ${report.ofPieces} pieces 1 to ${report.ofPieces} can be spoiled`;
  const booking = order.bookings.find(
    (each) => each.chain === report.chain && each.step === report.step && each.part === 'all',
  );
  if (booking === undefined)
    return `step ${report.step} in chain ${report.chain} of order "${report.job}" is on no station`;
  if (report.kind === 'finished' || report.unit === undefined) return undefined;
  const count = stations.get(booking.station)?.count ?? 0;
  return report.unit < count
    ? undefined
    : `station "${booking.station}" has units 0 to ${count - 1}, not ${report.unit}`;
}

function instantOf(epochS: number): string {
  return new Date(epochS * 1000).toISOString();
}
