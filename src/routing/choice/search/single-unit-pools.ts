import type { ChoiceModel, Option } from '../model.ts';

/** By pool: 1 where all slots together, each with its largest share, take no more than one unit; else 0. */
export function singleUnitPools(model: ChoiceModel): Uint8Array {
  const largest = new Float64Array(model.pools.length);
  const counted = new Set<number>();
  for (const { options } of model.slots) {
    const pools = new Set(options.flatMap(({ shares }) => shares.map(({ pool }) => pool)));
    for (const pool of pools) largest[pool]! += largestShare(options, pool);
    for (const { setUps } of options)
      for (const setUp of setUps) {
        if (counted.has(setUp)) continue;
        counted.add(setUp);
        for (const { pool, amount } of model.setUps[setUp]!.shares) largest[pool]! += amount;
      }
  }
  return Uint8Array.from(largest, (amount) => (amount <= 1 + 1e-9 ? 1 : 0));
}

function largestShare(options: readonly Option[], pool: number): number {
  let largest = 0;
  for (const { shares } of options)
    for (const share of shares) if (share.pool === pool) largest = Math.max(largest, share.amount);
  return largest;
}
