import { pickText } from '../../src/pick-text.ts';
import { type Booking, type Day, type DrawnDay, drawnDays, type LateCause } from '../../src/promise/index.ts';
import type { CompiledCatalog } from '../../src/quote/index.ts';
import type { PlanSnapshot } from '../services/plan-cache.ts';
import type { LateFlag } from '../store/order-record.ts';
import type { NamedCause, PlanWords } from './words/plan-words.ts';
import { fillTemplate, planWords } from './words.ts';

/** A row of the table of late orders. */
export type LateLine = {
  readonly order: string;
  readonly promised: Day;
  /** null: beyond the plan's horizon. */
  readonly until: Day | null;
  readonly cause: string;
};

/** Everything that the plan page shows, with names in the shop's language. */
export type PlanPageModel = {
  readonly shopName: string;
  readonly language: string;
  readonly rightToLeft: boolean;
  readonly words: PlanWords;
  readonly timeZone: string;
  /** epoch seconds. */
  readonly now: number;
  readonly today: Day;
  readonly days: readonly DrawnDay[];
  readonly crewCount: number;
  readonly late: readonly LateLine[];
  readonly lateOrders: ReadonlySet<string>;
  /** orders promised for a day, by day. */
  readonly readyOn: ReadonlyMap<Day, readonly string[]>;
  /** name of the closure, by day. */
  readonly closureOn: ReadonlyMap<Day, string>;
  /** index of an order among those shown, which chooses its color. */
  readonly placeOf: ReadonlyMap<string, number>;
  /** name of a unit of a station, counted from 0; null: the station. */
  readonly unitName: (station: string, unit: number | null) => string;
  readonly stepName: (booking: Booking) => string;
};

/** Builds the model of the page for some days. */
export function planPageModel(
  snapshot: PlanSnapshot,
  catalog: CompiledCatalog,
  late: readonly LateFlag[],
  range: { readonly from: Day; readonly days: number; readonly now: number; readonly today: Day },
): PlanPageModel {
  const { shop } = snapshot.plan;
  const { words, language, rightToLeft } = planWords(catalog.catalog.shop.language);
  const bookings = [...snapshot.orders.values()]
    .flatMap((order) => order.bookings)
    .filter(({ station, unit }) => unit < (shop.stations.get(station)?.count ?? 0));
  const days = drawnDays(shop, bookings, snapshot.orders, range.from, range.days);

  const number = new Intl.NumberFormat(language, { useGrouping: false });
  const unitName = (station: string, unit: number | null): string => {
    const known = catalog.stations.get(station);
    const name = known === undefined ? station : pickText(known.name, language);
    const count = shop.stations.get(station)?.count ?? 1;
    return unit === null || count === 1 ? name : `${name} ${number.format(unit + 1)}`;
  };
  const steps = stepNames(catalog, language);
  const stepName = (key: string, station: string): string =>
    steps.get(`${station} ${key}`) ?? steps.get(key) ?? key;
  const shown = new Set(
    days.flatMap((day) => day.units.flatMap(({ work }) => work.map((each) => each.booking.job))),
  );
  return {
    shopName: pickText(catalog.catalog.shop.name, language),
    language,
    rightToLeft,
    words,
    timeZone: shop.clock.timeZone,
    now: range.now,
    today: range.today,
    days,
    crewCount: shop.spec.crew.count,
    late: late.map(({ number: order, promised, until, cause }) => ({
      order,
      promised,
      until,
      cause: cause === null ? words.unknownCause : causeText(words, cause, unitName, stepName),
    })),
    lateOrders: new Set(late.map((each) => each.number)),
    readyOn: readyOn(snapshot),
    closureOn: closureOn(shop.spec.calendar.closures, days),
    placeOf: new Map([...shown].sort(byNumber).map((order, place) => [order, place])),
    unitName,
    stepName: (booking) => stepName(booking.key, booking.station),
  };
}

/** Names of steps, by station and id, and by id alone. */
function stepNames(catalog: CompiledCatalog, language: string): Map<string, string> {
  const names = new Map<string, string>();
  const put = (key: string, name: string): void => {
    if (!names.has(key)) names.set(key, name);
  };
  for (const { steps, treatments } of catalog.catalog.methods)
    for (const step of [...steps, ...treatments.flatMap((each) => each.steps)]) {
      const name = pickText(step.name, language);
      for (const station of step.stations) put(`${station} ${step.id}`, name);
      put(step.id, name);
    }
  return names;
}

function causeText(
  words: PlanWords,
  cause: LateCause,
  unitName: PlanPageModel['unitName'],
  stepName: (key: string, station: string) => string,
): string {
  const named: NamedCause = {
    ...('station' in cause ? { station: unitName(cause.station, 'unit' in cause ? cause.unit : null) } : {}),
    ...('step' in cause ? { step: stepName(cause.step, 'station' in cause ? cause.station : '') } : {}),
    ...('job' in cause ? { order: cause.job } : {}),
    ...('pieces' in cause ? { pieces: cause.pieces } : {}),
  };
  return fillTemplate(words.causes[cause.kind], named);
}

function readyOn(snapshot: PlanSnapshot): Map<Day, string[]> {
  const ready = new Map<Day, string[]>();
  for (const { job, promised } of snapshot.orders.values()) {
    const orders = ready.get(promised.day);
    if (orders === undefined) ready.set(promised.day, [job.id]);
    else orders.push(job.id);
  }
  for (const orders of ready.values()) orders.sort(byNumber);
  return ready;
}

function closureOn(
  closures: readonly { readonly from: Day; readonly to: Day; readonly name: string }[],
  days: readonly DrawnDay[],
): Map<Day, string> {
  const found = new Map<Day, string>();
  for (const { day } of days) {
    const closure = closures.find(({ from, to }) => from <= day && day <= to);
    if (closure !== undefined) found.set(day, closure.name);
  }
  return found;
}

function byNumber(one: string, other: string): number {
  return Number(one) - Number(other);
}
