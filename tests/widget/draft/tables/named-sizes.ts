import type { NamedSize } from '../../../../widget/draft/tables/csv-cells.ts';

/** Sizes S to 2XL, as a blank names them. */
export const NAMED_SIZES: readonly NamedSize[] = ['s', 'm', 'l', '2xl'].map((id) => ({
  id,
  names: [id, id.toUpperCase(), ...(id === 's' ? ['Small'] : [])],
}));
