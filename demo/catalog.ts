/** The made-up shop's catalog, as its owner would send it to the API. */
import catalog from './catalog.json' with { type: 'json' };

export const demoCatalog: unknown = catalog;
