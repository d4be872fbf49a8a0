import { z } from 'zod';
import { Blank } from './blank.ts';
import { Method } from './method.ts';
import { Calendar, Crew, Delivery, Finish, PricePolicy, ShopInfo, Station } from './shop.ts';

/**
 * Everything a shop offers and how it makes it. The owner's document: costs, rates and recipes are in it, so it
 * never leaves but to the owner; `publicView` is what customers see. Its shape is checked by zod, its sense by
 * `checkCatalog`.
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
/** A catalog as an owner may write it: with the defaulted members left out. */
export type CatalogInput = z.input<typeof Catalog>;
