import { z } from 'zod';
import { Amount, Id, LocalText, Qualities } from '../contract/index.ts';
import { Blank, BlankColor, BlankSize, Face, View } from './blank.ts';
import type { Catalog } from './catalog.ts';
import { Limits } from './method.ts';
import { Delivery } from './shop.ts';

const PublicBlank = z.strictObject({
  id: Id,
  name: LocalText,
  description: LocalText.optional(),
  fibers: Blank.shape.fibers,
  sizes: z.array(BlankSize.pick({ id: true, name: true, surcharge: true })),
  colors: z.array(BlankColor.pick({ id: true, name: true, hex: true })),
  faces: z.array(Face),
  views: z.array(View),
  use: Blank.shape.use,
});

/** What customers see of a method: its qualities and what it requires of a file, but no recipe and no rate. */
const PublicMethod = z.strictObject({
  id: Id,
  name: LocalText,
  description: LocalText.optional(),
  qualities: Qualities,
  limits: Limits.pick({
    surfaces: true,
    thinnestLineMm: true,
    thinnestGapMm: true,
    leastDpi: true,
    goodDpi: true,
    softAlpha: true,
    softShareMost: true,
    largestSolidMm: true,
  }),
  treatments: z.array(z.strictObject({ id: Id, name: LocalText, qualities: Qualities })),
});

/**
 * What customers see of a catalog: no cost, rate, wage or margin, nor anything to compute them from. Every public member
 * is named, so that a member added to the catalog later stays private.
 */
export const PublicCatalog = z.strictObject({
  version: z.int().positive(),
  shop: z.strictObject({
    name: LocalText,
    currency: z.string().length(3),
    timeZone: z.string(),
    units: z.enum(['mm', 'in']),
    language: z.string(),
    taxIncluded: z.boolean(),
  }),
  blanks: z.array(PublicBlank),
  finishes: z.array(z.strictObject({ id: Id, name: LocalText, description: LocalText.optional() })),
  methods: z.array(PublicMethod),
  deliveries: z.array(Delivery),
  /** lowest list price of one piece of each blank, if the shop has list prices. */
  from: z.array(z.strictObject({ blank: Id, unit: Amount })),
  rush: z.boolean(),
  /** typefaces for names and numbers. */
  fonts: z.array(z.strictObject({ id: Id, name: LocalText })),
});
export type PublicCatalog = z.infer<typeof PublicCatalog>;

const optional = <K extends string, V>(key: K, value: V | undefined): { [P in K]?: V } =>
  (value === undefined ? {} : { [key]: value }) as { [P in K]?: V };

/** The customers' view of a version of a catalog, with the typefaces for names. */
export function publicView(
  catalog: Catalog,
  version: number,
  fonts: PublicCatalog['fonts'] = [],
): PublicCatalog {
  return {
    version,
    shop: {
      name: catalog.shop.name,
      currency: catalog.shop.currency,
      timeZone: catalog.shop.timeZone,
      units: catalog.shop.units,
      language: catalog.shop.language,
      taxIncluded: catalog.prices.tax.included,
    },
    blanks: catalog.blanks.map((blank) => ({
      id: blank.id,
      name: blank.name,
      ...optional('description', blank.description),
      fibers: blank.fibers,
      sizes: blank.sizes.map(({ id, name, surcharge }) => ({ id, name, surcharge })),
      colors: blank.colors.map(({ id, name, hex }) => ({ id, name, hex })),
      faces: blank.faces,
      views: blank.views,
      use: blank.use,
    })),
    finishes: catalog.finishes.map(({ id, name, description }) => ({
      id,
      name,
      ...optional('description', description),
    })),
    methods: catalog.methods.map((method) => ({
      id: method.id,
      name: method.name,
      ...optional('description', method.description),
      qualities: method.qualities,
      limits: {
        surfaces: method.limits.surfaces,
        thinnestLineMm: method.limits.thinnestLineMm,
        thinnestGapMm: method.limits.thinnestGapMm,
        leastDpi: method.limits.leastDpi,
        goodDpi: method.limits.goodDpi,
        softAlpha: method.limits.softAlpha,
        ...optional('softShareMost', method.limits.softShareMost),
        ...optional('largestSolidMm', method.limits.largestSolidMm),
      },
      treatments: method.treatments.map(({ id, name, qualities }) => ({ id, name, qualities })),
    })),
    deliveries: catalog.deliveries,
    from: catalog.prices.mode === 'list' ? lowestPrices(catalog) : [],
    rush: catalog.prices.rush !== null,
    fonts: [...fonts],
  };
}

/** The price of a single piece in the cheapest finish, for each blank. */
function lowestPrices(catalog: Catalog): { blank: string; unit: string }[] {
  return catalog.blanks.flatMap((blank) => {
    const singles = catalog.prices.list
      .filter((entry) => entry.blank === blank.id)
      .flatMap((entry) => (entry.breaks[0] ? [entry.breaks[0].unit] : []));
    const unit = singles.reduce<string | undefined>(
      (least, price) => (least === undefined || Number(price) < Number(least) ? price : least),
      undefined,
    );
    return unit === undefined ? [] : [{ blank: blank.id, unit }];
  });
}
