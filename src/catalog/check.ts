import { currencyDigits } from '../contract/currency.ts';
import type { Fault } from '../contract/index.ts';
import { shapeFaults } from '../contract/shape-faults.ts';
import { Catalog } from './catalog.ts';
import { checkBlanks } from './checks/blanks.ts';
import { checkMethods } from './checks/methods.ts';
import { checkPrices } from './checks/prices.ts';
import { FaultList, type Sections, sectionsOf } from './checks/sections.ts';
import { checkTime } from './checks/time.ts';

/** A sound catalog, or every fault of it. */
export type CheckedCatalog =
  | { readonly catalog: Catalog; readonly faults?: undefined }
  | { readonly faults: readonly Fault[]; readonly catalog?: undefined };

/**
 * Reads a catalog as an owner wrote it. All faults are found at once, those of shape and those of sense, each with its
 * place (dotted path), the value found and what is allowed. A part whose shape is broken is left out of the checks of
 * sense, and names of it elsewhere are taken as known.
 */
export function checkCatalog(input: unknown): CheckedCatalog {
  const parsed = Catalog.safeParse(input);
  const shape = parsed.success ? [] : shapeFaults(parsed.error, input);
  const faults = [...shape, ...senseFaults(sectionsOf(input))];
  if (parsed.success && faults.length === 0) return { catalog: parsed.data };
  return { faults };
}

function senseFaults(sections: Sections): readonly Fault[] {
  const list = new FaultList();
  const { shop } = sections;
  if (shop !== undefined && currencyDigits(shop.currency) === undefined)
    list.add(
      'shop.currency',
      shop.currency,
      `there is no currency "${shop.currency}"`,
      'a code of ISO 4217, such as "USD", "EUR" or "JPY"',
    );
  checkTime(sections, list);
  checkBlanks(sections, list);
  checkMethods(sections, list);
  checkPrices(sections, list);
  return list.faults;
}
