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

/** What is booked in a shop, as of one version of its plan. */
export type PlanSnapshot = {
  readonly version: number;
  readonly plan: Plan;
  /** orders in the plan, by number. */
  readonly orders: ReadonlyMap<string, PlannedOrder>;
};

/** Hours are worked out from so many days before today, for work begun then and not yet done. */
const DAYS_BEFORE = 14;
/** Deliveries take at most so many working days; hours must be known that far. */
const DAYS_AFTER_HORIZON = 10;
const CLOCKS_KEPT = 200;
const DAY_S = 86_400;

type CacheEntry = PlanSnapshot & {
  readonly catalogVersion: number;
  readonly firstDay: string;
  readonly outages: string;
};

/**
 * Plans as indexed. What is remembered belongs to a version of the plan; the version is read from the store with every
 * request, and what changed since is read when it differs. So any number of processes see each other's bookings.
 */
export class PlanCache {
  readonly #entries = new Map<string, CacheEntry>();
  readonly #clocks = new Map<string, ZoneClock>();

  /**
   * The plan as of `head`, which must come from the same `parts`. Within a transaction it must be asked for before
   * anything of the plan is changed, so that only what is committed is remembered.
   * @param now epoch seconds
   */
  async get(
    parts: Pick<StoreParts, 'orders' | 'floor'>,
    head: ShopHead,
    catalog: CompiledCatalog,
    now: number,
  ): Promise<PlanSnapshot> {
    const firstDay = this.#firstDay(catalog.catalog.shop.timeZone, now);
    const kept = this.#entries.get(head.shop);
    // Never older than `head`; within a transaction, where nobody else writes, never newer either.
    if (
      kept !== undefined &&
      kept.version >= head.planVersion &&
      kept.catalogVersion === catalog.version &&
      kept.firstDay === firstDay
    )
      return kept;
    const snapshot = await this.#load(parts, head, catalog, firstDay, kept);
    const known = this.#entries.get(head.shop);
    // Another request may have been quicker with a newer one.
    if (known === undefined || known.version <= snapshot.version) this.#entries.set(head.shop, snapshot);
    return snapshot;
  }

  #firstDay(timeZone: string, now: number): string {
    let clock = this.#clocks.get(timeZone);
    if (clock === undefined) {
      if (this.#clocks.size >= CLOCKS_KEPT) this.#clocks.clear();
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
    kept: CacheEntry | undefined,
  ): Promise<CacheEntry> {
    const { shop: id, planVersion } = head;
    const from = Math.floor(Date.parse(firstDay) / 1000) - DAY_S;
    const outageList = await parts.floor.outages(id, from);
    const outages = JSON.stringify(outageList);
    const sameHours =
      kept !== undefined &&
      kept.catalogVersion === catalog.version &&
      kept.firstDay === firstDay &&
      kept.outages === outages;
    const shop = sameHours ? kept.plan.shop : compileHours(catalog, firstDay, outageList);
    const base = { version: planVersion, catalogVersion: catalog.version, firstDay, outages };

    // On a new day everything is read again, and what ended long ago is left out.
    const delta = kept !== undefined && kept.version <= planVersion && kept.firstDay === firstDay;
    const changed = !delta
      ? await parts.orders.work(id, { endingAfter: from })
      : kept.version === planVersion
        ? []
        : await parts.orders.work(id, { changedAfter: kept.version });
    const bookings = await parts.orders.bookings(
      id,
      changed.filter(({ inPlan }) => inPlan).map(({ work }) => work.number),
    );
    const orders = new Map(delta ? kept.orders : []);
    const added: Booking[] = [];
    let onlyAdded = delta && sameHours;
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
    if (onlyAdded && kept !== undefined) return { ...base, plan: commit(kept.plan, added), orders };
    const all = [...orders.values()].flatMap((order) => order.bookings);
    return { ...base, plan: buildPlan(shop, all.filter(isOnStation(shop))), orders };
  }

  /** The hours of a shop by a catalog that is not in force yet, with the outages the floor reported. */
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

/** Whether all of an order's bookings are on equipment the shop has. */
export function hasAllStations(shop: ShopHours, order: PlannedOrder): boolean {
  return order.bookings.every(({ station, unit }) => {
    const there = shop.stations.get(station);
    return there !== undefined && unit < there.count;
  });
}

/** Bookings on stations a newer catalog took away are no longer in the plan's way. */
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
