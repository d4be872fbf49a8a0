import type { OpenOptions } from './open-options.ts';

/** Most rounds; the bound holds after any number of them. */
const MAX_ROUNDS = 12;
/** Costs closer than this are equal. */
export const COST_SLACK = 1e-6;

/**
 * Dual ascent, as for facility location: each slot raises its dual to the next level of its options' costs and bids on the
 * fixed costs of the options below that level. Bids on a fixed cost never exceed it, so the duals never add up to more
 * than what a choice really costs.
 *
 * @param costs by slot, by place in its list: cost of an option with the bids made for it so far; changed in place
 * @param duals by slot: its least cost; changed in place
 * @param left by fixed cost: what is not yet bid; changed in place
 * @param fixedCosts by slot, by option: the fixed costs it needs
 * @see D. Erlenkotter, A dual-based procedure for uncapacitated facility location, Operations Research 26, 992-1009, 1978
 */
export function dualAscent(
  open: OpenOptions,
  costs: readonly Float64Array[],
  duals: Float64Array,
  left: Float64Array,
  fixedCosts: readonly (readonly (readonly number[])[])[],
): void {
  for (let round = 0; round < MAX_ROUNDS; round++) {
    let raised = false;
    for (let i = 0; i < costs.length; i++) {
      const list = open[i]!;
      const cost = costs[i]!;
      const dual = duals[i]!;
      // Up to the next level, but no further than the fixed costs of the options at or under it can take up.
      let next = Number.POSITIVE_INFINITY;
      let room = Number.POSITIVE_INFINITY;
      for (let p = 0; p < list.length; p++) {
        const over = cost[p]! - dual;
        if (over > COST_SLACK) {
          if (cost[p]! < next) next = cost[p]!;
        } else {
          let free = 0;
          for (const k of fixedCosts[i]![list[p]!]!) free += left[k]!;
          if (free + over < room) room = free + over;
        }
      }
      const rise = Math.min(next - dual, room);
      if (!(rise > COST_SLACK) || rise === Number.POSITIVE_INFINITY) continue;
      const target = dual + rise;
      let reached = target;
      for (let p = 0; p < list.length; p++) {
        let missing = target - cost[p]!;
        if (missing <= 0) continue;
        for (const k of fixedCosts[i]![list[p]!]!) {
          const bid = Math.min(missing, left[k]!);
          left[k]! -= bid;
          missing -= bid;
          if (missing <= 0) break;
        }
        // Two options of a slot may bid on the same fixed cost: then less is reached than there was room for.
        cost[p] = target - Math.max(0, missing);
        reached = Math.min(reached, cost[p]!);
      }
      duals[i] = Math.max(dual, reached);
      raised = true;
    }
    if (!raised) return;
  }
}
