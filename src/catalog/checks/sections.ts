import { z } from 'zod';
import type { Fault } from '../../contract/index.ts';
import { echoed } from '../../contract/shape-faults.ts';
import { Blank } from '../blank.ts';
import { Method } from '../method.ts';
import { Calendar, Crew, Delivery, Finish, PricePolicy, ShopInfo, Station } from '../shop.ts';

/** An entry of a list of the catalog with its index. */
export type Indexed<T> = { readonly index: number; readonly item: T };

type Lists = {
  readonly blanks: readonly Indexed<Blank>[];
  readonly finishes: readonly Indexed<Finish>[];
  readonly methods: readonly Indexed<Method>[];
  readonly stations: readonly Indexed<Station>[];
  readonly deliveries: readonly Indexed<Delivery>[];
};

/**
 * The parts of a catalog that have the right shape, and the ids of all entries, whatever their shape: so that one broken
 * blank neither hides the faults of the others nor causes false faults where it is referenced.
 */
export type Sections = Lists & {
  readonly shop: ShopInfo | undefined;
  readonly crew: Crew | undefined;
  readonly calendar: Calendar | undefined;
  readonly prices: PricePolicy | undefined;
  readonly ids: { readonly [list in keyof Lists]: ReadonlySet<string> };
  /** whether every entry of the list has the right shape. */
  readonly complete: { readonly [list in keyof Lists]: boolean };
};

/** The sections of a catalog of any shape. */
export function sectionsOf(input: unknown): Sections {
  const parsed = z.record(z.string(), z.unknown()).safeParse(input);
  const members = parsed.success ? parsed.data : {};
  const lists = {
    blanks: listOf(Blank, members.blanks),
    finishes: listOf(Finish, members.finishes),
    methods: listOf(Method, members.methods),
    stations: listOf(Station, members.stations),
    deliveries: listOf(Delivery, members.deliveries),
  };
  const whole = (list: keyof Lists): boolean => {
    const written = members[list];
    return Array.isArray(written) && written.length === lists[list].length;
  };
  return {
    ...lists,
    complete: {
      blanks: whole('blanks'),
      finishes: whole('finishes'),
      methods: whole('methods'),
      stations: whole('stations'),
      deliveries: whole('deliveries'),
    },
    shop: ShopInfo.safeParse(members.shop).data,
    crew: Crew.safeParse(members.crew).data,
    calendar: Calendar.safeParse(members.calendar).data,
    prices: PricePolicy.safeParse(members.prices).data,
    ids: {
      blanks: idsIn(members.blanks),
      finishes: idsIn(members.finishes),
      methods: idsIn(members.methods),
      stations: idsIn(members.stations),
      deliveries: idsIn(members.deliveries),
    },
  };
}

function listOf<T>(shape: z.ZodType<T>, value: unknown): Indexed<T>[] {
  if (!Array.isArray(value)) return [];
  return value.flatMap((entry, index) => {
    const parsed = shape.safeParse(entry);
    return parsed.success ? [{ index, item: parsed.data }] : [];
  });
}

function idsIn(value: unknown): ReadonlySet<string> {
  const ids = new Set<string>();
  if (Array.isArray(value))
    for (const entry of value) {
      const id: unknown = (entry as { id?: unknown } | null)?.id;
      if (typeof id === 'string') ids.add(id);
    }
  return ids;
}

/** Collects faults, each with its place, the value found and what is allowed. */
export class FaultList {
  readonly #faults: Fault[] = [];

  add(at: string, value: unknown, message: string, allowed: string): void {
    this.#faults.push({ at, message, value: echoed(value), allowed });
  }

  /** Adds a fault unless the id is known. */
  requireKnown(at: string, id: string, known: ReadonlySet<string>, what: string): void {
    if (!known.has(id)) this.add(at, id, `there is no ${what} "${id}"`, listedIds(known));
  }

  /** Adds a fault for every id that occurred before in the list. */
  requireUnique(
    at: string,
    entries: readonly { readonly index: number; readonly id: string }[],
    what: string,
  ): void {
    const first = new Map<string, number>();
    for (const { index, id } of entries) {
      const before = first.get(id);
      if (before === undefined) first.set(id, index);
      else
        this.add(
          `${at}.${index}.id`,
          id,
          `${what} "${id}" is there twice`,
          `an id not used by ${at}.${before}`,
        );
    }
  }

  get faults(): readonly Fault[] {
    return this.#faults;
  }
}

/** Known ids as a text, at most 20 of them. */
export function listedIds(known: ReadonlySet<string>): string {
  if (known.size === 0) return 'none is defined';
  const shown = [...known].slice(0, 20).join(', ');
  return `one of: ${shown}${known.size > 20 ? `, … (${known.size})` : ''}`;
}

/** The ids of a list with their indexes. */
export function withIndex<T extends { readonly id: string }>(
  items: readonly T[],
): { readonly index: number; readonly id: string }[] {
  return items.map((item, index) => ({ index, id: item.id }));
}
