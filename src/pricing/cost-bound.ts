import type { CompiledCatalog } from '../catalog/compile.ts';
import { optionParts } from '../routing/option-costs.ts';
import type { RoutedSlip } from '../routing/routed.ts';
import { MICRO } from '../routing/unit-costs.ts';
import { packingMinutes } from '../routing/work.ts';
import { ONE } from './amounts.ts';

/**
 * An upper bound on `BillOfCost.basis`, trillionths: the cost if no two prints shared anything. It takes a fraction of the
 * time of a bill, since most placements of a slip have been costed before. Undefined where there is no such bound.
 */
export function costUpperBound(catalog: CompiledCatalog, { lines }: RoutedSlip): bigint | undefined {
  let pieces = 0;
  let micro = 0;
  lines.forEach((line, index) => {
    const { blank, color, placements } = line;
    pieces += line.pieces;
    const extraCost = Number(color.extraCost);
    for (const { size, count } of line.line.counts)
      micro += count * (Number(blank.sizes.find(({ id }) => id === size)!.cost) + extraCost) * MICRO;
    for (const placement of placements)
      micro += optionParts(catalog, { index, pieces: line.pieces }, placement).aloneCost;
  });
  micro += (packingMinutes(catalog, pieces) / 60) * Number(catalog.catalog.crew.wagePerHour) * MICRO;
  if (!Number.isFinite(micro)) return undefined;
  // More than floating point rounds away.
  return (BigInt(Math.ceil(micro * (1 + 1e-9))) + 1n) * (ONE / BigInt(MICRO));
}
