import { describe, expect, it } from 'vitest';
import { checkCatalog } from '../../../src/catalog/check.ts';
import type { CatalogInput } from '../../../src/catalog/index.ts';
import { PublicCatalog, publicView } from '../../../src/catalog/public-view.ts';
import { shopInput } from '../../fixtures/shop.ts';

/** All texts and numbers in a value. */
function leavesOf(value: unknown): string[] {
  if (value === null || typeof value !== 'object') return [String(value)];
  return Object.values(value).flatMap(leavesOf);
}

/** Markers that no other member of the catalog contains. */
let mark = 0;
const amount = (): string => `7${String(++mark).padStart(4, '0')}.531`;
const seconds = (): number => 60_000 + ++mark + 0.137;
const named = (): string => `owner only ${++mark}`;

/** Puts a marker in every private member of the test shop; returns the markers. */
function markedShop(): { readonly input: CatalogInput; readonly marks: readonly string[] } {
  const input = shopInput();
  const marks: string[] = [];
  const put = <T extends string | number>(value: T): T => {
    marks.push(String(value));
    return value;
  };
  for (const blank of input.blanks) {
    for (const size of blank.sizes) size.cost = put(amount());
    for (const color of blank.colors) color.extraCost = put(amount());
  }
  for (const method of input.methods) {
    for (const consumable of method.consumables) {
      consumable.price = put(amount());
      consumable.name = put(named());
    }
    for (const step of [...method.steps, ...(method.treatments ?? []).flatMap(({ steps }) => steps ?? [])]) {
      step.name = put(named());
      if (step.stations.length === 0) continue;
      step.setUpPerOrderS = put(seconds());
      step.setUpPerDesignS = put(seconds());
      step.perPrintS = put(seconds());
      step.perBatchS = put(seconds());
    }
    method.spoilage = put(`0.0${10_000 + ++mark}`.slice(0, 8));
  }
  for (const station of input.stations) {
    station.ratePerHour = put(amount());
    station.name = put(named());
  }
  input.crew.wagePerHour = put(amount());
  input.crew.count = put(433);
  input.prices.margin = put('0.431977');
  input.prices.floorMargin = put('0.131977');
  input.prices.rush = { fee: '10.00', share: put('0.271977') };
  return { input, marks };
}

describe('publicView', () => {
  const { input, marks } = markedShop();
  const { catalog, faults } = checkCatalog(input);

  it('is built from a valid catalog with markers in it', () => {
    expect(faults).toBeUndefined();
    const whole = leavesOf(catalog);
    for (const each of marks) expect(whole).toContain(each);
    expect(marks.length).toBeGreaterThan(60);
  });

  it('shows nothing private to the owner', () => {
    const text = JSON.stringify(publicView(catalog!, 3));
    for (const each of marks) expect(text).not.toContain(each);
  });

  it('has the documented shape and its version', () => {
    const view = publicView(catalog!, 3);
    expect(PublicCatalog.parse(view)).toEqual(view);
    expect(view.version).toBe(3);
  });

  it('keeps what a customer can choose', () => {
    const view = publicView(catalog!, 1);
    expect(view.blanks.map(({ id }) => id)).toEqual(['tee', 'cap', 'mug']);
    expect(view.blanks[0]!.sizes.map(({ surcharge }) => surcharge)).toEqual(['0', '0', '2.00']);
    expect(view.methods.map(({ id }) => id)).toEqual(['spray', 'sheet']);
    expect(view.rush).toBe(true);
    expect(view.from).toEqual([
      { blank: 'tee', unit: '20.00' },
      { blank: 'cap', unit: '20.00' },
      { blank: 'mug', unit: '20.00' },
    ]);
  });
});
