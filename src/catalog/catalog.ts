import { z } from 'zod';
import { Blank } from './blank.ts';
import { Method } from './method.ts';
import { Calendar, Crew, Delivery, Finish, PricePolicy, ShopInfo, Station } from './shop.ts';

/**
 * Everything a shop offers and how it makes it. It contains costs, rates and recipes, so only the owner may see it;
 * customers see `publicView`. Zod checks its shape, `checkCatalog` its consistency.
 */
export const Catalog = z.strictObject({
  format: z.literal(1),
  shop: ShopInfo,
  blanks: z.array(Blank).min(1).max(500),
  finishes: z.array(Finish).min(1).max(40),
  methods: z.array(Method).min(1).max(40),
  stations: z.array(Station).min(1).max(100),
  crew: Crew,
  calendar: Calendar,
  deliveries: z.array(Delivery).min(1).max(20),
  prices: PricePolicy,
});
export type Catalog = z.infer<typeof Catalog>;
/** A catalog as an owner may write it: members with a default are optional. */
export type CatalogInput = z.input<typeof Catalog>;
