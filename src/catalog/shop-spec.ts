import { pickText } from '../pick-text.ts';
import type { ShopSpec } from '../promise/index.ts';
import type { Catalog } from './catalog.ts';

/** What the plan needs of a catalog: hours, stations and people. */
export function shopSpecOf(catalog: Catalog): ShopSpec {
  const { calendar, shop, crew } = catalog;
  return {
    calendar: {
      timeZone: shop.timeZone,
      week: calendar.week,
      closures: calendar.closures.map(({ from, to, name, kind }) => ({
        from,
        to,
        name: pickText(name, shop.language),
        kind,
      })),
      extraShifts: calendar.extraShifts,
      cutoff: calendar.cutoff,
    },
    stations: catalog.stations.map(({ id, count, week, maintenance }) => ({
      id,
      count,
      hours: week,
      closures: maintenance.map(({ from, to }) => ({ from: epochOf(from), to: epochOf(to) })),
    })),
    crew: { count: crew.count, hours: crew.week },
  };
}

function epochOf(instant: string): number {
  return Math.floor(Date.parse(instant) / 1000);
}
