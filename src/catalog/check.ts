import { currencyDigits } from '../contract/currency.ts';
import type { Fault } from '../contract/index.ts';
import { shapeFaults } from '../contract/shape-faults.ts';
import { Catalog } from './catalog.ts';
import { checkBlanks } from './checks/blanks.ts';
import { checkMethods } from './checks/methods.ts';
import { checkPrices } from './checks/prices.ts';
import { FaultList, type Sections, sectionsOf } from './checks/sections.ts';
import { checkTime } from './checks/time.ts';

/** A valid catalog, or all its faults. */
export type CheckedCatalog =
  | { readonly catalog: Catalog; readonly faults?: undefined }
  | { readonly faults: readonly Fault[]; readonly catalog?: undefined };

/**
 * Validates a catalog as an owner wrote it. Finds all faults of shape and of consistency at once, each with its place
 * (dotted path), the value found and what is allowed. Parts with a wrong shape are left out of the consistency checks,
 * and references to them are accepted.
 */
export function checkCatalog(input: unknown): CheckedCatalog {
  const parsed = Catalog.safeParse(input);
  const shape = parsed.success ? [] : shapeFaults(parsed.error, input);
  const faults = [...shape, ...consistencyFaults(sectionsOf(input))];
  if (parsed.success && faults.length === 0) return { catalog: parsed.data };
  return { faults };
}

function consistencyFaults(sections: Sections): readonly Fault[] {
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
