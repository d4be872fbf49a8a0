import { type CompiledCatalog, shopSpecOf } from '../../src/catalog/index.ts';
import {
  type Booking,
  buildPlan,
  commit,
  compileShopHours,
  dayNumber,
  dayOfNumber,
  type Plan,
  type PlannedOrder,
  type ShopHours,
  ZoneClock,
} from '../../src/promise/index.ts';
import type { StoredOutage } from '../store/floor.ts';
import type { OrderWork } from '../store/order-record.ts';
import type { ShopHead } from '../store/shops.ts';
import type { StoreParts } from '../store/store.ts';

/** One version of a shop's plan. */
export type PlanSnapshot = {
  readonly version: number;
  readonly plan: Plan;
  /** orders in the plan, by number. */
  readonly orders: ReadonlyMap<string, PlannedOrder>;
};

/** Working hours are compiled from this many days before today, for work that began then and is not done. */
const DAYS_BEFORE = 14;
/** Deliveries take at most this many working days beyond the horizon. */
const DAYS_AFTER_HORIZON = 10;
const MAX_CLOCKS = 200;
const DAY_S = 86_400;

type CacheEntry = PlanSnapshot & {
  readonly catalogVersion: number;
  readonly firstDay: string;
  readonly outages: string;
};

/**
 * Caches plans by version. The version is read from the store with every request; if it differs, the changes since are
 * read, so that any number of processes see each other's bookings.
 */
export class PlanCache {
  readonly #entries = new Map<string, CacheEntry>();
  readonly #clocks = new Map<string, ZoneClock>();

  /**
   * The plan as of `head`, which must be read from the same `parts`. Within a transaction, call this before changing the
   * plan, so that only committed state is cached.
   * @param now epoch seconds
   */
  async get(
    parts: Pick<StoreParts, 'orders' | 'floor'>,
    head: ShopHead,
    catalog: CompiledCatalog,
    now: number,
  ): Promise<PlanSnapshot> {
    const firstDay = this.#firstDay(catalog.catalog.shop.timeZone, now);
    const cached = this.#entries.get(head.shop);
    // At least as new as `head`; within a transaction nobody else writes, so exactly as new.
    if (
      cached !== undefined &&
      cached.version >= head.planVersion &&
      cached.catalogVersion === catalog.version &&
      cached.firstDay === firstDay
    )
      return cached;
    const snapshot = await this.#load(parts, head, catalog, firstDay, cached);
    const known = this.#entries.get(head.shop);
    // Another request may have cached a newer one meanwhile.
    if (known === undefined || known.version <= snapshot.version) this.#entries.set(head.shop, snapshot);
    return snapshot;
  }

  #firstDay(timeZone: string, now: number): string {
    let clock = this.#clocks.get(timeZone);
    if (clock === undefined) {
      if (this.#clocks.size >= MAX_CLOCKS) this.#clocks.clear();
      clock = new ZoneClock(timeZone);
      this.#clocks.set(timeZone, clock);
    }
    return dayOfNumber(clock.dayAt(now) - DAYS_BEFORE);
  }

  async #load(
    parts: Pick<StoreParts, 'orders' | 'floor'>,
    head: ShopHead,
    catalog: CompiledCatalog,
    firstDay: string,
    cached: CacheEntry | undefined,
  ): Promise<CacheEntry> {
    const { shop: id, planVersion } = head;
    const from = Math.floor(Date.parse(firstDay) / 1000) - DAY_S;
    const outageList = await parts.floor.outages(id, from);
    const outages = JSON.stringify(outageList);
    const sameHours =
      cached !== undefined &&
      cached.catalogVersion === catalog.version &&
      cached.firstDay === firstDay &&
      cached.outages === outages;
    const shop = sameHours ? cached.plan.shop : compileHours(catalog, firstDay, outageList);
    const base = { version: planVersion, catalogVersion: catalog.version, firstDay, outages };

    // On a new day everything is read again, without what ended long ago.
    const incremental = cached !== undefined && cached.version <= planVersion && cached.firstDay === firstDay;
    const changed = !incremental
      ? await parts.orders.work(id, { endingAfter: from })
      : cached.version === planVersion
        ? []
        : await parts.orders.work(id, { changedAfter: cached.version });
    const bookings = await parts.orders.bookings(
      id,
      changed.filter(({ inPlan }) => inPlan).map(({ work }) => work.number),
    );
    const orders = new Map(incremental ? cached.orders : []);
    const added: Booking[] = [];
    let onlyAdded = incremental && sameHours;
    for (const { work, inPlan } of changed) {
      if (orders.has(work.number)) onlyAdded = false;
      if (!inPlan) {
        orders.delete(work.number);
        continue;
      }
      const own = bookings.get(work.number) ?? [];
      orders.set(work.number, plannedOrder(work, own));
      added.push(...own);
    }
    if (onlyAdded && cached !== undefined) return { ...base, plan: commit(cached.plan, added), orders };
    const all = [...orders.values()].flatMap((order) => order.bookings);
    return { ...base, plan: buildPlan(shop, all.filter(isOnStation(shop))), orders };
  }

  /** The hours of a shop by a catalog that is not in force yet, with the reported outages. */
  async shopHours(
    parts: Pick<StoreParts, 'floor'>,
    shop: string,
    catalog: CompiledCatalog,
    now: number,
  ): Promise<ShopHours> {
    const firstDay = this.#firstDay(catalog.catalog.shop.timeZone, now);
    return compileHours(
      catalog,
      firstDay,
      await parts.floor.outages(shop, Math.floor(Date.parse(firstDay) / 1000)),
    );
  }
}

/** Whether all bookings of an order are on equipment that the shop has. */
export function hasAllStations(shop: ShopHours, order: PlannedOrder): boolean {
  return order.bookings.every(({ station, unit }) => {
    const there = shop.stations.get(station);
    return there !== undefined && unit < there.count;
  });
}

/** Leaves out bookings on equipment that a newer catalog removed. */
function isOnStation(shop: ShopHours): (booking: Booking) => boolean {
  return ({ station, unit, end }) => {
    const there = shop.stations.get(station);
    return there !== undefined && unit < there.count && end > shop.from;
  };
}

function plannedOrder(work: OrderWork, bookings: readonly Booking[]): PlannedOrder {
  return {
    job: work.job,
    bookings,
    notBefore: work.notBefore,
    promised: { day: work.promisedDay, packingS: work.packingS, rule: work.rule },
  };
}

function compileHours(
  catalog: CompiledCatalog,
  firstDay: string,
  outages: readonly StoredOutage[],
): ShopHours {
  const spec = shopSpecOf(catalog.catalog);
  const stations = spec.stations.map((station) => {
    const down = outages.filter(
      (outage) => outage.station === station.id && (outage.unit ?? 0) < station.count,
    );
    if (down.length === 0) return station;
    return {
      ...station,
      closures: [
        ...(station.closures ?? []),
        ...down.map(({ unit, from, to }) => ({ from, to, unit: unit ?? undefined })),
      ],
    };
  });
  const days = DAYS_BEFORE + catalog.catalog.calendar.horizonDays + DAYS_AFTER_HORIZON;
  return compileShopHours({ ...spec, stations }, dayOfNumber(dayNumber(firstDay)), days);
}
